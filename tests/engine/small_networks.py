"""Small random networks, and evidence on them, for hypothesis."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from hypothesis import strategies as st

from diagnose.engine.model import Model
from diagnose.engine.network import Figures, Finding, Link, Network
from diagnose.engine.posterior import Evidence

Weights = tuple[float, float, float, float]

figure = st.one_of(st.floats(0.0, 1.0), st.sampled_from([0.003, 0.01, 0.1, 0.5, 0.92]))
open_figure = st.one_of(st.floats(0.001, 0.999), st.sampled_from([0.003, 0.01, 0.1, 0.5, 0.92]))
chance = st.floats(0.01, 1.0)


@dataclass(frozen=True, slots=True)
class Case:
    """A network with its figures, its prior and its looks (probabilities, answers x accounts)."""

    network: Network
    figures: Figures
    prior: np.ndarray
    looks: tuple[np.ndarray, ...]

    def model(self) -> Model:
        """Compile it."""
        looks = [np.log(look) for look in self.looks]
        return Model(self.network, self.figures, np.log(self.prior), looks)

    def evidence_weights(self, evidence: Evidence) -> np.ndarray:
        """Return the prior times the chance of the look answers, straight from the tables."""
        weights = self.prior.copy()
        for look, answers in evidence.looks.items():
            weights = weights * self.looks[look][list(answers)].sum(axis=0)
        for look, likelihood in evidence.graded.items():
            mixed = zip(likelihood, self.looks[look], strict=True)
            weights = weights * sum(share * row for share, row in mixed)
        return weights


def _some(conditions: int, least: int, most: int) -> st.SearchStrategy[tuple[int, ...]]:
    return st.lists(
        st.integers(0, conditions - 1), min_size=least, max_size=min(most, conditions), unique=True
    ).map(tuple)


def _array(draw: st.DrawFn, size: int, of: st.SearchStrategy[float]) -> np.ndarray:
    return np.array(draw(st.lists(of, min_size=size, max_size=size)), dtype=float)


@st.composite
def _links(draw: st.DrawFn, conditions: int) -> tuple[Link, ...]:
    """Links from lower to higher numbers; some need a second or a third condition."""
    links = []
    for child in range(1, conditions):
        for cause in draw(_some(child, 0, 6)):
            needs = tuple(c for c in draw(_some(child, 0, 2)) if c != cause)
            links.append(Link((cause, *needs), child))
    return tuple(links)


@st.composite
def cases(draw: st.DrawFn, most: int = 8, figures: st.SearchStrategy[float] = open_figure) -> Case:
    """Networks of up to ``most`` conditions with all that the model allows."""
    n = draw(st.integers(2, most))
    links = draw(_links(n))
    some = _some(n, 1, 6), _some(n, 0, 6)
    findings = tuple(Finding(draw(some[0]), draw(some[1])) for _ in range(draw(st.integers(1, 5))))
    sets = [*draw(st.lists(_some(n, 1, 4), min_size=1, max_size=5)), ()]
    roots = np.array([*(min(s) for s in sets[:-1]), -1])
    network = Network(n, links, findings, tuple(sets), roots, np.minimum(roots, 0))
    made = Figures(
        _array(draw, n, figures),
        _array(draw, len(links), figures),
        tuple(_array(draw, len(f.low), figures) for f in findings),
        tuple(_array(draw, len(f.high), figures) for f in findings),
    )
    prior = _array(draw, len(sets), chance)
    looks = []
    for answers in draw(st.lists(st.integers(2, 4), max_size=2)):
        look = _array(draw, answers * len(sets), chance).reshape(answers, -1)
        looks.append(look / look.sum(axis=0))
    return Case(network, made, prior / prior.sum(), tuple(looks))


def band_weights(below: float, within: float, above: float, odd: float) -> Weights:
    """Return the weights of a finding: likelihoods of low, inside and high, blunted by ``odd``.

    Both sides at once, or neither, count as inside.
    """
    return (
        within,
        odd * (above - within),
        odd * (below - within),
        odd * odd * (2 * within - below - above),
    )


@st.composite
def finding_weights(draw: st.DrawFn, least: float = 0.01) -> Weights:
    """Soft likelihoods that are nowhere below ``least``."""
    below, within, above = (draw(st.floats(least, 1.0)) for _ in range(3))
    return band_weights(below, within, above, draw(st.floats(0.5, 1.0)))


@st.composite
def evidence_on(draw: st.DrawFn, case: Case, least: float = 0.01) -> Evidence:
    """Answers to some looks, some of them half known, some only heard, and some findings."""
    looks, graded = {}, {}
    for look, table in enumerate(case.looks):
        answers = draw(_some(len(table), 0, 2))
        if answers:
            looks[look] = answers
        elif draw(st.booleans()):
            graded[look] = tuple(draw(st.floats(least, 9.0)) for _ in range(len(table)))
    asked = draw(_some(len(case.network.findings), 0, 5))
    return Evidence(looks, {i: draw(finding_weights(least)) for i in asked}, graded)
