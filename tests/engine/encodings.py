"""The model as an ordinary discrete Bayesian network, in the two forms that the peers take.

``plain``: word for word. One variable ``cause`` over the accounts; every condition has its causes
and ``cause`` as parents and is true where the account sets it, noisy-OR of its causes otherwise;
looks hang on ``cause``, findings on their conditions. For small networks only: its tables grow
with the accounts times 2 to the number of causes.

``compact``: the same distribution, for speed. What was tried on the benchmark's network, with 25
shop findings from nothing, in milliseconds of the faster of the two (pyAgrum):

- ``cause`` over the distinct sets of observable conditions instead of the accounts (the accounts
  of one set are told apart afterwards, by their looks and priors): always better;
- noisy-ORs left whole 90; split into chains of tables with at most 2 / 3 / 4 / 5 / 6 parents
  16 / 15 / 15 / 16 / 21: 4 it is;
- ``cause`` as a parent of every condition against one class variable for each component between
  them: no difference beyond the noise;
- a helper variable "set by the account" between ``cause`` and each condition: half as slow again;
- no ``cause``, one run for each distinct set: several hundred runs of a few ms each.

Of pyAgrum's algorithms VariableElimination was the fastest for one posterior, by a little. pgmpy
is given an elimination order (``peers.order_without_cause``).

The chains keep every table positive, so the peers share no step with the engine's own splitting.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from diagnose.engine.network import Figures, Network

CAUSE = "cause"
WIDEST = 4
"""Parents of one table of the compact form, ``cause`` left out."""


@dataclass(frozen=True, slots=True)
class Node:
    """A discrete variable: ``table`` has one axis for each parent, then its own states."""

    name: str
    parents: tuple[str, ...]
    table: np.ndarray


@dataclass(frozen=True, slots=True)
class Encoding:
    """Nodes, parents before children, and how the states of ``cause`` stand for accounts.

    ``told``: the variables that evidence may be laid on. ``state_of``: the state of each
    account. ``prior``: of each account.
    """

    nodes: tuple[Node, ...]
    told: frozenset[str]
    state_of: np.ndarray
    prior: np.ndarray

    def soft_cause(self, weights: np.ndarray) -> np.ndarray:
        """Return the likelihood of each state where the accounts weigh ``weights``."""
        states = len(self.nodes[0].table)
        mass = np.bincount(self.state_of, weights, states)
        return mass / np.bincount(self.state_of, self.prior, states)

    def accounts(self, states: np.ndarray, weights: np.ndarray) -> np.ndarray:
        """Share the posterior of the states out among the accounts that weigh ``weights``."""
        mass = np.bincount(self.state_of, weights, len(states))
        return states[self.state_of] * weights / mass[self.state_of]


def states(size: int) -> np.ndarray:
    """All joint states of ``size`` yes/no variables, one a row."""
    return np.array(list(product((0, 1), repeat=size)), dtype=int).reshape(2**size, size)


def binary(name: str, parents: Sequence[str], absent: np.ndarray) -> Node:
    """A yes/no variable from P(absent | each joint state of yes/no parents)."""
    shape = [2] * len(parents) + [2]
    return Node(name, tuple(parents), np.stack([absent, 1.0 - absent], axis=-1).reshape(shape))


def set_by_cause(node: Node, sets: np.ndarray) -> Node:
    """Put ``cause`` before the parents: true for certain in the states where it sets the node."""
    sure = np.zeros_like(node.table)
    sure[..., 1] = 1.0
    return Node(
        node.name, (CAUSE, *node.parents), np.stack([sure if yes else node.table for yes in sets])
    )


def condition(c: int) -> str:
    """Name the variable of a condition."""
    return f"condition-{c}"


def finding(i: int) -> str:
    """Name the variable of a finding: 0 shows nothing, 1 low, 2 high, 3 both sides."""
    return f"finding-{i}"


def look(k: int) -> str:
    """Name the variable of a look."""
    return f"look-{k}"


Arm = tuple[tuple[str, ...], float]
"""The parents that must all be present for a link to be at work, and its strength."""


def spared(parents: Sequence[str], arms: Sequence[Arm]) -> np.ndarray:
    """P(no arm works) for each joint state of ``parents``."""
    rows = states(len(parents))
    chance = np.ones(len(rows))
    for needed, strength in arms:
        at_work = rows[:, [list(parents).index(p) for p in needed]].all(axis=1)
        chance *= np.where(at_work, 1.0 - strength, 1.0)
    return chance


def parents_of(arms: Sequence[Arm]) -> list[str]:
    """All parents of these arms, each once."""
    return sorted({p for needed, _ in arms for p in needed})


def noisy_or(name: str, leak: float, arms: list[Arm], widest: int) -> Iterator[Node]:
    """A leaky noisy-OR, as a chain of tables with at most ``widest`` parents where it can."""
    links = 0
    while len(parents_of(arms)) > widest and len(arms) > 1:
        taken = 1
        while taken < len(arms) and len(parents_of(arms[: taken + 1])) <= widest:
            taken += 1
        link = f"{name}-link-{links}"
        parents = parents_of(arms[:taken])
        yield binary(link, parents, spared(parents, arms[:taken]))
        arms = [*arms[taken:], ((link,), 1.0)]
        links += 1
    parents = parents_of(arms)
    yield binary(name, parents, (1.0 - leak) * spared(parents, arms))


def arms_into(network: Network, figures: Figures) -> dict[int, list[Arm]]:
    """The arms of every condition's noisy-OR."""
    arms: dict[int, list[Arm]] = {c: [] for c in range(network.conditions)}
    for i, link in enumerate(network.links):
        strength = float(figures.strength[i])
        arms[link.child].append((tuple(condition(p) for p in link.parents), strength))
    return arms


def causes_first(network: Network, conditions: Sequence[int]) -> list[int]:
    """Put ``conditions`` into an order in which causes stand before their effects."""
    causes: dict[int, set[int]] = {c: set() for c in range(network.conditions)}
    for link in network.links:
        causes[link.child].update(link.parents)
    done: dict[int, None] = {}

    def visit(c: int) -> None:
        if c not in done:
            for p in sorted(causes[c]):
                visit(p)
            done[c] = None

    for c in conditions:
        visit(c)
    return list(done)


def plain(
    network: Network, figures: Figures, prior: np.ndarray, looks: Sequence[np.ndarray]
) -> Encoding:
    """Write the model down word for word; ``looks`` hold probabilities (answers, accounts)."""
    arms = arms_into(network, figures)
    nodes = [Node(CAUSE, (), prior)]
    for c in causes_first(network, range(network.conditions)):
        (free,) = noisy_or(condition(c), float(figures.leak[c]), arms[c], widest=99)
        nodes.append(set_by_cause(free, np.array([c in present for present in network.sets])))
    nodes += [Node(look(k), (CAUSE,), table.T) for k, table in enumerate(looks)]
    for i, found in enumerate(network.findings):
        both = sorted({*found.low, *found.high})
        low, high = (
            spared([str(c) for c in both], [((str(c),), float(d)) for c, d in zip(*s, strict=True)])
            for s in ((found.low, figures.low[i]), (found.high, figures.high[i]))
        )
        shows = np.stack([low * high, (1 - low) * high, low * (1 - high), (1 - low) * (1 - high)])
        shape = [2] * len(both) + [4]
        nodes.append(Node(finding(i), tuple(map(condition, both)), shows.T.reshape(shape)))
    told = {look(k) for k in range(len(looks))} | set(map(finding, range(len(network.findings))))
    return Encoding(tuple(nodes), frozenset(told), np.arange(len(prior)), prior)


def compact(
    network: Network, figures: Figures, prior: np.ndarray, widest: int = WIDEST
) -> Encoding:
    """Write the model down for speed; looks are left to the weights of the accounts."""
    observable = causes_first(network, network.observable())
    member = np.array([[c in present for c in observable] for present in network.sets])
    rows, state_of = np.unique(member, axis=0, return_inverse=True)
    arms = arms_into(network, figures)
    nodes = [Node(CAUSE, (), np.bincount(state_of.ravel(), prior, len(rows)))]
    for c, sets in zip(observable, rows.T, strict=True):
        *chain, last = noisy_or(condition(c), float(figures.leak[c]), arms[c], widest)
        nodes += [*chain, set_by_cause(last, sets) if sets.any() else last]
    for i, found in enumerate(network.findings):
        nodes += finding_nodes(i, (found.low, figures.low[i]), (found.high, figures.high[i]))
    told = {CAUSE, *map(finding, range(len(network.findings)))}
    return Encoding(tuple(nodes), frozenset(told), state_of.ravel(), prior)


Side = tuple[Sequence[int], np.ndarray]


def finding_nodes(i: int, low: Side, high: Side) -> Iterator[Node]:
    """A finding as one noisy-OR, or as one for each side and a variable that joins the two."""
    names = [f"{finding(i)}-low", f"{finding(i)}-high"] if len(high[0]) else [finding(i)]
    for name, (conditions, figures) in zip(names, (low, high), strict=False):
        pairs = zip(conditions, figures, strict=True)
        yield from noisy_or(name, 0.0, [((condition(c),), float(d)) for c, d in pairs], WIDEST)
    if len(names) > 1:
        yield Node(finding(i), tuple(names), np.eye(4)[[0, 2, 1, 3]].reshape(2, 2, 4))


Weights = tuple[float, float, float, float]


def soft_findings(findings: Mapping[int, Weights]) -> dict[str, np.ndarray]:
    """Likelihood of each finding variable's states, from weights over 1, A, B and A*B.

    A finding without a high side has only the first two of them in the compact form.
    """
    return {
        finding(i): np.array([one + a + b + ab, one + b, one + a, one])
        for i, (one, a, b, ab) in findings.items()
    }
