"""Groups made from a made-up sheet: what was planted stands apart, what was not does not."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from diagnose.batch.causes.counts import any_apart
from diagnose.batch.causes.group import Group, Sorting
from diagnose.batch.causes.grouping import group_at, groups_in
from diagnose.batch.causes.sheet import Sheet
from diagnose.batch.causes.tables import counts_of, spread_at, spread_in_time
from diagnose.rulebase.book import Book
from diagnose.rulebase.load import load
from diagnose.words.heard import Heard, Meaning
from tests.batch.causes.made_up import Made, Moulds, moulds, sheet


@pytest.fixture(scope="module")
def book() -> Book:
    return load()


@pytest.fixture
def made() -> Moulds:
    return moulds(np.random.default_rng(3))


def sorted_by(group: Group, factor: str) -> Sorting:
    return next(one for one in group.sortings if one.factor == factor)


def planted(made: Moulds, factor: str, level: int, seed: int = 5) -> Made:
    chance = np.where(made.of(factor) == level, 0.15, 0.03)
    return sheet(made, {"core-broken": chance}, np.random.default_rng(seed))


def test_a_core_maker_who_stands_apart_makes_a_group_of_its_own(book: Book, made: Moulds) -> None:
    data = planted(made, "core maker", 1)
    at, elsewhere = groups_in(data, book)
    assert at.where == (("core maker", "2"),)
    assert elsewhere.where == ()
    assert at.bad + elsewhere.bad == data.scrap.bad.sum()
    assert at.poured is not None
    assert elsewhere.poured is not None
    assert at.poured + elsewhere.poured == len(made.day)
    assert at.rate_elsewhere == pytest.approx(elsewhere.bad / elsewhere.poured)
    assert any_apart(sorted_by(at, "core maker")) > 10.0
    assert len(sorted_by(elsewhere, "core maker").levels) == 2


def test_what_the_castings_poured_do_not_know_is_held_against_all_scrap(
    book: Book, made: Moulds
) -> None:
    draw = np.random.default_rng(5)
    chances = {
        "core-broken": np.where(made.of("core maker") == 1, 0.15, 0.02),
        "sand-inclusion": np.full(len(made.day), 0.08),
    }
    data = sheet(made, chances, draw, unknown_when_poured=("core maker",))
    at = next(group for group in groups_in(data, book) if group.where)
    assert at.where == (("core maker", "2"),)
    assert at.poured is None
    assert at.rate is None
    assert sorted_by(at, "core maker").of_scrap
    whole = next(g for g in groups_in(data, book) if g.defects[0][0] == "sand-inclusion")
    assert whole.poured == len(made.day)
    assert not sorted_by(whole, "plate").of_scrap


def test_where_nothing_is_planted_a_fault_is_rarely_parted(book: Book, made: Moulds) -> None:
    parted = 0
    for seed in range(30):
        data = sheet(made, {"misrun": np.full(len(made.day), 0.05)}, np.random.default_rng(seed))
        parted += len(groups_in(data, book)) > 1
    assert parted <= 2


def test_nor_where_heats_differ_for_no_reason(book: Book, made: Moulds) -> None:
    parted = 0
    for seed in range(30):
        draw = np.random.default_rng(seed)
        by_heat = draw.gamma(1.0, 0.05, made.of("heat").max() + 1).clip(0.0, 0.5)
        data = sheet(made, {"misrun": by_heat[made.of("heat")]}, draw)
        parted += len(groups_in(data, book)) > 1
    assert parted <= 2


def test_a_moulder_who_makes_the_hard_pattern_is_not_blamed(book: Book, made: Moulds) -> None:
    codes = made.codes.copy()
    draw = np.random.default_rng(2)
    codes[:, 4] = np.where(draw.random(len(codes)) < 0.8, codes[:, 0], 1 - codes[:, 0])
    hard = Moulds(codes, made.day)
    data = sheet(hard, {"misrun": np.where(hard.of("pattern") == 0, 0.15, 0.02)}, draw)
    whole = groups_in(data, book)[0]
    assert any_apart(sorted_by(whole, "moulder")) < 1.0
    assert any_apart(sorted_by(whole, "pattern")) > 10.0


def test_places_in_a_ladle_are_first_between_and_last(made: Moulds) -> None:
    data = planted(made, "plate", 1)
    sheet_of = Sheet(data)
    factor = sheet_of.factor(sheet_of.scrap, "ladle order")
    assert factor is not None
    whole = sheet_of.factor(data.cells, "ladle order")
    assert whole is not None
    orders = made.of("ladle order")
    assert {*np.array(whole.names)[whole.codes[orders == 0]]} == {"first"}
    assert {*np.array(whole.names)[whole.codes[orders == 7]]} == {"last"}
    assert {*np.array(whole.names)[whole.codes[orders == 3]]} == {"between"}


def test_heats_that_differ_are_seen_as_spread_and_a_true_difference_is_not() -> None:
    draw = np.random.default_rng(1)
    heat = np.repeat(np.arange(60), 20)
    shift = np.repeat(np.arange(60) % 2, 20)

    def spread(chance: np.ndarray) -> float:
        bad = draw.random(len(heat)) < chance
        cells = SimpleNamespace(
            factors=("heat",),
            day=heat + 1,
            bad=bad[:, np.newaxis].astype(float),
            poured=np.ones(len(heat)),
            code=lambda _: heat,
        )
        everything = np.ones(len(heat), dtype=bool)
        return spread_at(counts_of(cells, 0), shift == 0, everything)

    by_chance = [spread(np.full(len(heat), 0.05)) for _ in range(40)]
    steady = [spread(np.where(shift == 0, 0.12, 0.03)) for _ in range(40)]
    differing = [spread(np.repeat(draw.gamma(0.5, 0.1, 60), 20)) for _ in range(40)]
    assert np.mean(by_chance) < 1.2
    assert np.mean(steady) < 1.2
    assert np.mean(differing) > 1.6


def test_a_step_in_time_is_not_taken_for_spread() -> None:
    draw = np.random.default_rng(6)
    size = np.full(200, 400.0)
    bad = draw.binomial(400, np.repeat([0.02, 0.06], 100)).astype(float)
    assert spread_in_time(bad, size) < 1.3


def test_remarks_stand_with_the_rows_of_their_group(book: Book, made: Moulds) -> None:
    data = planted(made, "core maker", 1)
    data.lines.remark[:] = data.lines.codes[:, 5] == 1  # remark 1 at the core maker, else 0
    heard = [Heard(text, (Meaning("look", "core-age-sign", answer, 0.9, text),))
             for text, answer in (("new cores", "fresh"), ("old cores", "stood-days"))]  # fmt: skip
    told = Made(
        data.faults, data.factors, data.levels, data.cells, data.scrap, data.lines, data.words,
        tuple(SimpleNamespace(text=one.phrase, heard=one) for one in heard),
    )  # fmt: skip
    at, elsewhere = groups_in(told, book)
    assert [(p.hearings[0].answer, p.count) for p in at.remarks] == [("stood-days", at.bad)]
    assert [(p.hearings[0].answer, p.count) for p in elsewhere.remarks] == [
        ("fresh", elsewhere.bad)
    ]


def test_wet_days_are_those_of_rain_and_the_days_after(made: Moulds) -> None:
    data = planted(made, "plate", 1)
    days = np.unique(made.day)[:3]
    readings = SimpleNamespace(
        quantities=("own: rain mm", "sand-moisture"),
        quantity=np.array([0, 0, 1]),
        value=np.array([0.0, 6.0, 4.0]),
        day=days,
    )
    told = Made(data.faults, data.factors, data.levels, data.cells, data.scrap, data.lines,
                data.words, (), readings)  # fmt: skip
    factor = Sheet(told).factor(data.cells, "weather")
    assert factor is not None
    wet = {*made.day[factor.codes == 1].tolist()}
    assert wet == {int(days[1]), int(days[1]) + 1}


def test_any_cell_of_a_table_is_a_group(book: Book, made: Moulds) -> None:
    data = planted(made, "core maker", 1)
    cell = group_at(data, book, "core-broken", (("moulder", "1"), ("plate", "1 2")))
    at = (made.of("moulder") == 0) & (made.of("plate") == 1) & (made.of("pattern") == 0)
    assert cell.name == "broken core at moulder 1 and plate 1 2"
    assert cell.poured == at.sum()
    assert cell.bad == data.cells.bad[at, 0].sum()


def test_a_cell_knows_that_its_own_level_stands_apart(book: Book, made: Moulds) -> None:
    """A reject opened at a core maker has to say that it is this one's cores only."""
    data = planted(made, "core maker", 1)
    level = data.levels["core maker"][1]
    cell = group_at(data, book, "core-broken", (("core maker", level),))
    (own,) = [one for one in cell.sortings if one.factor == "core maker"]
    assert len(own.levels) > 1
    assert next(one for one in own.levels if one.name == level).bad > 0
