"""Where a fault concentrates: planted truths, a confounder, and quiet on noise."""

from __future__ import annotations

import time

import numpy as np
import pytest

from diagnose.basics.errors import Fault
from diagnose.batch.statistics.cells import Cells, Factor, banded, coded, factor, since_stop
from diagnose.batch.statistics.concentration import concentrations, factor_tables
from diagnose.batch.statistics.heats import between_heats, spread
from diagnose.batch.statistics.pairs import pair
from tests.bench.batch_sheets import Planted, sheet


def named(cells: Cells, name: str) -> Factor:
    return next(x for x in cells.factors if x.name == name)


@pytest.mark.parametrize(
    ("truth", "factor_name", "level"),
    [
        (Planted("plate", 2.5), "plate", "2"),
        (Planted("core maker", 2.5), "core maker", "1"),
        (Planted("heat", 2.5), "furnace", "1"),
    ],
)
def test_planted_truth_is_found_alone(truth: Planted, factor_name: str, level: str) -> None:
    made = sheet(3, truth, between=0.3)
    found = [x for x in concentrations(made.cells) if not x.explained_by]
    assert [(x.factor, x.level, x.defect) for x in found] == [(factor_name, level, "fault 0")]
    (one,) = found
    assert one.low <= truth.ratio <= one.high
    assert one.p <= one.q <= 0.05
    assert one.rate == pytest.approx(one.bad / one.poured)
    assert one.rate > one.rate_elsewhere


def test_end_of_the_ladle_is_a_cut_and_not_a_level() -> None:
    found = concentrations(sheet(4, Planted("end of ladle", 2.5)).cells)
    first = found[0]
    assert first.factor == "ladle order"
    assert first.level in ("3 and later", "4 and later", "5 and later")
    # The neighbouring cuts say the same thing again, and are told so.
    assert all(x.explained_by for x in found[1:] if x.defect == "fault 0")


def test_night_shift_that_pours_the_thin_plate_is_not_blamed() -> None:
    made = sheet(5, Planted("thin plate at night", 3.0))
    crude = made.cells.factors[[x.name for x in made.cells.factors].index("shift")]
    alone = factor_tables(made.cells, crude)
    assert alone.p[0, 0] < 0.01, "the sheet must tempt"
    found = [x for x in concentrations(made.cells) if x.defect == "fault 0"]
    assert [(x.factor, x.level) for x in found if not x.explained_by] == [("plate", "2")]
    assert all(x.explained_by == "plate 2" for x in found if x.factor == "shift")


def test_pattern_is_what_is_compared_within() -> None:
    made = sheet(6, Planted("thin pattern at night", 12.0))
    shift = named(made.cells, "shift")
    loose = Factor(shift.name, shift.levels, shift.codes, stratified=False)
    assert factor_tables(made.cells, loose).p[0, 0] < 1e-3, "the sheet must tempt"
    assert factor_tables(made.cells, shift).p[0, 0] > 0.01
    assert not [x for x in concentrations(made.cells) if x.defect == "fault 0"]


def test_pair_is_found_where_the_two_meet_and_not_where_one_is_bad() -> None:
    both = concentrations(sheet(7, Planted("plate and maker", 5.0)).cells)
    assert ("plate and core maker", "2 and 1") in [(x.factor, x.level) for x in both]
    one = concentrations(sheet(7, Planted("plate", 3.0)).cells)
    assert not [x for x in one if " and " in x.factor]


def test_p_of_a_pair_is_level_with_a_bad_plate_and_spread_between_heats() -> None:
    p = []
    for seed in range(12):
        made = sheet(100 + seed, Planted("plate", 2.0), between=0.4)
        cells = made.cells
        plate, maker = named(cells, "plate"), named(cells, "core maker")
        found = pair(cells, plate, maker, between_heats(cells))
        assert found is not None
        p.append(found.p[found.mean >= 1])
    every = np.concatenate(p)
    assert (every <= 0.05).mean() == pytest.approx(0.05, abs=0.025)


@pytest.mark.parametrize("between", [0.0, 0.5])
def test_p_is_level_for_whole_heats(between: float) -> None:
    # Furnaces differ by heat only: heats that differ by themselves must not make a furnace.
    p = []
    for seed in range(25):
        cells = sheet(200 + seed, Planted(), between).cells
        p.append(factor_tables(cells, named(cells, "furnace")).p[0])
    assert (np.concatenate(p) <= 0.05).mean() <= 0.10


def test_heats_left_out_of_account_would_cry_wolf() -> None:
    p = []
    for seed in range(25):
        cells = sheet(200 + seed, Planted(), 0.8).cells
        p.append(factor_tables(cells, named(cells, "furnace"), np.zeros(8)).p[0])
    assert (np.concatenate(p) <= 0.05).mean() > 0.10


def test_permutation_of_whole_heats_agrees() -> None:
    # Furnaces are dealt to heats anew, 600 times; the score is the same, so p is exact for it.
    cells = sheet(31, Planted("heat", 1.35), between=0.4).cells
    furnace = named(cells, "furnace")
    by_heat = np.zeros(cells.heat.max() + 1, dtype=np.int64)
    by_heat[cells.heat] = furnace.codes
    sums = factor_tables(cells, furnace)
    seen = abs(sums.found[0] - sums.mean[0])
    draw, none = np.random.default_rng(1), np.zeros(8)
    more = np.zeros(8)
    for _ in range(300):
        dealt = draw.permutation(by_heat)[cells.heat]
        one = factor_tables(cells, Factor("furnace", furnace.levels, dealt), none)
        more += abs(one.found[0] - one.mean[0]) >= seen - 1e-9
    permuted = (more + 1) / 301
    assert np.abs(np.sqrt(permuted) - np.sqrt(sums.p[0])).max() < 0.2


def test_noise_is_quiet() -> None:
    quiet = [concentrations(sheet(900 + i, Planted(), 0.4 * (i % 2)).cells) for i in range(12)]
    # Stated: one sheet of twenty.
    assert sum(bool(x) for x in quiet) <= 3


def test_variance_between_heats_is_found() -> None:
    for between in (0.0, 0.5):
        found = [between_heats(sheet(400 + i, Planted(), between).cells) for i in range(6)]
        assert np.mean(found) == pytest.approx(between, abs=0.13)
    assert (spread(sheet(400, Planted(), 0.0).cells) >= 1).all()


def test_unknown_levels_and_fractions() -> None:
    made = sheet(8, Planted("plate", 2.5)).cells
    half = np.where(np.arange(len(made.poured)) % 2 == 0, -1, named(made, "plate").codes)
    plates = Factor("plate", named(made, "plate").levels, half)
    some = Cells(made.faults, made.bad * 0.5, made.poured, made.stratum, made.heat, (plates,))
    sums = factor_tables(some, plates)
    assert sums.poured.sum() == pytest.approx(made.poured[half >= 0].sum())
    assert np.isfinite(sums.p).all()
    assert all(np.isfinite(x.ratio) for x in concentrations(some))


def test_columns_become_factors() -> None:
    assert coded([3, 1, None, 2]) == (("1", "2", "3"), pytest.approx([2, 0, -1, 1]))
    made = factor("shift", ["night", "", "day"])
    assert made.levels == ("day", "night")
    assert made.codes.tolist() == [1, -1, 0]
    hours = banded("hour", np.array([6.0, 7, 8, 9, 10, 11, np.nan, 12, 13, 14]), bands=3)
    assert hours.ordered
    assert hours.codes[6] == -1
    assert np.bincount(hours.codes[hours.codes >= 0]).tolist() == [3, 3, 3]
    stops = since_stop(np.array([0.0, 2, 4, 30, 32, 34, 36]), gap=10, longest=3)
    assert stops.tolist() == [1, 2, 3, 1, 2, 3, 3]


def test_arrays_that_do_not_belong_together_are_refused() -> None:
    with pytest.raises(Fault):
        Cells(("a",), np.ones((3, 2)), np.ones(3), np.zeros(3, int), np.zeros(3, int))
    with pytest.raises(Fault):
        Cells(("a",), np.ones((3, 1)), np.ones(3), np.zeros(2, int), np.zeros(3, int))


def test_factor_without_anything_to_compare() -> None:
    codes = np.zeros(20, dtype=np.int64)
    one = Factor("plate", ("a",), codes)
    cells = Cells(("f",), np.ones((20, 1)), np.full(20, 9.0), codes, np.arange(20), (one,))
    assert concentrations(cells) == ()
    # A plate that is the pattern: nothing differs within a pattern, so nothing is said.
    plates = Factor("plate", ("a", "b"), np.arange(20) % 2)
    same = Cells(("f",), np.ones((20, 1)), np.full(20, 9.0), np.arange(20) % 2, codes, (plates,))
    assert factor_tables(same, plates).p[0, 0] == 1.0


def test_a_quarters_sheet_takes_seconds() -> None:
    draw = np.random.default_rng(18)
    rows, faults = 4000, 12
    factors = tuple(
        Factor(f"factor {i}", tuple("abcdefgh"), draw.integers(0, 8, rows)) for i in range(12)
    )
    poured = draw.integers(5, 40, rows).astype(float)
    bad = draw.binomial(poured[:, None].astype(int), 0.01, (rows, faults)).astype(float)
    pattern, heat = draw.integers(0, 25, rows), draw.integers(0, 240, rows)
    cells = Cells(tuple(str(i) for i in range(faults)), bad, poured, pattern, heat, factors)
    started = time.process_time()
    concentrations(cells)
    assert time.process_time() - started < 10
