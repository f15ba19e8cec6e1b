"""Bayes factors of counts, held against numerical integration and against what every one must hold.

If counts are drawn with no difference, a Bayes factor for a difference has the mean 1: only then
are both sides of it probabilities. Summed over all counts there are, that is an exact check.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import product
from math import comb, exp, factorial, log, prod

import numpy as np
import pytest
from scipy.integrate import dblquad, quad
from scipy.stats import binom, norm

from diagnose.batch.causes.counts import (
    CAP,
    any_apart,
    apart,
    capped,
    creeping_up,
    mostly,
    moves,
    only_one,
    standardised,
    step_up,
    up_and_down,
)
from diagnose.batch.causes.group import Course, Level, Sorting

SIZES = (30.0, 50.0, 20.0, 100.0)


def shared_out(total: int, pieces: int) -> Iterator[tuple[int, ...]]:
    """Yield every way to share ``total`` out among ``pieces``."""
    for some in product(range(total + 1), repeat=pieces - 1):
        if sum(some) <= total:
            yield (*some, total - sum(some))


def chance(counts: tuple[int, ...], sizes: tuple[float, ...]) -> float:
    """Return the multinomial chance of counts that go by size alone."""
    ways = factorial(sum(counts)) / prod(factorial(n) for n in counts)
    return ways * prod((s / sum(sizes)) ** n for n, s in zip(counts, sizes, strict=True))


def test_one_level_apart_is_the_integral_over_its_share() -> None:
    bad, total, fair = 9.0, 23.0, 0.2
    levels = [Level("here", bad, 20.0), Level("else", total - bad, 80.0)]
    above = quad(lambda q: q**bad * (1 - q) ** (total - bad), fair, 1.0)[0] / (1.0 - fair)
    assert apart(levels[0], levels) == pytest.approx(
        above / (fair**bad * (1 - fair) ** (total - bad)), rel=1e-8
    )


@pytest.mark.parametrize("at_the_level", [4, 10, 20])
def test_where_scrap_is_rare_it_is_one_rate_against_two(at_the_level: int) -> None:
    """Rates themselves integrated over, with castings good and bad: binomial, not given a total."""
    here, rest, total = 2_000, 6_000, 40
    away = total - at_the_level

    def two(q: float, both: float) -> float:
        at = both * q / here
        elsewhere = both * (1.0 - q) / rest
        return float(binom.pmf(at_the_level, here, at) * binom.pmf(away, rest, elsewhere))

    fair = here / (here + rest)
    apart_from = dblquad(two, 10.0, 100.0, fair, 1.0, epsabs=0.0, epsrel=1e-6)[0] / (1.0 - fair)
    same = quad(lambda both: two(fair, both), 10.0, 100.0, epsabs=0.0, epsrel=1e-8)[0]
    levels = [Level("here", at_the_level, here), Level("else", away, rest)]
    assert apart(levels[0], levels) == pytest.approx(apart_from / same, rel=0.03)


@pytest.mark.parametrize(
    "factor",
    [
        lambda n: any_apart(Sorting("plate", tuple(map(Level, "abcd", n, SIZES)))),
        lambda n: apart(Level("a", n[0], SIZES[0]), [*map(Level, "abcd", n, SIZES)]),
        lambda n: step_up(Course(n, SIZES)),
        lambda n: creeping_up(Course(n, SIZES)),
        lambda n: up_and_down(Course(n, SIZES)),
    ],
    ids=["any apart", "one apart", "step", "creeping", "up and down"],
)
def test_without_a_difference_its_mean_is_one(
    factor: Callable[[tuple[int, ...]], float],
) -> None:
    total = sum(chance(counts, SIZES) * factor(counts) for counts in shared_out(7, 4))
    assert total == pytest.approx(1.0, rel=1e-8)


def test_the_mean_of_most_being_bad_is_one_where_fewer_are() -> None:
    def fewer(bad: int) -> float:
        density = quad(lambda p: p**bad * (1 - p) ** (9 - bad), 0.0, 0.5)[0] / 0.5
        return comb(9, bad) * density

    assert sum(fewer(bad) * mostly(bad, 9) for bad in range(10)) == pytest.approx(1.0, rel=1e-6)


def test_the_mean_of_a_movement_is_one_where_nothing_moves() -> None:
    for side in (0, 1):
        mean = quad(lambda b: norm.pdf(b, 0, 0.3) * moves(b, 0.3, 0.7)[side], -8, 8, limit=200)[0]  # noqa: B023
        assert mean == pytest.approx(1.0, rel=1e-6)
    rises, falls = moves(log(2.0), 0.2, log(2.0))
    assert rises > 10.0 > 1.0 > falls


def test_an_even_fault_speaks_against_one_level_and_a_large_sheet_is_capped() -> None:
    even = Sorting("plate", tuple(Level(str(k), 25, 100) for k in range(4)))
    assert 1.0 / CAP < any_apart(even) < 0.2
    huge = Sorting("plate", (Level("1", 900, 100), Level("2", 100, 900)))
    assert any_apart(huge) > CAP
    assert capped(any_apart(huge)) == CAP


def test_spread_between_heats_makes_counts_say_less() -> None:
    levels = (Level("1", 60, 100), Level("2", 20, 100), Level("3", 20, 100))
    sure, spread = (any_apart(Sorting("plate", levels, by)) for by in (1.0, 4.0))
    assert sure > spread > 1.0


def test_only_one_level_wants_nearly_all() -> None:
    all_there = Sorting("pattern", (Level("A", 30, 100), Level("B", 0, 100)))
    mostly_there = Sorting("pattern", (Level("A", 21, 100), Level("B", 9, 100)))
    assert only_one(all_there) > 10.0
    assert only_one(mostly_there) < 0.5


def test_the_night_shift_that_pours_the_thin_plate_is_not_blamed() -> None:
    cells = [("nights", "thin", 40, 400), ("nights", "thick", 1, 100),
             ("days", "thin", 10, 100), ("days", "thick", 4, 400)]  # fmt: skip
    raw = [Level("nights", 41, 500), Level("days", 14, 500)]
    assert apart(raw[0], raw) > 50.0
    fair = standardised(cells)
    assert apart(fair[0], fair) < 1.0


def test_a_step_a_drift_and_waves_are_told_from_one_another() -> None:
    draw = np.random.default_rng(4)
    rates = {
        "step": np.repeat([0.02, 0.08], 15),
        "drift": 0.02 * np.exp(np.linspace(0.0, log(8.0), 30)),
        "waves": np.where(np.arange(30) % 5 == 0, 0.2, 0.01),
    }
    best = {}
    for name, rate in rates.items():
        course = Course(tuple(draw.binomial(150, rate).tolist()), (150.0,) * 30)
        told = {"step": step_up(course), "drift": creeping_up(course), "waves": up_and_down(course)}
        best[name] = max(told, key=told.__getitem__)
        assert told[best[name]] > 10.0
    assert best == {name: name for name in rates}


def test_of_sheets_without_a_difference_few_speak_for_one() -> None:
    draw = np.random.default_rng(8)
    sizes = np.array([100.0, 150.0, 80.0, 120.0])
    factors = []
    for _ in range(400):
        counts = draw.multinomial(40, sizes / sizes.sum()).tolist()
        levels = tuple(map(Level, "abcd", counts, sizes.tolist()))
        factors.append(any_apart(Sorting("plate", levels)))
    assert np.mean(np.array(factors) >= 10.0) <= 0.03
    assert exp(np.mean(np.log(factors))) < 0.5
