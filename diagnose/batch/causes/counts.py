"""Bayes factors of counts: how many times better an answer fits them than "it makes no difference".

All take the total of bad castings as given, as the exact tests do, and ask where they fell. With
one rate everywhere, the share of the bad ones that a level gets is the share of castings that it
made, ``fair``. Where the level has a rate of its own, above the others, its share may be anything
from ``fair`` up, all shares being as likely: the count at the level is then beta-binomial, cut off
below ``fair``. Given the total, this is the comparison of one rate at the level and another
elsewhere with one rate overall, exact while scrap is rare; where it is not, the factor is nearer
to one than it might be.

Castings of one heat are not independent: all counts are divided by the spread between heats over
that of chance alone (effective counts), before anything is worked out.

References
----------
H. Jeffreys, "Theory of Probability" (1961), chapter V (from memory): such factors as evidence.

"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, inf, log, log1p

from diagnose.batch.causes.group import Course, Level, Sorting

CAP = 100.0
"""No count speaks more strongly than this, for or against, however large the sheet is."""
NEARLY_ALL = 0.85
"""Share of a fault from which one level is said to have nearly all of it."""
STEPS_OF_TIME = 60
"""A course of time is put together into at most so many pieces."""


def capped(factor: float) -> float:
    """Return a Bayes factor held between 1/100 and 100."""
    return min(max(factor, 1.0 / CAP), CAP)


def log_share_between(bad: float, rest: float, low: float, high: float) -> float:
    """Return log P(bad here, rest elsewhere | the share here lies anywhere from low to high).

    The binomial coefficient is left out, as everywhere in this module.
    """
    from scipy.special import betainc, betaincc, betaln

    a, b = bad + 1.0, rest + 1.0
    if low > a / (a + b):  # the upper tail, without losing it in a difference of ones
        inside = float(betaincc(a, b, low) - betaincc(a, b, high))
    else:
        inside = float(betainc(a, b, high) - betainc(a, b, low))
    if inside <= 0.0 or high <= low:
        return -inf
    return float(betaln(a, b)) + log(inside) - log(high - low)


def log_share_is(bad: float, rest: float, share: float) -> float:
    """Return log P(bad here, rest elsewhere | the share here is ``share``)."""
    here = bad * log(share) if bad else 0.0
    return here + (rest * log1p(-share) if rest else 0.0)


def apart(level: Level, levels: Sequence[Level], spread: float = 1.0) -> float:
    """Return the Bayes factor for one level having a rate of its own, above the others.

    >>> several = [Level("1", 2, 100), Level("2", 10, 100), Level("3", 1, 100)]
    >>> [round(apart(level, several), 3) for level in several]
    [0.113, 74.608, 0.088]
    """
    bad, total, size, whole = _effective(level, levels, spread)
    fair = size / whole if whole else 0.0
    if not 0.0 < fair < 1.0 or total <= 0.0:
        return 1.0
    own = log_share_between(bad, total - bad, fair, 1.0)
    return exp(min(own - log_share_is(bad, total - bad, fair), 700.0))


def any_apart(sorting: Sorting) -> float:
    """Return the Bayes factor for some one level standing apart, every level as likely as another.

    That it is the mean over the levels is what pays for having looked at all of them.
    """
    with_size = [level for level in sorting.levels if level.size > 0.0]
    if len(with_size) < 2:
        return 1.0
    return sum(apart(level, with_size, sorting.spread) for level in with_size) / len(with_size)


def only_one(sorting: Sorting) -> float:
    """Return the Bayes factor for one level having nearly all of the fault against its having less.

    A level that made nearly all castings anyway is left out: that says nothing.
    """
    factors = []
    for level in sorting.levels:
        bad, total, size, whole = _effective(level, sorting.levels, sorting.spread)
        if whole and 0.0 < size / whole < NEARLY_ALL and total > 0.0:
            most = log_share_between(bad, total - bad, NEARLY_ALL, 1.0)
            less = log_share_between(bad, total - bad, 0.0, NEARLY_ALL)
            factors.append(exp(min(most - less, 700.0)))
    return sum(factors) / len(factors) if factors else 1.0


def _effective(
    level: Level, levels: Sequence[Level], spread: float
) -> tuple[float, float, float, float]:
    """Return bad at the level and in all, size of the level and of all, with the spread taken out.

    Sizes only matter by their ratio.
    """
    by = max(spread, 1.0)
    total, whole = level.among(tuple(levels))
    return level.bad / by, total / by, level.size, whole


def step_up(course: Course) -> float:
    """Return the Bayes factor for a rate that rose at one time, every time being as likely."""
    bad, size = _pieces(course)
    if len(size) < 4:
        return 1.0
    factors = []
    for cut in range(1, len(size)):
        parts = [Level("before", sum(bad[:cut]), sum(size[:cut])),
                 Level("after", sum(bad[cut:]), sum(size[cut:]))]  # fmt: skip
        factors.append(apart(parts[1], parts, course.spread))
    return sum(factors) / len(factors)


GROWTH = (1.5, 2.0, 3.0, 5.0, 8.0, 13.0, 20.0)
"""How many times the rate may have grown over the whole time, all as likely."""


def creeping_up(course: Course) -> float:
    """Return the Bayes factor for a rate that grew evenly in its logarithm over the whole time."""
    from numpy import arange, array, log, logaddexp

    bad, size = _pieces(course)
    if len(size) < 4:
        return 1.0
    counts, sizes = array(bad) / max(course.spread, 1.0), array(size)
    fair = log(sizes / sizes.sum())
    logs = []
    for growth in GROWTH:
        grown = log(sizes) + log(growth) * arange(len(size)) / (len(size) - 1)
        logs.append(float(counts @ (grown - logaddexp.reduce(grown) - fair)))
    return sum(exp(min(one, 700.0)) for one in logs) / len(logs)


VARIES = (0.5, 1.0, 2.0)
"""How far the rate may vary between pieces of time that come and go: standard deviation over mean,
all as likely."""


def up_and_down(course: Course) -> float:
    """Return the Bayes factor for a rate that differs from one piece of time to the next.

    The pieces then share the bad ones by a Dirichlet-multinomial.
    """
    from numpy import array, log
    from scipy.special import gammaln

    bad, size = _pieces(course)
    if len(size) < 4 or sum(bad) <= 0.0:
        return 1.0
    counts, fair = array(bad) / max(course.spread, 1.0), array(size) / sum(size)
    total = float(counts.sum())
    even = float((counts * log(fair)).sum())
    logs = []
    for varies in VARIES:
        whole = len(size) / varies**2
        drawn = gammaln(counts + whole * fair) - gammaln(whole * fair)
        logs.append(float(gammaln(whole) - gammaln(whole + total) + drawn.sum()) - even)
    return sum(exp(min(one, 700.0)) for one in logs) / len(logs)


def _pieces(course: Course) -> tuple[list[float], list[float]]:
    """Return the course put together into pieces of time, those in which nothing was made left out.

    >>> _pieces(Course((1, 0, 2), (10, 0, 20)))
    ([1, 2], [10, 20])
    """
    filled = [pair for pair in zip(course.bad, course.size, strict=True) if pair[1] > 0.0]
    by = max(1, -(-len(filled) // STEPS_OF_TIME))
    starts = range(0, len(filled), by)
    return (
        [sum(bad for bad, _ in filled[k : k + by]) for k in starts],
        [sum(size for _, size in filled[k : k + by]) for k in starts],
    )


def mostly(bad: float, poured: float, spread: float = 1.0) -> float:
    """Return the Bayes factor for more than half of the castings being bad against fewer."""
    by = max(spread, 1.0)
    here, rest = bad / by, max(poured - bad, 0.0) / by
    more, fewer = (log_share_between(here, rest, *ends) for ends in ((0.5, 1.0), (0.0, 0.5)))
    return exp(max(min(more - fewer, 700.0), -700.0))


def moves(log_odds: float, error: float, usual: float) -> tuple[float, float]:
    """Return the Bayes factors for a fault that rises, and one that falls, with a reading.

    ``log_odds`` for one usual step of the reading and its standard ``error``, against no movement.
    Where it moves, the true one is half-normal with the scale ``usual``.
    """
    from scipy.special import log_ndtr

    whole = (error * error + usual * usual) ** 0.5
    factor = log(error / whole) + 0.5 * ((log_odds / error) ** 2 - (log_odds / whole) ** 2)
    centre = log_odds * usual / (error * whole)
    rises, falls = (
        exp(min(log(2.0) + factor + float(log_ndtr(side * centre)), 700.0)) for side in (1.0, -1.0)
    )
    return rises, falls


def standardised(cells: Sequence[tuple[str, str, float, float]]) -> tuple[Level, ...]:
    """Return the levels of a factor, each held against what was made of its patterns elsewhere.

    ``cells``: level, pattern (or whatever else is to be allowed for), bad, poured. Of each pattern
    the level has its share of the castings, and by that a share of the pattern's bad ones is to be
    expected; a pattern that is made at one level only tells nothing. Sizes are scaled so that they
    are in the proportion of what is to be expected.

    >>> standardised([("nights", "thin", 8, 40), ("days", "thin", 2, 10), ("days", "thick", 0, 50)])
    (Level(name='nights', bad=8.0, size=40.0, rest=(2.0, 10.0)), Level(name='days', bad=2.0, \
size=10.0, rest=(8.0, 40.0)))
    """
    of_pattern: dict[str, tuple[float, float]] = {}
    for _, pattern, bad, poured in cells:
        so_far = of_pattern.get(pattern, (0.0, 0.0))
        of_pattern[pattern] = (so_far[0] + bad, so_far[1] + poured)
    found: dict[str, list[float]] = {}
    for level, pattern, bad, poured in cells:
        all_bad, whole = of_pattern[pattern]
        sums = found.setdefault(level, [0.0] * 4)
        if 0.0 < poured < whole:
            for k, part in enumerate((bad, all_bad, all_bad * poured / whole, whole)):
                sums[k] += part
    return tuple(
        Level(name, bad, _part(whole, due, total), (total - bad, _part(whole, total - due, total)))
        for name, (bad, total, due, whole) in found.items()
    )


def _part(whole: float, due: float, total: float) -> float:
    """Return the part of the castings that goes with the bad ones that are due; half of none."""
    return whole * (due / total if total else 0.5)
