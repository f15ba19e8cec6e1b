"""Phrases: what was understood can be put right, what was not is kept."""

from __future__ import annotations

import pytest
from textual.events import Paste
from textual.pilot import Pilot
from textual.widgets import Static

from diagnose.reject.found import CALLED, LOOK, SURE
from diagnose.reject.reject import Reject
from diagnose.session.autosave import Bench
from diagnose.session.session import open_session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.lists import PickList, Row
from diagnose.terminal.screens.pick import Pick
from diagnose.terminal.screens.see import See
from tests.terminal.screens.conftest import shown, type_in, whole

FULL = "rounded, smooth cavities under the top skin"
GIBBERISH = "qwertz zpft"


@pytest.fixture
def whole_book(shelf: Shelf) -> DiagnoseApp:
    """The screens on the book itself, in which even gibberish is near to something."""
    return DiagnoseApp(open_session(), shelf)


def bench(app: DiagnoseApp) -> Bench:
    assert app.bench is not None
    return app.bench


def reject(app: DiagnoseApp) -> Reject:
    return bench(app).session.reject


def rows(app: DiagnoseApp) -> list[Row]:
    return app.screen.query_one("#phrases", PickList).rows


def marks(app: DiagnoseApp) -> list[str]:
    return [row.left.strip() for row in rows(app)]


def typed(app: DiagnoseApp) -> str:
    return app.screen.query_one("#phrase", Field).value


def offers(app: DiagnoseApp) -> list[str]:
    """Return the lines that say what the last phrase may mean; none where nothing is asked."""
    told = app.screen.query_one("#offers", Static)
    return str(told.render()).splitlines() if told.display else []


async def say(pilot: Pilot[None], phrase: str, *more: str) -> None:
    """Say phrases on the screen for what is seen, of a new reject."""
    await pilot.press("1", "f3")
    for one in (phrase, *more):
        await type_in(pilot, one, "enter")


async def test_the_words_stand_beside_what_they_were_taken_for(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes; by the core")
        told = {row.id: row.text for row in rows(app)}
        assert marks(app) == ["+ heard", "+ heard"]
    assert told["cavity-wall"].endswith('"smooth holes"')
    assert told["beside-core"].endswith('"by the core"')


async def test_a_misunderstood_phrase_is_put_right(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes")
        await pilot.press("tab", "enter")
        assert isinstance(app.screen, Pick)
        await pilot.press("2")
        found = reject(app).about("cavity-wall")
        assert found is not None
        assert (found.answer, found.said) == ("rough", "smooth holes")
        assert [found.answer for found in reject(app).findings] == ["rough"]


async def test_a_misunderstood_phrase_is_struck_out(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes")
        before = reject(app)
        assert [found.answer for found in before.findings] == ["smooth"]
        await pilot.press("tab", "enter", "0")
        assert (reject(app).found, reject(app).heard) == ((), ())
        await pilot.press("f9")
        assert reject(app) == before


# what the last phrase may mean: a digit settles it, and nothing stands in the way of typing


async def test_words_with_two_meanings_are_asked_below_the_line_and_a_digit_picks(
    app: DiagnoseApp,
) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "gas hole")
        asked, *lines, none = offers(app)
        assert asked.startswith('Did you mean, by "gas hole"?')
        assert [line[0] for line in lines] == ["1", "2"]
        assert none == "0  none of these"
        assert isinstance(app.screen, See)
        assert app.screen.query_one("#phrase", Field).has_focus
        before = reject(app)
        assert before.found == ()
        wanted = next(line for line in lines if "core gas" in line)
        await pilot.press(wanted[0])
        found = reject(app).about("blow-core-gas")
        assert found is not None
        assert (found.kind, found.said) == (CALLED, "gas hole")
        assert [one.id for one in reject(app).findings] == ["blow-core-gas"]
        assert (typed(app), offers(app), marks(app)) == ("", [], ["+ heard"])
        await pilot.press("f9")
        assert reject(app) == before
        assert offers(app) == [asked, *lines, none]


async def test_words_with_two_meanings_may_be_put_off(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "gas hole")
        await type_in(pilot, "smooth holes", "enter")
        assert [(row.id, row.left.strip()) for row in rows(app)] == [
            ("blow-core-gas", "? likely"),
            ("cavity-wall", "+ heard"),
        ]
        assert offers(app) == []
        assert reject(app).found == ()
        assert {one.id for one in reject(app).heard} >= {"blow-core-gas", "blow-mould-gas"}
        await pilot.press("tab", "up", "enter")
        assert isinstance(app.screen, Pick)


async def test_typing_goes_into_the_line_and_a_digit_in_it_picks_nothing(
    app: DiagnoseApp,
) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "gas hole")
        before = reject(app)
        await type_in(pilot, "box 1 of 20")
        assert typed(app) == "box 1 of 20"
        assert reject(app) == before


async def test_a_digit_for_which_nothing_is_offered_goes_into_the_line(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes")
        before = reject(app)
        await type_in(pilot, "10 mm")
        assert (typed(app), reject(app)) == ("10 mm", before)
        await pilot.press(*["backspace"] * 5)
        await type_in(pilot, "gas hole", "enter", "9")
        assert typed(app) == "9"
        assert reject(app).found == ()


async def test_0_strikes_all_that_was_offered_and_one_undo_brings_it_back(
    app: DiagnoseApp,
) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes", "gas hole")
        before = reject(app)
        assert marks(app) == ["+ heard", "? likely"]
        await pilot.press("0")
        assert (typed(app), offers(app)) == ("", [])
        assert [one.id for one in reject(app).findings] == ["cavity-wall"]
        assert {one.id for one in reject(app).heard} == {"cavity-wall"}
        assert marks(app) == ["+ heard"]
        await pilot.press("f9")
        assert reject(app) == before


async def test_0_leaves_what_another_phrase_surely_said(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes", "maybe rough inside")
        assert any(line.endswith("rough, with little crystals") for line in offers(app))
        await pilot.press("0")
        assert [(h.answer, h.words) for h in reject(app).heard] == [("smooth", "smooth holes")]


async def test_what_is_surely_known_is_not_asked_again(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "rough inside", "maybe rough inside")
        (likely,) = bench(app).heard("maybe rough inside").likely
        (found,) = reject(app).findings
        assert (found.id, found.answer) == (likely.id, likely.answer)
        assert found.chance >= SURE
        assert offers(app) == []


async def test_an_undone_phrase_is_not_asked_about(whole_book: DiagnoseApp) -> None:
    app = whole_book
    async with app.run_test() as pilot:
        await say(pilot, GIBBERISH)
        assert offers(app)
        await pilot.press("f9")
        assert reject(app).not_understood == ()
        assert (offers(app), rows(app)) == ([], [])


# the list: y, n, x and Enter settle the marked line


async def test_y_in_the_list_settles_the_marked_line(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "maybe rough inside")
        assert marks(app) == ["? likely"]
        before = reject(app)
        percent = f"{100 * before.findings[0].chance:.0f} %"
        assert percent in rows(app)[0].text.replace("\u00a0", " ")
        await pilot.press("tab", "y")
        found = reject(app).about("cavity-wall")
        assert found is not None
        assert (found.kind, found.answer, found.chance) == (LOOK, "rough", 1.0)
        assert found.said == before.findings[0].said
        assert marks(app) == ["+ heard"]
        assert "if that is what is meant" not in rows(app)[0].text
        await pilot.press("f9")
        assert reject(app) == before


async def test_n_in_the_list_strikes_what_was_heard(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes", "core blow")
        assert [(row.id, row.left.strip()) for row in rows(app)] == [
            ("cavity-wall", "+ heard"),
            ("blow-core-gas", "+ heard"),
            ("beside-core", "? likely"),
        ]
        before = reject(app)
        await pilot.press("tab", "n")
        assert [one.id for one in reject(app).findings] == ["cavity-wall", "blow-core-gas"]
        assert "beside-core" not in {one.id for one in reject(app).heard}
        assert reject(app).found == ()
        await pilot.press("f9")
        assert reject(app) == before


async def test_the_mark_stays_on_the_line_that_was_settled(app: DiagnoseApp) -> None:
    """A key pressed twice, as with gloves, settles nothing else."""
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes", "core blow")
        phrases = app.screen.query_one("#phrases", PickList)
        await pilot.press("tab")
        marked = phrases.marked()
        assert marked is not None
        assert marked.id == "beside-core"
        await pilot.press("y", "y")
        marked = phrases.marked()
        assert marked is not None
        assert (marked.id, marked.left.strip()) == ("beside-core", "+ heard")
        assert [one.id for one in reject(app).found] == ["beside-core"]


async def test_the_mark_is_on_what_the_last_phrase_said(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "blancmange", "gas hole")
        marked = app.screen.query_one("#phrases", PickList).marked()
        assert marked is not None
        assert marked.id == "blow-core-gas"
        await type_in(pilot, "scabby", "enter")
        marked = app.screen.query_one("#phrases", PickList).marked()
        assert marked is not None
        assert '"scabby"' in marked.text


async def test_y_and_n_are_letters_while_typing(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "maybe rough inside")
        before = reject(app)
        await type_in(pilot, "yn")
        assert (typed(app), reject(app)) == ("yn", before)


async def test_two_phrases_that_contradict_each_other_are_shown_with_which(
    app: DiagnoseApp,
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await say(pilot, "smooth holes")
        assert "which?" not in whole(app)
        await type_in(pilot, "rough inside", "enter")
        (row,) = rows(app)
        both = "smooth, as if blown or rough, with little crystals (both were said: which?)"
        assert both in row.text
        assert row.left.strip() == "? likely"
        assert both in shown(app, "#message")
        assert '"smooth holes; rough inside"' in row.text
        assert reject(app).found == ()
        assert {h.answer for h in reject(app).heard} == {"smooth", "rough"}
        await pilot.press("tab", "enter")
        assert isinstance(app.screen, Pick)
        await pilot.press("2")
        (row,) = rows(app)
        assert "rough, with little crystals" in row.text
        assert "which?" not in row.text
        assert row.left.strip() == "+ heard"
        found = reject(app).about("cavity-wall")
        assert found is not None
        assert found.answer == "rough"


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_which_is_to_be_read_whole(app: DiagnoseApp, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await say(pilot, "smooth holes", "rough inside")
        read = " ".join(whole(app).split())
    assert read.count("(both were said: which?)") == 2


# what was not understood


async def test_what_is_not_understood_is_shown_kept_and_can_be_struck_out(
    app: DiagnoseApp,
) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "blancmange")
        assert marks(app) == ["- unknown"]
        assert '"blancmange"' in rows(app)[0].text
        assert reject(app).not_understood == ("blancmange",)
        await pilot.press("tab", "x")
        assert reject(app).not_understood == ()
        assert rows(app) == []


async def test_gibberish_is_offered_the_nearest_five(whole_book: DiagnoseApp) -> None:
    app = whole_book
    async with app.run_test() as pilot:
        await say(pilot, GIBBERISH)
        assert marks(app) == ["- unknown"]
        asked, *lines, none = offers(app)
        assert asked.startswith(f'Did you mean, by "{GIBBERISH}"?')
        assert [line[0] for line in lines] == ["1", "2", "3", "4", "5"]
        assert none == "0  none of these"
        before = reject(app)
        assert (before.findings, before.not_understood) == ((), (GIBBERISH,))
        third = bench(app).heard(GIBBERISH).nearest[2]
        assert lines[2] == f"3  {bench(app).meaning(third)}"
        await pilot.press("3")
        (found,) = reject(app).findings
        assert (found.id, found.answer, found.said) == (third.id, third.answer, GIBBERISH)
        assert reject(app).not_understood == ()
        assert (typed(app), offers(app), marks(app)) == ("", [], ["+ heard"])
        await pilot.press("f9")
        assert reject(app) == before
        assert marks(app) == ["- unknown"]


async def test_none_of_the_nearest_keeps_the_words_and_what_was_said_before(
    whole_book: DiagnoseApp,
) -> None:
    app = whole_book
    async with app.run_test() as pilot:
        await say(pilot, FULL)
        before = reject(app)
        await type_in(pilot, GIBBERISH, "enter", "0")
        assert reject(app).not_understood == (*before.not_understood, GIBBERISH)
        assert (reject(app).found, reject(app).heard) == (before.found, before.heard)
        assert (typed(app), offers(app)) == ("", [])


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_all_that_is_offered_is_to_be_read_whole(
    whole_book: DiagnoseApp, size: tuple[int, int]
) -> None:
    app = whole_book
    async with app.run_test(size=size) as pilot:
        await say(pilot, FULL, GIBBERISH)
        read, lines = " ".join(whole(app).split()), offers(app)
    assert len(lines) == 7
    for line in lines:
        assert " ".join(line.split()) in read


@pytest.mark.parametrize("last", [FULL, GIBBERISH])
async def test_the_marked_line_is_in_sight(whole_book: DiagnoseApp, last: str) -> None:
    app = whole_book
    async with app.run_test(size=(80, 24)) as pilot:
        await say(pilot, FULL, "pits beside the core", last)
        await pilot.pause()
        marked = app.screen.query_one("#phrases", PickList).marked()
        seen = [line for line in whole(app).splitlines() if line.startswith(" > ")]
    assert marked is not None
    assert len(seen) == 1
    assert marked.left.strip() in seen[0]


async def test_a_reading_in_a_phrase_is_taken_whole_and_told(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "moisture 4.6 %")
        (reading,) = bench(app).session.readings()
        assert (reading.id, reading.values) == ("sand-moisture", (4.6,))
        assert reject(app).not_understood == ()
        assert "moulding sand moisture: 4.6 %" in whole(app)


async def test_pasted_lines_all_arrive_without_what_steers_a_screen(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        app.post_message(Paste("smooth holes\n\x1b[31mby the core\n"))
        await pilot.pause()
        assert app.screen.query_one("#phrase", Field).value == "smooth holes; by the core"
        await pilot.press("enter")
        assert {found.id for found in reject(app).findings} == {"cavity-wall", "beside-core"}
        assert reject(app).not_understood == ()


async def test_a_paste_too_long_is_cut_and_told(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        app.post_message(Paste("smooth holes, " * 1000))
        await pilot.pause()
        assert len(app.screen.query_one("#phrase", Field).value) == 1000
        assert "Only 1000 letters" in shown(app, "#message")


async def test_a_half_typed_phrase_waits(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        await type_in(pilot, "smooth ho")
        await pilot.press("f4", "f3")
        assert app.screen.query_one("#phrase", Field).value == "smooth ho"


async def test_nothing_said_yet(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3", "tab", "f9")
        assert shown(app, "#understood") == "Nothing said yet."
        assert shown(app, "#message") == "There is nothing more."


async def test_brackets_that_somebody_types_are_shown(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        phrases = app.screen.query_one("#phrases", PickList)
        app.screen.query_one("#phrase", Field).value = "blancmange [bold] custard"
        await pilot.press("enter")
        assert phrases.rows
        assert marks(app) == ["- unknown"]
        assert '- unknown "blancmange [bold] custard"' in whole(app)
