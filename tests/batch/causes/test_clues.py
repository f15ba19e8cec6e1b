"""What a group's counts, remarks and movements say to the shipped book. Common practice, no source,
for what goes with what; the rest by the words of docs/batch-causes.md."""

from __future__ import annotations

from dataclasses import replace
from math import log

import numpy as np
import pytest

from diagnose.batch.causes.clues import clues, counting, movements, remarks
from diagnose.batch.causes.counts import CAP
from diagnose.batch.causes.group import Course, Group, Level, Pooled, Sorting
from diagnose.batch.causes.signs import signs
from diagnose.batch.result import Movement
from diagnose.engine.cliquetree import Floats
from diagnose.reasoning.setup import CALLED, Desk, set_up
from diagnose.reject.found import CHECK, LOOK, Hearing
from diagnose.rulebase.book import Book
from diagnose.rulebase.job import Job
from diagnose.rulebase.load import load

LADLE = Sorting(
    "ladle order", (Level("first", 1, 120), Level("between", 6, 480), Level("last", 33, 360))
)
EVEN = Sorting("plate", tuple(Level(str(k), 10, 100) for k in range(4)))
MISRUNS = Group("misruns", (("misrun", 1.0),), 40, 960, (LADLE, EVEN))


@pytest.fixture(scope="module")
def book() -> Book:
    return load()


@pytest.fixture(scope="module")
def desk(book: Book) -> Desk:
    return set_up(book, Job("grey iron", "green sand", None))


def root_odds(desk: Desk, logs: Floats, root: str) -> float:
    """Return the decibans that a clue gives to a root condition, from the prior."""
    prior = np.exp(desk.model.log_prior)
    mine = desk.model.root_of_account == desk.roots.index(root)
    after = prior * np.exp(logs - logs.max())
    after /= after.sum()
    return float(10.0 * np.log10(after[mine].sum() / (1 - after[mine].sum())
                                 * (1 - prior[mine].sum()) / prior[mine].sum()))  # fmt: skip


def test_counts_answer_the_looks_of_the_book(book: Book) -> None:
    found = {sign.look: sign for sign in signs(book, MISRUNS)}
    assert found["place-in-ladle"].factors["last-from-ladle"] == CAP
    assert found["place-in-ladle"].factors["first-from-ladle"] < 1.0
    assert found["plate-place"].factors["one-impression"] < 0.2
    assert found["how-many"].factors["some"] > found["how-many"].factors["most-or-all"]
    assert "runs-with" not in found


def test_the_end_of_the_ladle_speaks_for_waiting_iron(desk: Desk) -> None:
    by_entry = {clue.entry: clue for clue in clues(desk, MISRUNS)}
    said = by_entry["place-in-ladle"]
    assert "last" in said.text
    assert "82 %" in said.text
    assert root_odds(desk, said.logs, "waited-too-long") > 2.0
    assert root_odds(desk, by_entry["plate-place"].logs, "waited-too-long") == pytest.approx(
        0.0, abs=1.5
    )


def test_a_fault_word_counts_once_whatever_it_stands_at(desk: Desk) -> None:
    more = replace(MISRUNS, bad=4000, poured=96_000)
    named = [next(c for c in clues(desk, g) if c.entry == CALLED) for g in (MISRUNS, more)]
    assert np.array_equal(named[0].logs, named[1].logs)


def test_a_word_that_may_mean_two_faults_leaves_both_open(desk: Desk) -> None:
    doubtful = replace(MISRUNS, defects=(("sand-inclusion", 0.6), ("slag-inclusion", 0.4)))
    logs = next(c for c in clues(desk, doubtful) if c.entry == CALLED).logs
    likely = {a.defect: logs[r] for r, a in enumerate(desk.accounts)}
    assert likely["sand-inclusion"] > likely["misrun"]
    assert likely["slag-inclusion"] > likely["misrun"]


def test_two_hundred_remarks_alike_do_not_count_two_hundred_times(desk: Desk) -> None:
    smooth = Hearing(LOOK, "cavity-wall", "smooth", 0.9, "slick", "slick holes")
    once, often = (remarks(desk, [Pooled((smooth,), n)])[0].logs for n in (1, 200))
    assert counting(200) < 2.0
    spread_once, spread_often = (float(np.ptp(logs)) for logs in (once, often))
    assert spread_once < spread_often <= 2.0 * spread_once + 1e-9
    assert spread_often <= log(CAP) + 1e-9


def test_remarks_that_contradict_each_other_weaken_each_other(desk: Desk) -> None:
    look = desk.book.looks["cavity-wall"]
    one, other = [*look.answers][:2]
    said = [Pooled((Hearing(LOOK, "cavity-wall", a, 0.9, a, a),), 10) for a in (one, other)]
    alone, both = remarks(desk, said[:1])[0].logs, remarks(desk, said)[0].logs
    first = next(r for r, a in enumerate(desk.accounts)
                 if alone[r] == alone.max())  # fmt: skip
    assert both.max() - both[first] >= 0.0
    assert np.std(both) < np.std(alone)


def test_what_the_counts_answer_is_not_taken_from_remarks_again(desk: Desk) -> None:
    said = Hearing(LOOK, "place-in-ladle", "last-from-ladle", 0.9, "dregs", "dregs of the ladle")
    found = clues(desk, replace(MISRUNS, remarks=(Pooled((said,), 10),)))
    assert [clue.kind for clue in found if clue.entry == "place-in-ladle"] == ["counts"]


def test_remarks_on_checks_are_left_to_the_shop(desk: Desk) -> None:
    name = next(iter(desk.book.checks))
    said = Hearing(CHECK, name, desk.book.checks[name].bad, 0.9, "so", "so")
    assert remarks(desk, [Pooled((said,), 5)]) == []


def test_a_sheet_that_knows_the_core_maker_is_of_cored_castings(desk: Desk) -> None:
    cores = Sorting("core maker", (Level("1", 30, 100), Level("2", 5, 100)))
    found = {c.entry: c for c in clues(desk, replace(MISRUNS, sortings=(cores,)))}
    assert "else the sheet could not say" in found["beside-core"].text


def test_a_fault_that_rises_with_moisture_speaks_for_wet_sand(desk: Desk) -> None:
    def moved(quantity: str, times: float) -> Movement:
        return Movement(quantity, quantity, "blow-mould-gas", times, times / 1.4, times * 1.4,
                        0, 0.01, 0.02, 0.3, "%")  # fmt: skip

    rises, falls = (movements(desk, [moved("sand-moisture", x)])[0] for x in (2.0, 0.5))
    assert root_odds(desk, rises.logs, "sand-too-wet") > 3.0
    assert root_odds(desk, falls.logs, "sand-too-wet") < -1.0
    two = movements(desk, [moved("sand-moisture", 2.0), moved("sand-compactability", 2.0)])
    together = root_odds(desk, two[0].logs + two[1].logs, "sand-too-wet")
    best = max(root_odds(desk, movements(desk, [moved(q, 2.0)])[0].logs, "sand-too-wet")
               for q in ("sand-moisture", "sand-compactability"))  # fmt: skip
    assert together <= best + 0.5


def test_a_course_of_time_answers_how_it_began(desk: Desk) -> None:
    steps = Course((1,) * 10 + (9,) * 10, (100,) * 20)
    found = {c.entry: c for c in clues(desk, replace(MISRUNS, time=steps))}
    assert "step up" in found["onset"].text


@pytest.mark.parametrize(("bad", "poured", "most"), [(40, 960, False), (900, 960, True)])
def test_how_many_are_bad_is_counted(book: Book, bad: int, poured: int, *, most: bool) -> None:
    group = replace(MISRUNS, bad=bad, poured=poured)
    factors = next(s for s in signs(book, group) if s.look == "how-many").factors
    assert (factors["most-or-all"] > 90.0) is most
    assert (factors["some"] > 90.0) is not most
    assert not [s for s in signs(book, replace(MISRUNS, bad=2)) if s.look == "how-many"]
