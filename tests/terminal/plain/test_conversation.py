"""The session line by line, from pipes: what is typed, what comes back, what is kept."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.basics.errors import Fault
from diagnose.reject.found import SURE, Checked, Looked
from diagnose.session.onfile import OnFile
from diagnose.session.rejectfile import read_reject
from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf
from diagnose.terminal.plain.conversation import run
from diagnose.terminal.plain.words import WORDS

SMALL_BOOK = Path(__file__).parents[1] / "screens" / "small-book"
NAMED = ["cover-0412", "", "", "8 mm"]
"""Name, metal, process and section, as the first four prompts ask for them."""


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "rejects")


@pytest.fixture
def session() -> Session:
    return open_session(folder=SMALL_BOOK)


def talk(session: Session, shelf: Shelf, *lines: str, encoding: str = "utf-8") -> str:
    """Type these lines and return all that was printed until the input ended."""
    stdin = io.StringIO("".join(f"{line}\n" for line in lines))
    printed = io.BytesIO()
    stdout = io.TextIOWrapper(printed, encoding=encoding)
    run(session, shelf, stdin, stdout)
    stdout.flush()
    return printed.getvalue().decode(encoding)


def kept(session: Session, shelf: Shelf, name: str = "cover-0412") -> Session:
    again = session.another()
    read_reject(shelf.path_for(name), again, begun=True)
    return again


def test_from_phrases_to_the_note(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "smooth holes", "", "1", *["0"] * 6)
    assert "+ Heard: wall of the hole: smooth, as if blown" in said
    assert "Nothing more is worth asking." in said
    assert "CORRECTIVE-ACTION NOTE: cover-0412" in said
    assert said.endswith(f"Kept: {shelf.path_for('cover-0412')}\n")
    reject = kept(session, shelf).reject
    assert [(one.kind, one.id) for one in reject.found[:1]] == [("look", "beside-core")]
    assert {one.kind for one in reject.found[1:]} == {"unsure"}
    assert [(one.id, one.answer, one.words) for one in reject.heard if one.probability >= SURE] == [
        ("cavity-wall", "smooth", "smooth holes")
    ]


@pytest.mark.parametrize("lines", range(12))
def test_the_input_may_end_anywhere(session: Session, shelf: Shelf, lines: int) -> None:
    script = [*NAMED, "smooth holes", "gas hole", "1", "", "1", "2", "why", "said"]
    said = talk(session, shelf, *script[:lines])
    assert "CORRECTIVE-ACTION NOTE" in said
    if lines:
        assert shelf.path_for("cover-0412").exists()


def test_nothing_but_plain_text_of_79_columns(session: Session, shelf: Shelf) -> None:
    said = talk(
        session, shelf, *NAMED, "\x1b[31mblancmange", "", "?", "why", "said", "reading", "verdict"
    )
    talked = said.partition("CORRECTIVE-ACTION NOTE")[0]
    assert "\x1b" not in said
    assert all(letter.isprintable() or letter == "\n" for letter in talked)
    assert not [sign for sign in talked if 0x2500 <= ord(sign) <= 0x259F]
    assert max(len(line) for line in talked.splitlines()) <= 79


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_any_encoding_will_do(session: Session, shelf: Shelf, encoding: str) -> None:
    said = talk(session, shelf, *NAMED, "", "1", "verdict", encoding=encoding)
    assert "CORRECTIVE-ACTION NOTE" in said


@pytest.mark.parametrize(("reply", "taken"), [("1", 1), ("y", 1), ("2", 2), ("n", 0), ("0", 0)])
def test_words_with_two_meanings_are_asked(
    session: Session, shelf: Shelf, reply: str, taken: int
) -> None:
    said = talk(session, shelf, *NAMED, "gas hole", reply, "")
    assert '? Likely: By "gas hole", did you mean:\n' in said
    (first,) = re.findall(r"^ 1  (blow from \w+ gas): A smooth hole .*\n", said, re.M)
    assert re.search(r"^ 2  blow from \w+ gas: A smooth hole .*\n 0  none of these\n", said, re.M)
    reject = kept(session, shelf).reject
    assert reject.not_understood == ()
    assert reject.heard == ()
    if not taken:
        assert reject.found == ()
        return
    (found,) = reject.found
    assert (found.kind, found.said) == ("called", "gas hole")
    name = session.book.defects[found.id].name
    assert (name == first) == (taken == 1)
    assert found.id in ("blow-mould-gas", "blow-core-gas")


def test_a_number_that_is_not_offered_is_no_phrase(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "gas hole", "7", "1", "")
    assert "from 0 to 2" in said
    reject = kept(session, shelf).reject
    assert [found.kind for found in reject.found] == ["called"]
    assert reject.not_understood == ()


@pytest.mark.parametrize("reply", ["smooth holes", ""])
def test_what_is_offered_need_not_be_settled(session: Session, shelf: Shelf, reply: str) -> None:
    said = talk(session, shelf, *NAMED, "gas hole", reply, "")
    assert ("+ Heard: wall of the hole: smooth, as if blown" in said) == bool(reply)
    reject = kept(session, shelf).reject
    assert reject.found == ()
    assert {one.id for one in reject.heard if one.phrase == "gas hole"} == {
        "blow-mould-gas", "blow-core-gas",
    }  # fmt: skip


def test_what_is_not_understood_is_told_and_kept(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "blancmange", "")
    assert '- Unknown: "blancmange"; kept for the note\nBy "blancmange", did you mean:\n' in said
    assert kept(session, shelf).reject.not_understood == ("blancmange",)
    assert kept(session, shelf).reject.findings == ()


def test_what_was_not_understood_can_be_settled(session: Session, shelf: Shelf) -> None:
    talk(session, shelf, *NAMED, "blancmange", "1", "")
    reject = kept(session, shelf).reject
    assert [found.said for found in reject.found] == ["blancmange"]
    assert reject.not_understood == ()


def test_back_takes_the_last_answer_back_and_asks_again(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "", "1", "back")
    asked = said.partition("CORRECTIVE-ACTION NOTE")[0]
    assert asked.count("What is the wall of the hole like?") == 2
    assert kept(session, shelf).reject.found == ()


def test_back_with_nothing_said(session: Session, shelf: Shelf) -> None:
    assert "There is nothing to take back." in talk(session, shelf, "back")


def test_take_back_by_number(session: Session, shelf: Shelf) -> None:
    said = talk(
        session, shelf, *NAMED, "smooth holes by the core", "blancmange",
        "said", "take back 9", "take back 1",
    )  # fmt: skip
    (most,) = map(int, re.findall(r"Say which: take back 1 to (\d+)\.", said))
    assert f' {most}  not known: "blancmange"\n' in said
    before = kept(session, shelf).reject
    assert len(before.findings) == most - 2
    assert before.not_understood == ("blancmange",)
    assert "beside-core" not in {one.id for one in before.heard}
    again = talk(session.another(), shelf, "2", f"take back {most - 1}", "said")
    assert "Taken back." in again
    assert "blancmange" not in again.rpartition("Taken back.")[2]
    after = kept(session, shelf).reject
    assert after.not_understood == ()
    assert after.findings == before.findings


def test_readings_by_name_and_bad_ones(session: Session, shelf: Shelf) -> None:
    said = talk(
        session, shelf, *NAMED, "",
        "reading", "reading moisture 46", "reading cheese 4 %", "reading moistr 4.6",
    )  # fmt: skip
    assert "moulding sand moisture: 3 to 4 %" in said
    assert "46 has no unit" in said
    assert "no measurement called 'cheese'" in said
    assert "Speaks for: moulding sand too wet" in said
    assert kept(session, shelf).readings()[0].values == (4.6,)


def test_a_reading_that_is_asked_for(session: Session, shelf: Shelf) -> None:
    asked = [question.id for question in session.another().ask_next()]
    skips = ["s"] * asked.index("sand-moisture")
    said = talk(session, shelf, *NAMED, "", *skips, "no idea", "46 %", "4.6 %")
    assert "Type the reading, in %" in said
    assert "46 % cannot be" in said
    assert kept(session, shelf).readings()[0].values == (4.6,)


def test_wrong_answers_are_told_what_fits(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "", "7", "", "perhaps")
    assert said.count("Type 1 to 2, 0 for not sure, s to skip, or ? for the words.") == 3
    assert kept(session, shelf).reject.found == ()


def test_a_fault_in_what_it_is_asks_again(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, "", "cheese", "grey iron", "", "8", "8 mm", "")
    assert "'cheese' is no metal known here." in said
    assert "8 has no unit" in said


def test_cautions_stand_with_the_question(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "", "1", "2", "1")
    assert "Care: Dry sand dust harms the lungs." in said


def test_a_reject_is_taken_up_again(session: Session, shelf: Shelf) -> None:
    talk(session, shelf, *NAMED, "smooth holes", "quit")
    said = talk(session.another(), shelf, "9", "2", "", "said")
    assert "2  cover-0412" in said
    assert "Type a number from 1 to 2, or quit." in said
    assert "1  wall of the hole: smooth, as if blown" in said


def test_a_number_of_any_length_is_a_number_that_is_not_there(
    session: Session, shelf: Shelf
) -> None:
    """Python itself reads no more than 4,300 figures."""
    talk(session, shelf, *NAMED, "smooth holes", "quit")
    long = "9" * 4400
    said = talk(session.another(), shelf, long, "2", "gas hole", long, "0", f"take back {long}")
    assert "Type a number from 1 to 2, or quit." in said
    assert "Type a number from 0 to 2." in said
    assert "Say which: take back 1 to" in said


def test_quit_leaves_without_the_note(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "quit", "1")
    assert "CORRECTIVE-ACTION NOTE" not in said
    assert said.endswith(f"Kept: {shelf.path_for('cover-0412')}\n")


def test_quit_at_the_first_prompt_keeps_nothing(session: Session, shelf: Shelf) -> None:
    assert "Kept" not in talk(session, shelf, "quit")
    assert shelf.kept() == []


def test_the_note_is_written_to_files(
    session: Session, shelf: Shelf, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    said = talk(session, shelf, *NAMED, "", "note")
    assert f"Written: {tmp_path / 'cover-0412-note.txt'}" in said
    assert len(list(tmp_path.glob("cover-0412-note.*"))) == 3


def test_a_full_disk_is_told_and_work_goes_on(
    session: Session, shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(file: OnFile, session: Session) -> str:
        raise Fault("No space left on device.")

    monkeypatch.setattr(OnFile, "keep", full)
    said = talk(session, shelf, *NAMED, "", "1", "2")
    assert said.count("No space left") >= 3
    assert "CORRECTIVE-ACTION NOTE" in said


def test_ctrl_c_leaves_with_everything_kept(
    session: Session, shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Interrupted(io.StringIO):
        def readline(self, size: int = -1, /) -> str:
            if line := super().readline(size):
                return line
            raise KeyboardInterrupt

    stdout = io.StringIO()
    run(session, shelf, Interrupted("".join(f"{line}\n" for line in [*NAMED, "", "1"])), stdout)
    assert stdout.getvalue().endswith(f"Kept: {shelf.path_for('cover-0412')}\n")
    assert len(kept(session, shelf).reject.found) == 1


def test_closed_streams(session: Session, shelf: Shelf) -> None:
    stdout = io.StringIO()
    run(session, shelf, None, stdout)
    assert "CORRECTIVE-ACTION NOTE" in stdout.getvalue()


def test_the_words_are_all_told(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "?")
    assert all(f"\n{word:<12}" in said for word in WORDS)


def test_a_contradiction_is_told_once(session: Session, shelf: Shelf) -> None:
    reject = replace(
        session.reject,
        found=(
            Looked("cavity-wall", "rough"),
            Looked("cavity-place", "under-the-top"),
            Checked("core-vent-open", "no"),
        ),
    )
    said = talk(session.another(reject), shelf, "ask", "1", "0", "0")
    said = said.partition("CORRECTIVE-ACTION NOTE")[0].partition("The verdict")[0]
    assert said.count("hardly goes with the rest") == 1


def test_what_words_say_both_ways_is_told_at_once(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "smooth holes", "rough inside", "said", "quit")
    at_once = said.partition("> said")[0]
    assert "both were said: which?" in " ".join(at_once.split())
    reject = kept(session, shelf).reject
    heard = {one.answer for one in reject.heard if one.probability >= SURE}
    assert heard == {"smooth", "rough"}


def test_what_words_say_both_ways_is_asked(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "smooth holes", "rough inside", "", "2", "quit")
    asked = said.partition("What is the wall of the hole like?")[2]
    assert "Why: You said “smooth holes; rough inside”: which of these does it mean?" in asked
    found = kept(session, shelf).reject.found
    assert [(one.id, one.answer) for one in found] == [("cavity-wall", "rough")]


def test_a_sum_is_worked_in_between(session: Session, shelf: Shelf) -> None:
    """50 g of sand that lose 1.65 g on drying held 3.3 %: common practice, no source."""
    said = talk(session, shelf, *NAMED, "", "work moisture moist=50g dry=48.35g")
    assert "Moisture of sand: 3.3 %\n  moisture = water / moist sand x 100\n" in said
    assert "\n  Mind: " in said
    assert "\n  Source: " in said


def test_what_a_sum_lacks_comes_from_the_readings_or_is_asked_for(
    session: Session, shelf: Shelf
) -> None:
    """100 kg at 2 % brought to 4 %: 98 / 0.96 - 100 = 2.083 kg of water, dry sand being kept."""
    lines = ["reading moisture 2 %", "work water addition", "4 %", "100", "4"]
    said = talk(session, shelf, *NAMED, "", *lines)
    assert "From the readings: moisture 2 %" in said
    assert "batch: sand in the mill, moist, from 1 to 100000 kg" in said
    assert "does not fit mass" in said
    assert "Water to temper a batch: 2.083 kg" in said


def test_an_empty_line_leaves_a_sum(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "", "work water addition batch=100kg", "", "said")
    assert "An empty line leaves the sum." in said
    assert "Nothing was said yet." in said


def test_the_sums_are_listed_by_matter(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "", "work", "work sand", "work 'sand")
    assert "The matters: sand, cores and moulds," in said
    assert said.count("\nmoisture: Moisture of sand [%]\n") == 1


def test_a_sum_that_is_wrong_is_told(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "", "work mositure moist=50g", "work moisture wet=50g")
    assert "There is no sum called 'mositure'. Did you mean moisture" in said
    assert "moisture takes no 'wet'" in said


def test_a_phrase_that_begins_with_work_stays_a_phrase(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "work came out with smooth holes", "")
    assert "+ Heard: wall of the hole: smooth, as if blown" in said


def test_what_follows_from_readings_is_told(shelf: Shelf) -> None:
    """CE = C + (Si + P)/3, the usual form: 3.4 + (2.1 + 0.3)/3 = 4.2."""
    lines = ["reading carbon 3.4 %", "reading silicon 2.1 %", "reading phosphorus 0.3 %"]
    said = talk(open_session(), shelf, *NAMED, "", *lines, "reading")
    assert "phosphorus in the iron: 0.3 %, within its window." in said
    assert "carbon equivalent: 4.2 %, within its window, worked out." in said
    assert "carbon equivalent: 4 to 4.5 %; 4.2 %, within its window, worked out" in said
    assert "\n    = 4.2 %\n" in said


def test_a_picture_is_drawn_and_told_in_words(shelf: Shelf) -> None:
    said = talk(open_session(), shelf, *NAMED, "holes", "", "picture", "quit")
    assert "What the answers look like" in said
    assert "Close by: the sand of the mould above" in said or "A section through" in said
    assert "+---" in said


def test_where_there_is_no_picture_it_is_said(session: Session, shelf: Shelf) -> None:
    said = talk(session, shelf, *NAMED, "holes", "", "picture", "quit")
    assert "There is no drawing of it." in said


def test_what_could_not_be_kept_is_printed_and_can_be_read_again(
    session: Session, tmp_path: Path
) -> None:
    stdin = io.StringIO("".join(f"{line}\n" for line in [*NAMED, "smooth holes", "", "quit"]))
    stdout = io.StringIO()
    assert not run(session, Shelf(Path("/dev/null")), stdin, stdout)
    said = stdout.getvalue()
    assert "Kept:" not in said
    by_hand = tmp_path / "by-hand.yaml"
    by_hand.write_text(said.partition("reads it again:\n")[2], encoding="utf-8")
    again = session.another()
    read_reject(by_hand, again)
    assert again.reject.name == "cover-0412"
    assert {one.phrase for one in again.reject.heard} == {"smooth holes"}


def test_all_that_was_entered_is_kept_when_it_is_said_to_be(session: Session, shelf: Shelf) -> None:
    stdin = io.StringIO("".join(f"{line}\n" for line in [*NAMED, "smooth holes", "quit"]))
    assert run(session, shelf, stdin, io.StringIO())


def test_a_very_long_line_is_taken_in_parts_and_opens_again(session: Session, shelf: Shelf) -> None:
    long = "smooth holes and a gas hole by the core print, moisture 4.6 %, " * 225
    assert len(long) > 14_000
    said = talk(session, shelf, *NAMED, long, "quit")
    assert "Kept: " in said
    reject = kept(session, shelf).reject
    assert reject.heard
    assert max(len(one.phrase) for one in reject.heard) <= 1000
    again = talk(session.another(), shelf, "2", "said")
    assert "It cannot be read" not in again
