"""Rejects drawn from the model itself: one account is responsible, the rest is chance."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence

Weights = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Works:
    """A model with what it costs to ask.

    ``minutes``: of each question, looks first. ``outcomes``: finding -> what it may show.
    ``makes_sense``: whether a look can be asked after these look answers.
    """

    name: str
    model: Model
    minutes: np.ndarray
    outcomes: Mapping[int, np.ndarray]
    looks: tuple[int, ...]
    makes_sense: Callable[[int, Mapping[int, int]], bool]

    @property
    def questions(self) -> list[tuple[bool, int]]:
        """All questions in the order of the rule base: (is a look, its number)."""
        return [(True, k) for k in self.looks] + [(False, i) for i in self.outcomes]


@dataclass(frozen=True, slots=True)
class SimulatedReject:
    """The root condition behind a reject, and what every question would be answered.

    ``root``: row of ``model.root_number``. ``looks``: answers. ``findings``: weights.
    """

    root: int
    looks: tuple[int, ...]
    findings: dict[int, Weights]

    def evidence(self, asked: list[tuple[bool, int]]) -> Evidence:
        """Return the answers to these questions."""
        return Evidence(
            {k: (self.looks[k],) for is_look, k in asked if is_look},
            {i: self.findings[i] for is_look, i in asked if not is_look},
        )


def causes_first(model: Model) -> list[int]:
    """Return the conditions in an order in which causes stand before their effects."""
    network = model.network
    causes: dict[int, set[int]] = {c: set() for c in range(network.conditions)}
    for link in network.links:
        causes[link.child].update(link.parents)
    order: list[int] = []
    placed: set[int] = set()
    while len(order) < network.conditions:
        ready = [c for c in causes if c not in placed and causes[c] <= placed]
        order += ready
        placed.update(ready)
    return order


def draw_state(model: Model, present: tuple[int, ...], draw: np.random.Generator) -> np.ndarray:
    """Draw all conditions of the shop, those in ``present`` being set."""
    network, figures = model.network, model.figures
    into: dict[int, list[int]] = {}
    for i, link in enumerate(network.links):
        into.setdefault(link.child, []).append(i)
    state = np.zeros(network.conditions, dtype=bool)
    for c in causes_first(model):
        away = 1.0 - figures.leak[c]
        for i in into.get(c, ()):
            if state[list(network.links[i].parents)].all():
                away *= 1.0 - figures.strength[i]
        state[c] = c in present or draw.random() >= away
    return state


def draw_finding(
    model: Model, i: int, state: np.ndarray, outcomes: np.ndarray, draw: np.random.Generator
) -> Weights:
    """Draw what a check or a reading shows in this state of the shop."""
    finding, figures = model.network.findings[i], model.figures
    a = np.prod(1.0 - figures.low[i] * state[list(finding.low)])
    b = np.prod(1.0 - figures.high[i] * state[list(finding.high)])
    chances = np.maximum(outcomes @ np.array([1.0, a, b, a * b]), 0.0)
    one, on_a, on_b, on_both = outcomes[draw.choice(len(outcomes), p=chances / chances.sum())]
    return float(one), float(on_a), float(on_b), float(on_both)


def draw_reject(works: Works, draw: np.random.Generator) -> SimulatedReject:
    """Draw the responsible account by its prior, then all answers."""
    model = works.model
    prior = np.exp(model.log_prior)
    account = int(draw.choice(len(prior), p=prior / prior.sum()))
    state = draw_state(model, model.network.sets[account], draw)
    looks = tuple(
        int(draw.choice(table.answers, p=likelihood / likelihood.sum()))
        for table in model.looks
        for likelihood in (table.rows[table.of_account[account]],)
    )
    findings = {i: draw_finding(model, i, state, rows, draw) for i, rows in works.outcomes.items()}
    return SimulatedReject(int(model.root_of_account[account]), looks, findings)
