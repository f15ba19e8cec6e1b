"""The reject on the bench: every change is kept, refused ones leave all as it was."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.basics.errors import Fault
from diagnose.reject.found import CALLED, CHECK, LOOK
from diagnose.reject.reject import Reject
from diagnose.session.autosave import GO_ON, Bench, new_bench, resumed_bench
from diagnose.session.onfile import OnFile
from diagnose.session.rejectfile import read_reject
from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf

SMALL_BOOK = Path(__file__).parents[1] / "terminal" / "screens" / "small-book"


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    session = open_session(Reject(name="cover"), SMALL_BOOK)
    return new_bench(session, Shelf(tmp_path / "rejects"))


def kept(bench: Bench) -> Reject:
    """The reject as its file has it."""
    again = bench.session.another()
    read_reject(bench.shelf.path_for(bench.session.reject.name), again, begun=True)
    return again.reject


def full(*_: object) -> None:
    raise Fault("The disk is full.")


def test_a_reject_without_a_name_is_given_a_free_one(tmp_path: Path) -> None:
    session = open_session(Reject(), SMALL_BOOK)
    shelf = Shelf(tmp_path)
    first = new_bench(session, shelf)
    first.save()
    second = new_bench(session, shelf)
    assert first.session.reject.name
    assert second.session.reject.name not in ("", first.session.reject.name)
    assert session.reject.name == ""


def test_every_change_is_kept_at_once(bench: Bench) -> None:
    assert bench.change(lambda: bench.session.answer("cavity-wall", "smooth")) == ""
    assert kept(bench).about("cavity-wall") == bench.session.reject.about("cavity-wall")
    assert bench.change(bench.session.undo) == ""
    assert kept(bench).found == ()


def test_a_change_that_is_refused_is_told_and_nothing_is_changed(bench: Bench) -> None:
    before = bench.session.reject
    wrong = bench.change(lambda: bench.session.answer("cavity-wall", "slick"))
    assert "slick" in wrong
    assert bench.session.reject == before
    assert not bench.shelf.path_for("cover").exists()


def test_a_full_disk_is_told_until_there_is_room_again(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        patched.setattr(OnFile, "keep", full)
        assert bench.change(lambda: bench.session.answer("cavity-wall", "smooth")) == ""
        assert bench.trouble == f"The disk is full. {GO_ON}"
    bench.save()
    assert bench.trouble == ""
    assert kept(bench).about("cavity-wall") is not None


def test_a_reject_renamed_leaves_no_file_under_its_old_name(bench: Bench) -> None:
    bench.save()
    assert bench.rename("lid") == ""
    assert [one.name for one in bench.shelf.kept()] == ["lid"]


def test_no_other_reject_is_written_over_by_a_new_name(bench: Bench) -> None:
    bench.save()
    other = new_bench(open_session(Reject(name="lid"), SMALL_BOOK), bench.shelf)
    other.change(lambda: other.session.answer("cavity-wall", "rough"))
    assert "There is a reject called lid already" in bench.rename("lid")
    assert "needs a name" in bench.rename("  ")
    assert bench.session.reject.name == "cover"
    found = kept(other).about("cavity-wall")
    assert found is not None
    assert found.answer == "rough"


def test_a_name_that_differs_in_capitals_only_keeps_the_file(bench: Bench) -> None:
    bench.save()
    assert bench.rename("Cover") == ""
    assert [one.name for one in bench.shelf.kept()] == ["cover"]
    assert kept(bench).name == "Cover"


def test_the_old_file_stays_where_the_new_one_could_not_be_written(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.save()
    monkeypatch.setattr(OnFile, "keep", full)
    bench.rename("lid")
    assert bench.trouble
    assert [one.name for one in bench.shelf.kept()] == ["cover"]


def test_questions_set_aside_are_passed_over(bench: Bench) -> None:
    first = bench.next_question()
    assert first is not None
    bench.skipped.append(first.id)
    second = bench.next_question()
    assert second is not None
    assert second.id != first.id
    bench.skipped += [one.id for one in bench.session.ask_next()]
    assert bench.next_question() is None


def test_a_reply_goes_to_the_look_or_the_check_that_was_asked(bench: Bench) -> None:
    look = bench.session.question("cavity-wall")
    check = bench.session.question("core-vent-open")
    assert (look.kind, check.kind) == (LOOK, CHECK)
    assert bench.reply(look, "rough") == ""
    assert bench.reply(check, "no") == ""
    found = [(one.kind, one.id, one.answer) for one in kept(bench).found]
    assert found == [(LOOK, "cavity-wall", "rough"), (CHECK, "core-vent-open", "no")]
    assert bench.reply(look, "") == ""
    assert [(one.kind, one.id) for one in kept(bench).found] == [
        (CHECK, "core-vent-open"), ("unsure", "cavity-wall"),
    ]  # fmt: skip


def test_a_contradiction_is_told_once(bench: Bench) -> None:
    bench.see("smooth holes")
    assert bench.new_doubt() == ""
    bench.change(lambda: bench.session.answer("cavity-wall", "rough"))
    assert bench.new_doubt() != ""
    assert bench.new_doubt() == ""


def test_a_phrase_is_read_once(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    heard = bench.heard("smooth holes")
    monkeypatch.setattr(Session, "understand", full)
    assert bench.heard("smooth holes") is heard
    assert bench.see("smooth holes") == ""
    assert [one.id for one in bench.seen()] == ["cavity-wall"]


def test_a_reading_in_a_phrase_is_told_and_is_no_sight(bench: Bench) -> None:
    bench.see("moisture 4.6 %")
    told = bench.readings_told("moisture 4.6 %")
    assert told.startswith("Reading taken down: ")
    assert "4.6 %" in told
    assert bench.readings_told("smooth holes") == ""
    assert bench.seen() == []


def test_what_was_likely_meant_is_offered_until_it_is_settled(bench: Bench) -> None:
    bench.see("gas hole")
    offered = bench.offers("gas hole")
    assert {one.id for one in offered} == {"blow-mould-gas", "blow-core-gas"}
    assert bench.meaning(offered[0]).startswith(bench.session.book.defects[offered[0].id].name)
    assert bench.mean(offered[0], "gas hole") == ""
    assert [(one.kind, one.id) for one in kept(bench).found] == [(CALLED, offered[0].id)]
    assert bench.offers("gas hole") == []


def test_meanings_that_were_struck_are_gone_and_others_stay(bench: Bench) -> None:
    bench.see("gas hole, smooth holes")
    offered = bench.offers("gas hole, smooth holes")
    assert offered
    assert bench.strike_meanings(offered) == ""
    left = {one.id for one in kept(bench).heard}
    assert not left & {one.id for one in offered}
    assert "cavity-wall" in left
    assert bench.strike_heard("cavity-wall") == ""
    assert "cavity-wall" not in {one.id for one in kept(bench).heard}


def test_what_meant_nothing_is_offered_the_nearest_until_it_is_answered(bench: Bench) -> None:
    bench.see("like the moon through a wet window")
    (words,) = bench.session.reject.not_understood
    offered = bench.offers(words)
    assert offered
    assert {one.id for one in offered} <= {one.id for one in bench.meanings(words)}
    first = next(one for one in offered if one.kind == LOOK)
    bench.change(lambda: bench.session.answer(first.id, first.answer))
    assert first.id not in {one.id for one in bench.offers(words)}


def test_a_reject_is_taken_off_the_shelf_as_it_was_put_there(bench: Bench) -> None:
    bench.see("smooth holes")
    bench.change(lambda: bench.session.measure("moisture", "4.6 %"))
    path = bench.shelf.path_for("cover")
    fresh = bench.session.another(Reject())
    again = resumed_bench(fresh, bench.shelf, path)
    assert replace(again.session.reject, heard=()) == replace(bench.session.reject, heard=())
    assert {(h.id, h.answer) for h in again.session.reject.heard} == {
        (h.id, h.answer) for h in bench.session.reject.heard
    }
    path.write_text("seen: {", encoding="utf-8")
    with pytest.raises(Fault):
        resumed_bench(fresh, bench.shelf, path)
    assert fresh.reject == Reject()


def test_a_session_of_the_shipped_book_can_be_put_on_the_bench(
    start: Callable[..., Session], tmp_path: Path
) -> None:
    bench = new_bench(start(Reject(name="lid")), Shelf(tmp_path))
    assert bench.change(lambda: bench.session.about(metal="steel")) == ""
    assert kept(bench).metal == "steel"
