"""Where a fault concentrates: every factor, and every pair of factors, with enough castings.

One family of tests for the whole sheet, with Benjamini and Hochberg's q. Half of the error is
for single factors and half for pairs, as there are fifty times as many pairs. What a stronger
finding of the same fault leaves nothing of is told as explained by it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from diagnose.batch.result import Concentration
from diagnose.batch.statistics.cells import Bools, Cells, Factor, Floats, Ints, compact
from diagnose.batch.statistics.heats import between_heats
from diagnose.batch.statistics.pairs import pair
from diagnose.batch.statistics.stratified import Tables, columns, tables
from diagnose.batch.statistics.tails import false_discovery

RATE = 0.05
ENOUGH = 20.0
"""Castings a level must hold, and the rest too, to be looked at."""
EXPECTED = 1.0
"""Bad castings that a level must expect to be looked at: with fewer nothing could be shown."""
MOST_LEVELS = 40
"""Levels above which a factor is no factor but a name for each row."""
GONE = 0.01
"""Chance below which a finding stands beside a stronger one, and is not explained by it."""


@dataclass(frozen=True, slots=True)
class Test:
    """One test of the family: ``flags`` tells the rows of the level, as the codes of a factor."""

    factor: str
    level: str
    fault: int
    p: float
    flags: Ints
    stratified: bool
    pair: bool = False


def usable(factor: Factor) -> bool:
    """Return whether a column can be tested: it has two levels at least, and not too many."""
    return 2 <= len(factor.levels) <= MOST_LEVELS


def flagged(factor: Factor, column: int) -> Ints:
    """Return 1 for the rows on the named side of a test, 0 on the other, -1 unknown."""
    matrix = columns(factor)[0]
    side = matrix[np.maximum(factor.codes, 0), column].astype(np.int64)
    found: Ints = np.where(factor.codes >= 0, side, -1)
    return found


def _enough(sums: Tables) -> Bools:
    """Return which tests and faults can be looked at, from castings alone and not from findings."""
    castings = (sums.poured >= ENOUGH) & (sums.elsewhere >= ENOUGH)
    rest = sums.found + sums.bad_elsewhere - sums.mean
    return castings[:, None] & (sums.mean >= EXPECTED) & (rest >= EXPECTED) & (sums.variance > 0.05)


def factor_tables(cells: Cells, factor: Factor, between: Floats | None = None) -> Tables:
    """Return the sums of every test of one factor, for all faults."""
    spread = between_heats(cells) if between is None else between
    return tables(cells.bad, cells.poured, cells.stratum, cells.heat, factor, spread)


def _singles(cells: Cells, between: Floats) -> Iterator[Test]:
    for factor in filter(usable, cells.factors):
        sums = factor_tables(cells, factor, between)
        p, names = sums.p, columns(factor)[1]
        for column, fault in np.argwhere(_enough(sums)):
            more = sums.found[column, fault] >= sums.mean[column, fault]
            flags = flagged(factor, int(column))
            if not more:
                flags = np.where(flags >= 0, 1 - flags, -1)
            level, chance = names[column][0 if more else 1], float(p[column, fault])
            yield Test(factor.name, level, int(fault), chance, flags, factor.stratified)


def _meetings(
    cells: Cells, between: Floats
) -> Iterator[tuple[Factor, Factor, int, int, int, float]]:
    """Return of every cell of two factors and every fault: the levels, the fault, and p."""
    for one, two in combinations(filter(usable, cells.factors), 2):
        found = pair(cells, one, two, between)
        if found is None:
            continue
        for cell, fault in np.argwhere(found.mean >= EXPECTED):
            # Fewer bad castings than the parts say point at the other cells, which are there too.
            more = found.found[cell, fault] > found.mean[cell, fault]
            p = float(found.p[cell, fault]) if more else 1.0
            yield one, two, int(found.first[cell]), int(found.second[cell]), int(fault), p


def _pairs(cells: Cells, between: Floats, below: float) -> tuple[list[Test], int]:
    """Return the pairs with p below a figure, and how many there are in all."""
    kept, count = [], 0
    for one, two, a, b, fault, p in _meetings(cells, between):
        count += 1
        if p <= below:
            both = (one.codes == a) & (two.codes == b)
            known = (one.codes >= 0) & (two.codes >= 0)
            flags = np.where(known, both.astype(np.int64), -1)
            split = one.stratified and two.stratified
            level = f"{one.levels[a]} and {two.levels[b]}"
            test = Test(f"{one.name} and {two.name}", level, fault, p, flags, split, True)
            # Beyond its two parts where these leave hardly any play; it must stand out as well.
            alone = float(_alone(cells, test, between).p[0, 0])
            if alone <= below:
                kept.append(replace(test, p=max(p, alone)))
    return kept, count


def _alone(cells: Cells, test: Test, between: Floats, finer: Ints | None = None) -> Tables:
    """Return the sums of one test and one fault, within finer strata where they are given."""
    stratum = cells.stratum if test.stratified else np.zeros_like(cells.stratum)
    if finer is not None:
        stratum = compact(stratum) * (finer.max() + 1) + finer
    factor = Factor(test.factor, ("elsewhere", test.level), test.flags)
    one = slice(test.fault, test.fault + 1)
    return tables(cells.bad[:, one], cells.poured, stratum, cells.heat, factor, between[one])


def _family(singles: Sequence[Test], pairs: Sequence[Test], meetings: int) -> Floats:
    """Return q of the tests, in order; of ``meetings`` pairs those not listed have p of 1."""
    alone, together = len(singles), meetings
    p = [x.p for x in (*singles, *pairs)] + [1.0] * (meetings - len(pairs))
    if not alone or not together:
        return false_discovery(p)
    total = alone + together
    weights = [total / (2 * alone)] * alone + [total / (2 * together)] * together
    return false_discovery(p, weights)


def _explained(
    cells: Cells, found: Sequence[Test], strength: Sequence[float], between: Floats
) -> dict[int, str]:
    """Return which findings of one fault a stronger one leaves nothing of: place -> the stronger.

    Strongest first; each next is tested again within the levels of those that stand.
    """
    finer, standing = np.zeros_like(cells.stratum), ""
    told: dict[int, str] = {}
    for place in sorted(range(len(found)), key=lambda i: (strength[i], found[i].pair)):
        test = found[place]
        if standing:
            sums = _alone(cells, test, between, finer)
            more = bool(sums.found[0, 0] > sums.mean[0, 0])
            if not more or float(sums.p[0, 0]) > GONE:
                told[place] = standing
                continue
        finer = compact(finer * 3 + test.flags + 1)
        standing = standing or f"{test.factor} {test.level}"
    return told


def _told(cells: Cells, test: Test, q: float, between: Floats, explained: str) -> Concentration:
    sums = _alone(cells, test, between)
    ratio, low, high = sums.interval(0, 0)
    bad, poured = float(sums.found[0, 0]), float(sums.poured[0])
    rest, elsewhere = float(sums.bad_elsewhere[0, 0]), float(sums.elsewhere[0])
    rates = bad / max(poured, 1e-12), rest / max(elsewhere, 1e-12)
    name = cells.faults[test.fault]
    numbers = (*rates, ratio, low, high, test.p, q, bad, poured)
    return Concentration(test.factor, test.level, name, *numbers, explained)


def concentrations(
    cells: Cells, *, rate: float = RATE, pairs: bool = True
) -> tuple[Concentration, ...]:
    """Return where faults concentrate, strongest first; the explained ones behind the others.

    On a sheet of pure noise the chance of any finding is ``rate``; on others about ``rate`` of
    the findings are false.
    """
    between = between_heats(cells)
    singles = list(_singles(cells, between))
    together, count = _pairs(cells, between, rate) if pairs else ([], 0)
    tests = [*singles, *together]
    q = _family(singles, together, count)
    kept = [i for i in range(len(tests)) if q[i] <= rate]
    found: list[tuple[bool, float, Concentration]] = []
    for fault in range(len(cells.faults)):
        places = [i for i in kept if tests[i].fault == fault]
        listed = [tests[i] for i in places]
        strength = [float(_alone(cells, x, between).p[0, 0]) if x.pair else x.p for x in listed]
        told = _explained(cells, listed, strength, between)
        for place, i in enumerate(places):
            made = _told(cells, tests[i], float(q[i]), between, told.get(place, ""))
            found.append((bool(made.explained_by), strength[place], made))
    return tuple(x[2] for x in sorted(found, key=lambda x: x[:2]))
