"""The causal network as arrays, and the factors that stand for it.

Conditions are numbered 0..n-1 and combine their causes by noisy-OR with a leak that stands
apart from the strengths::

    P(absent | causes) = (1 - leak) * product over the links at work of (1 - strength)

A link is at work when all its ``parents`` (the cause and whatever else it needs) are present.
An account sets the conditions it runs through to present, whatever their own causes say.

References
----------
J. Pearl, "Probabilistic Reasoning in Intelligent Systems" (1988), section 4.3.2 (from memory):
noisy-OR. D. Heckerman (1989) and M. Takikawa and B. D'Ambrosio, "Multiplicative factorization
of noisy-max", UAI 1999 (from memory): one hidden variable splits a noisy-OR into pairs.

"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.cliquetree import Factor, Floats, Ints
from diagnose.engine.ragged import Arrays, Padded, cut, end_to_end, joined, narrow, padded, tuples

WIDEST_TABLE = 4
"""Conditions that one factor may hold before a hidden variable splits it."""


@dataclass(frozen=True, slots=True)
class Link:
    """``parents`` (the cause first, then what it needs) may bring about ``child``."""

    parents: tuple[int, ...]
    child: int


@dataclass(frozen=True, slots=True)
class Finding:
    """A check or a measurement: the conditions that push it one way and the other way.

    A check uses only ``low``; its bad answer is the low side.
    """

    low: tuple[int, ...]
    high: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Figures:
    """The judgements, apart from the shape of the network; leading axes are several sets.

    ``leak``: (..., conditions). ``strength``: (..., links). ``low`` and ``high``: one array
    (..., conditions of that side) for each finding.
    """

    leak: Floats
    strength: Floats
    low: tuple[Floats, ...]
    high: tuple[Floats, ...]

    def only(self, findings: Sequence[int]) -> Figures:
        """Return the figures with those of no other findings than these."""
        return replace(
            self,
            low=tuple(self.low[i] for i in findings),
            high=tuple(self.high[i] for i in findings),
        )


@dataclass(frozen=True, slots=True)
class Network:
    """The shape: who may bring about what, what can be found, and which accounts there are.

    ``sets``: for each account the conditions it sets present; ``root``: its root condition;
    ``defect``: its defect. The last account is "none of these": it sets nothing, and its root
    and defect are -1.
    """

    conditions: int
    links: tuple[Link, ...]
    findings: tuple[Finding, ...]
    sets: Sequence[tuple[int, ...]]
    root: Ints
    defect: Ints

    def only(self, findings: Sequence[int]) -> Network:
        """Return the network with no other findings than these."""
        return replace(self, findings=tuple(self.findings[i] for i in findings))

    def ancestors(self) -> list[int]:
        """Return for each finding its conditions and all their ancestors, as bits of a number."""
        causes: dict[int, set[int]] = {}
        for link in self.links:
            causes.setdefault(link.child, set()).update(link.parents)
        known: dict[int, int] = {}

        def with_ancestors(c: int) -> int:
            if c not in known:
                known[c] = 1 << c
                for cause in causes.get(c, ()):
                    known[c] |= with_ancestors(cause)
            return known[c]

        bits = []
        for finding in self.findings:
            mine = 0
            for c in (*finding.low, *finding.high):
                mine |= with_ancestors(c)
            bits.append(mine)
        return bits

    def observable(self) -> list[int]:
        """Return the conditions that some finding depends on, with all their ancestors."""
        seen = 0
        for bits in self.ancestors():
            seen |= bits
        return [c for c in range(self.conditions) if seen >> c & 1]


NETWORK_LIKE = {
    "leak": "f conditions", "link strengths": "f inner", "link children": "i inner",
    "link parents": "i *", "link sizes": "i inner", "low": "i *", "low sizes": "i findings",
    "high": "i *", "high sizes": "i findings", "low figures": "f *", "high figures": "f *",
    "sets": "i all widest", "root": "i all", "defect": "i all",
}  # fmt: skip
"""The arrays of a network and its figures: kind of number and what each axis counts."""


def network_arrays(network: Network, figures: Figures) -> dict[str, NDArray[Any]]:
    """Return a network with one set of figures as plain arrays."""
    parents, sizes = joined(link.parents for link in network.links)
    low, low_sizes = joined(finding.low for finding in network.findings)
    high, high_sizes = joined(finding.high for finding in network.findings)
    return {
        "leak": figures.leak,
        "link strengths": figures.strength,
        "link children": np.array([link.child for link in network.links], np.int32),
        "link parents": parents,
        "link sizes": sizes,
        "low": low,
        "low sizes": low_sizes,
        "high": high,
        "high sizes": high_sizes,
        "low figures": end_to_end(figures.low),
        "high figures": end_to_end(figures.high),
        "sets": narrow(padded(network.sets)),
        "root": narrow(network.root),
        "defect": narrow(network.defect),
    }


def network_from(arrays: Arrays) -> tuple[Network, Figures]:
    """Return the network and the figures that plain arrays hold."""
    parents = tuples(arrays["link parents"], arrays["link sizes"])
    low = tuples(arrays["low"], arrays["low sizes"])
    high = tuples(arrays["high"], arrays["high sizes"])
    network = Network(
        len(arrays["leak"]),
        tuple(map(Link, parents, arrays["link children"].tolist())),
        tuple(map(Finding, low, high)),
        Padded(arrays["sets"]),
        arrays["root"].astype(np.intp),
        arrays["defect"].astype(np.intp),
    )
    figures = Figures(
        arrays["leak"],
        arrays["link strengths"],
        tuple(cut(arrays["low figures"], [(len(side),) for side in low])),
        tuple(cut(arrays["high figures"], [(len(side),) for side in high])),
    )
    return network, figures


@dataclass(frozen=True, slots=True)
class Basis:
    """Where a finding's four basic functions live: 1, A, B and A*B.

    A is the chance that none of the low side's conditions shows, B the same for the high side.
    ``scope``: conditions or hidden variables; ``table``: (..., 4, joint states of the scope).
    """

    scope: tuple[int, ...]
    table: Floats


def shows_nothing(figures: Floats, states: NDArray[np.int_]) -> Floats:
    """Return product(1 - figure) over the present conditions: ``(..., states)``."""
    miss = 1.0 - np.asarray(figures)[..., None, :]
    return np.asarray(np.prod(np.where(states == 1, miss, 1.0), axis=-1))


def joint_states(size: int) -> NDArray[np.int_]:
    """Return all joint states of ``size`` yes/no variables, the first the slowest to change."""
    return np.array(list(product((0, 1), repeat=size)), dtype=np.int_).reshape(2**size, size)


class Scribe:
    """Writes the network down as factors over observable conditions and hidden variables."""

    def __init__(self, network: Network, figures: Figures) -> None:
        self.network = network
        self.figures = figures
        self.observable = network.observable()
        self.number = {c: i for i, c in enumerate(self.observable)}
        self.variables = len(self.observable)
        self.factors: list[Factor] = []
        self.bases: list[Basis] = []
        links_into: dict[int, list[int]] = {c: [] for c in self.observable}
        for i, link in enumerate(network.links):
            if link.child in links_into:
                links_into[link.child].append(i)
        for condition, links in links_into.items():
            self._family(condition, links)
        for i, finding in enumerate(network.findings):
            self._finding(finding, figures.low[i], figures.high[i])

    def _hidden(self) -> int:
        self.variables += 1
        return self.variables - 1

    def _family(self, condition: int, links: Sequence[int]) -> None:
        child = self.number[condition]
        stays_away = 1.0 - self.figures.leak[..., condition]
        parents = sorted({self.number[p] for i in links for p in self.network.links[i].parents})
        if len(parents) < WIDEST_TABLE:
            spared = self._all_spared(parents, links) * stays_away[..., None]
            self._child_factor(child, tuple(parents), spared)
            return
        hidden = self._hidden()
        for i in links:
            scope = [self.number[p] for p in self.network.links[i].parents]
            spared = self._all_spared(scope, [i])
            table = np.stack([spared, np.ones_like(spared)], axis=-2)
            self._add((hidden, *scope), table[..., None, :, :], 1)
        away = np.stack([stays_away, np.zeros_like(stays_away)], axis=-1)
        comes = np.stack([-stays_away, np.ones_like(stays_away)], axis=-1)
        free = np.stack([away, comes], axis=-2)
        fixed = np.broadcast_to(np.array([[0.0, 0.0], [0.0, 1.0]]), free.shape)
        self._add((child, hidden), np.stack([free, fixed], axis=-3), 2, switch=child)

    def _all_spared(self, scope: Sequence[int], links: Sequence[int]) -> Floats:
        """P(no link at work brings it about) for every joint state of ``scope``."""
        states = joint_states(len(scope))
        lead = self.figures.strength.shape[:-1]
        spared = np.ones((*lead, len(states)))
        for i in links:
            columns = [list(scope).index(self.number[p]) for p in self.network.links[i].parents]
            at_work = states[:, columns].all(axis=1)
            spared = spared * np.where(at_work, 1.0 - self.figures.strength[..., i, None], 1.0)
        return spared

    def _child_factor(self, child: int, parents: tuple[int, ...], spared: Floats) -> None:
        free = np.stack([spared, 1.0 - spared], axis=-2)
        fixed = np.stack([np.zeros_like(spared), np.ones_like(spared)], axis=-2)
        self._add((child, *parents), np.stack([free, fixed], axis=-3), 2, switch=child)

    def _add(self, scope: tuple[int, ...], table: Floats, variants: int, switch: int = -1) -> None:
        lead = self.figures.leak.shape[:-1]
        shaped = table.reshape(*lead, variants, *([2] * len(scope)))
        self.factors.append(Factor(scope, np.ascontiguousarray(shaped), switch))

    def _finding(self, finding: Finding, low: Floats, high: Floats) -> None:
        scope = tuple(sorted({self.number[c] for c in (*finding.low, *finding.high)}))
        if len(scope) <= WIDEST_TABLE:
            states = joint_states(len(scope))
            at = {v: k for k, v in enumerate(scope)}
            a = shows_nothing(low, states[:, [at[self.number[c]] for c in finding.low]])
            b = shows_nothing(high, states[:, [at[self.number[c]] for c in finding.high]])
        else:
            sides = ((finding.low, low), (finding.high, high))
            scope = tuple(self._side(side, figures) for side, figures in sides)
            quiet = (joint_states(2) == 0).astype(float)
            a, b = quiet[:, 0], quiet[:, 1]
        shape = np.broadcast_shapes(a.shape, b.shape)
        a, b = np.broadcast_to(a, shape), np.broadcast_to(b, shape)
        self.bases.append(Basis(scope, np.stack([np.ones(shape), a, b, a * b], axis=-2)))
        self.factors.append(Factor(scope, np.ones((1, *([2] * len(scope))))))

    def _side(self, side: Sequence[int], figures: Floats) -> int:
        """Add a variable that says whether this side shows; return its number."""
        shows, hidden = self._hidden(), self._hidden()
        for k, condition in enumerate(side):
            missed = 1.0 - figures[..., k, None] * np.array([0.0, 1.0])
            table = np.stack([missed, np.ones_like(missed)], axis=-2)
            self._add((hidden, self.number[condition]), table[..., None, :, :], 1)
        table = np.array([[1.0, 0.0], [-1.0, 1.0]])
        self.factors.append(Factor((shows, hidden), table[None]))
        return shows
