"""Made-up networks of any size, in the shape of a rule base, for benchmarks and properties."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from diagnose.engine.findings import (
    Weights,
    check_outcomes,
    check_weights,
    reading_outcomes,
    reading_weights,
)
from diagnose.engine.model import Model
from diagnose.engine.network import Figures, Finding, Link, Network
from diagnose.engine.posterior import Evidence

AREA = 25
LAYERS = np.repeat([0, 1, 2], [18, 4, 3])
REACH = 0.1
"""Share of links that lead into the next area."""
NEEDY = 0.05
"""Share of links that need a second condition."""
FALSE_ALARM, STRAY, ODD_SAMPLE = 0.05, 0.05, 0.15
SEED = 359
"""Picked for its size: 3,055 accounts, 439 patterns, cliques of up to 8 variables."""


@dataclass(frozen=True, slots=True)
class Size:
    """How much of everything; the defaults are those of a full rule base.

    Conditions come in areas of 25: 18 that start accounts, 4 mechanisms that they bring about,
    and 3 that those bring about in turn. ``measured``: share of the mechanisms that some check
    or reading can see. The first ``checks`` findings are checks, the rest readings.
    """

    areas: int = 10
    links: int = 357
    defects: int = 60
    defect_links: int = 350
    looks: int = 150
    checks: int = 100
    readings: int = 50
    measured: float = 0.4

    @property
    def conditions(self) -> int:
        """All conditions together."""
        return AREA * self.areas

    def times(self, k: int) -> Size:
        """Return ``k`` times as much of everything but looks and defects."""
        return replace(
            self,
            areas=k * self.areas,
            links=k * self.links,
            defect_links=k * self.defect_links,
            checks=k * self.checks,
            readings=k * self.readings,
        )


HUNDRED = Size(areas=4, links=140, defect_links=140, looks=40, checks=40, readings=20)
"""A hundred conditions: for checks that need something larger than a handful."""


def _links(size: Size, draw: np.random.Generator) -> list[Link]:
    """Links one layer down, mostly within an area; some need a second condition as well."""
    chosen: set[tuple[int, int]] = set()
    while len(chosen) < size.links:
        area = int(draw.integers(size.areas))
        parent = int(draw.choice(22, p=np.repeat([0.042, 0.061], [18, 4])))
        below = np.flatnonzero(LAYERS[parent] == LAYERS - 1)
        near = below[[(parent * len(below)) // 22, draw.integers(len(below))]]
        child = int(draw.choice(near, p=[0.85, 0.15]))
        reaches = draw.random() < REACH and area + 1 < size.areas
        chosen.add((area * AREA + parent, (area + reaches) * AREA + child))
    links = []
    for parent, child in sorted(chosen):
        other = parent // AREA * AREA + int(draw.integers(18))
        needs = (other,) if draw.random() < NEEDY and other != parent else ()
        links.append(Link((parent, *needs), child))
    return links


def _side(
    pool: np.ndarray, draw: np.random.Generator, widths: list[float]
) -> tuple[tuple[int, ...], np.ndarray]:
    """A few neighbouring conditions of one area, and how surely each of them shows."""
    first = int(draw.integers(len(pool)))
    width = int(draw.choice(len(widths), p=widths)) + 1
    same = [int(c) for c in pool[first : first + width] if c // AREA == pool[first] // AREA]
    return tuple(same), draw.uniform(0.4, 0.95, len(same))


def _findings(
    size: Size, draw: np.random.Generator
) -> tuple[list[Finding], list[list[np.ndarray]]]:
    """Checks on one to three conditions; readings on one to four to either side."""
    layer = np.tile(LAYERS, size.areas)
    pool = np.flatnonzero((layer == 0) | (draw.random(size.conditions) < size.measured))
    findings: list[Finding] = []
    figures: list[list[np.ndarray]] = [[], []]
    for i in range(size.checks + size.readings):
        low, d_low = _side(pool, draw, [0.6, 0.3, 0.1] if i < size.checks else [0.4, 0.3, 0.2, 0.1])
        high, d_high = (), np.zeros(0)
        if i >= size.checks:
            at = int(np.searchsorted(pool, low[0] // AREA * AREA))
            high, d_high = _side(pool[at : at + 18], draw, [0.5, 0.3, 0.2])
        findings.append(Finding(low, high))
        figures[0].append(d_low)
        figures[1].append(d_high)
    return findings, figures


def _ends(size: Size, draw: np.random.Generator) -> dict[int, list[int]]:
    """For each condition the defects that it makes: mechanisms make more of them."""
    weight = np.where(np.tile(LAYERS, size.areas) == 0, 0.5, 3.0)
    chosen = draw.choice(size.conditions, size.defect_links, p=weight / weight.sum())
    ends: dict[int, set[int]] = {}
    for c in chosen:
        ends.setdefault(int(c), set()).add(int(draw.integers(size.defects)))
    return {c: sorted(found) for c, found in ends.items()}


def _paths(
    start: int, links: list[Link], out: dict[int, list[int]]
) -> Iterator[tuple[int, tuple[int, ...]]]:
    """All causal paths from ``start``: where each ends, and its links."""
    yield start, ()
    for i in out.get(start, ()):
        for end, rest in _paths(links[i].child, links, out):
            yield end, (i, *rest)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A made-up network with its figures, and for every account its prior weight."""

    network: Network
    figures: Figures
    weight: np.ndarray


def drawn(size: Size, seed: int = SEED) -> Drawn:
    """Draw a network of this size."""
    draw = np.random.default_rng(seed)
    n = size.conditions
    links = _links(size, draw)
    top = np.tile(LAYERS, size.areas) == 0
    leak = np.where(top, draw.uniform(0.005, 0.1, n), draw.uniform(0.001, 0.02, n))
    strength = draw.uniform(0.05, 0.9, len(links))
    ends = _ends(size, draw)
    findings, (low, high) = _findings(size, draw)
    out: dict[int, list[int]] = {}
    for i, link in enumerate(links):
        out.setdefault(link.parents[0], []).append(i)
    sets, root, defect, weight = [], [], [], []
    for start in range(n):
        for end, path in _paths(start, links, out):
            needs = {c for i in path for c in links[i].parents[1:]}
            on_path = {start} | {links[i].child for i in path}
            prior = leak[start] * strength[list(path)].prod() * leak[list(needs - on_path)].prod()
            for made in ends.get(end, ()):
                sets.append(tuple(sorted(on_path | needs)))
                root.append(start)
                defect.append(made)
                weight.append(prior * draw.uniform(0.05, 0.9))
    sets.append(())
    network = Network(
        n,
        tuple(links),
        tuple(findings),
        tuple(sets),
        np.array([*root, -1]),
        np.array([*defect, -1]),
    )
    figures = Figures(leak, strength, tuple(low), tuple(high))
    return Drawn(network, figures, np.array([*weight, 0.04 * sum(weight)]))


def looks(size: Size, network: Network, draw: np.random.Generator) -> list[np.ndarray]:
    """Looks that depend on the defect, and for every tenth root condition on that."""
    tables = []
    for _ in range(size.looks):
        answers = int(draw.integers(2, 7))
        table = draw.dirichlet(np.ones(answers) * 0.7, size.defects + 1)[network.defect]
        told = draw.random(network.conditions) < 0.1
        by_root = draw.dirichlet(np.ones(answers) * 0.7, network.conditions)
        rows = (network.root >= 0) & told[network.root]
        table[rows] = by_root[network.root[rows]]
        tables.append(np.log(table.T * 0.98 + 0.02 / answers))
    return tables


def model(size: Size, seed: int = SEED) -> Model:
    """Return a whole model: priors from the figures, looks that depend on the defect and root."""
    made = drawn(size, seed)
    tables = looks(size, made.network, np.random.default_rng(seed + 1))
    return Model(made.network, made.figures, np.log(made.weight / made.weight.sum()), tables)


def weights(finding: Finding, draw: np.random.Generator) -> Weights:
    """Draw what is found: an answer of a check, or a reading below, within or above."""
    if not finding.high:
        return check_weights(bool(draw.random() < 0.4), FALSE_ALARM)
    return reading_weights(draw.dirichlet([0.3, 0.6, 0.3]), (True, True), STRAY, ODD_SAMPLE)


def outcomes(network: Network) -> dict[int, np.ndarray]:
    """Return for every finding the weights of all that it may show."""
    both = reading_outcomes((True, True), STRAY, ODD_SAMPLE)
    bad_or_good = check_outcomes(FALSE_ALARM)
    return {i: both if f.high else bad_or_good for i, f in enumerate(network.findings)}


def evidence(model: Model, looks: int, findings: int, seed: int = 0) -> Evidence:
    """Draw some answers and some shop findings."""
    draw = np.random.default_rng(seed)
    asked = draw.choice(len(model.looks), looks, replace=False)
    found = draw.choice(len(model.seats), findings, replace=False)
    return Evidence(
        {int(k): (int(draw.integers(model.looks[k].answers)),) for k in asked},
        {int(k): weights(model.network.findings[k], draw) for k in found},
    )
