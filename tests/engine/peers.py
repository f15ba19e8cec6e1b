"""Two general-purpose libraries put to the same question as the engine.

A peer is built once from an encoding and then asked any number of times. pyAgrum takes soft
evidence as it is. In pgmpy every variable that evidence can touch gets a yes/no child "seen",
whose table is rewritten for each question: its own virtual evidence copies the whole network.
pgmpy is also told in which order to sum: its own orders take anything from 25 ms to a table of
32 GB for the same question, depending on how Python hashes strings that day.
"""

from __future__ import annotations

import logging
from collections.abc import Mapping, Sequence

import numpy as np
import pyagrum
from pgmpy.factors.discrete import TabularCPD
from pgmpy.inference import VariableElimination
from pgmpy.models import DiscreteBayesianNetwork

from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, log_looks
from diagnose.engine.triangulate import elimination_order
from tests.engine.encodings import CAUSE, Encoding, compact, finding, look, soft_findings

Soft = Mapping[str, np.ndarray]
AT_ONCE = 3
"""Joint posteriors that pyAgrum is asked for in one run."""

logging.getLogger("pgmpy").setLevel(logging.ERROR)


def to_pyagrum(encoding: Encoding) -> pyagrum.BayesNet:
    """Build the network for pyAgrum."""
    net = pyagrum.BayesNet()
    for node in encoding.nodes:
        net.add(pyagrum.LabelizedVariable(node.name, node.name, node.table.shape[-1]))
    for node in encoding.nodes:
        for parent in node.parents:
            net.addArc(parent, node.name)
        axes = (*node.parents, node.name)
        order = [axes.index(name) for name in reversed(net.cpt(node.name).names)]
        net.cpt(node.name)[:] = np.ascontiguousarray(node.table.transpose(order))
    return net


def to_pgmpy(encoding: Encoding) -> DiscreteBayesianNetwork:
    """Build the network for pgmpy, with a child "seen" for all that evidence can touch."""
    net = DiscreteBayesianNetwork()
    states = state_counts(encoding)
    net.add_nodes_from(states)
    for node in encoding.nodes:
        net.add_edges_from((parent, node.name) for parent in node.parents)
        own_first = np.moveaxis(node.table, -1, 0).reshape(states[node.name], -1)
        cards = [states[parent] for parent in node.parents]
        net.add_cpds(TabularCPD(node.name, states[node.name], own_first, node.parents, cards))
        if node.name in encoding.told:
            net.add_edge(node.name, seen(node.name))
            even = np.full((2, states[node.name]), 0.5)
            net.add_cpds(TabularCPD(seen(node.name), 2, even, [node.name], [states[node.name]]))
    return net


def state_counts(encoding: Encoding) -> dict[str, int]:
    """Count the states of every variable."""
    return {node.name: node.table.shape[-1] for node in encoding.nodes}


def order_without_cause(encoding: Encoding) -> list[str]:
    """Return all other variables in min-fill order, as if ``cause`` were not there.

    It is next to nearly everything and stays to the end, so it must not sway the order.
    """
    names = [node.name for node in encoding.nodes if node.name != CAUSE]
    number = {name: i for i, name in enumerate(names)}
    scopes = [
        tuple(number[name] for name in (*node.parents, node.name) if name != CAUSE)
        for node in encoding.nodes
    ]
    return [names[i] for i in elimination_order(scopes, len(names))]


def fitting(likelihood: np.ndarray, states: int) -> np.ndarray:
    """Cut a likelihood to the states that its variable has, and scale its top to one."""
    cut = likelihood[:states]
    return cut / cut.max()


def seen(name: str) -> str:
    """Name the child on which soft evidence is laid."""
    return f"seen-{name}"


class PyAgrum:
    """pyAgrum on one encoding."""

    name = "pyAgrum"

    def __init__(self, encoding: Encoding, inference: str = "VariableElimination") -> None:
        pyagrum.setNumberOfThreads(1)  # two are slower on a busy machine
        self.encoding = encoding
        self.states = state_counts(encoding)
        self.net = to_pyagrum(encoding)
        self.inference = getattr(pyagrum, inference)(self.net)
        self.inference.setTargets({CAUSE})
        self.stepwise = pyagrum.LazyPropagation(self.net)

    def cause(self, soft: Soft) -> np.ndarray:
        """Return P(cause | soft evidence)."""
        self.inference.eraseAllEvidence()
        self.inference.setEvidence(
            {name: fitting(v, self.states[name]).tolist() for name, v in soft.items()}
        )
        self.inference.makeInference()
        return np.array(self.inference.posterior(CAUSE)[:])

    def start(self, soft: Soft) -> None:
        """Lay evidence on that more will be added to by ``again``."""
        self.stepwise = pyagrum.LazyPropagation(self.net)
        self.stepwise.setTargets({CAUSE})
        self.stepwise.setEvidence(
            {name: fitting(v, self.states[name]).tolist() for name, v in soft.items()}
        )
        self.stepwise.makeInference()

    def again(self, soft: Soft, new: str) -> np.ndarray:
        """Return P(cause | soft evidence), of which ``new`` is new since ``start``.

        Where the incremental run fails, as it does on some evidence, start from nothing.
        """
        likelihood = fitting(soft[new], self.states[new]).tolist()
        try:
            if new == CAUSE:
                self.stepwise.chgEvidence(new, likelihood)
            else:
                self.stepwise.addEvidence(new, likelihood)
            self.stepwise.makeInference()
            return np.array(self.stepwise.posterior(CAUSE)[:])
        except pyagrum.NotFound:
            return self.cause(soft)

    def cause_with(self, soft: Soft, names: Sequence[str]) -> dict[str, np.ndarray]:
        """Return P(cause, variable | soft evidence) for each variable, a few at a time.

        Neighbours share a run. Tried: all in one run, 1, 3, 5, 10 or 20; 3 was the fastest.
        """
        given = {name: fitting(v, self.states[name]).tolist() for name, v in soft.items()}
        tables = {}
        for start in range(0, len(names), AT_ONCE):
            few = names[start : start + AT_ONCE]
            inference = pyagrum.LazyPropagation(self.net)
            inference.setEvidence(given)
            for name in few:
                inference.addJointTarget({CAUSE, name})
            inference.makeInference()
            for name in few:
                table = inference.jointPosterior({CAUSE, name})
                array = np.array(table[:])
                tables[name] = array if table.names[-1] == CAUSE else array.T
        return tables


class Pgmpy:
    """pgmpy on one encoding."""

    name = "pgmpy"

    def __init__(self, encoding: Encoding) -> None:
        self.encoding = encoding
        self.states = state_counts(encoding)
        self.net = to_pgmpy(encoding)
        self.order = order_without_cause(encoding)

    def cause(self, soft: Soft) -> np.ndarray:
        """Return P(cause | soft evidence)."""
        return self._query(soft, [CAUSE])

    def cause_with(self, soft: Soft, names: Sequence[str]) -> dict[str, np.ndarray]:
        """Return P(cause, variable | soft evidence) for each variable, one at a time."""
        return {name: self._query(soft, [CAUSE, name]) for name in names}

    def _query(self, soft: Soft, names: list[str]) -> np.ndarray:
        for name, v in soft.items():
            likelihood = fitting(v, self.states[name])
            self.net.get_cpds(seen(name)).values = np.stack([1.0 - likelihood, likelihood])
        given = {seen(name): 1 for name in soft}
        answer = VariableElimination(self.net).query(
            names,
            given,
            elimination_order=[name for name in self.order if name not in names],
            show_progress=False,
        )
        order = [answer.variables.index(name) for name in names]
        return np.array(answer.values.transpose(order))


Peer = PyAgrum | Pgmpy


def plain_posterior(peer: Peer, evidence: Evidence) -> np.ndarray:
    """Return P(account | evidence) from a peer on the plain form."""
    soft = soft_findings(evidence.findings)
    for k, answers in evidence.looks.items():
        node = next(n for n in peer.encoding.nodes if n.name == look(k))
        soft[look(k)] = np.isin(np.arange(node.table.shape[-1]), answers).astype(float)
    for k, likelihood in evidence.graded.items():  # a library's own name for it: virtual evidence
        soft[look(k)] = np.array(likelihood) / max(likelihood)
    return peer.cause(soft)


def compact_posterior(peer: Peer, model: Model, evidence: Evidence) -> np.ndarray:
    """Return P(account | evidence) from a peer on the compact form of ``model``."""
    weights = np.exp(model.log_prior + log_looks(model, evidence))
    states = peer.cause(compact_soft(peer, model, evidence))
    return peer.encoding.accounts(states, weights)


def compact_soft(peer: Peer, model: Model, evidence: Evidence) -> dict[str, np.ndarray]:
    """Return the evidence as soft evidence on the compact form of ``model``."""
    weights = np.exp(model.log_prior + log_looks(model, evidence))
    return {CAUSE: peer.encoding.soft_cause(weights), **soft_findings(evidence.findings)}


def compact_tables(
    peer: Peer, model: Model, evidence: Evidence, outcomes: Mapping[int, np.ndarray]
) -> list[np.ndarray]:
    """Return P(what it shows, root condition) for open findings, from a peer.

    As ``diagnose.engine.ask.finding_tables``, on the compact form of ``model``.
    """
    near = sorted(outcomes, key=lambda i: model.network.findings[i].low)
    soft = compact_soft(peer, model, evidence)
    joints = peer.cause_with(soft, [finding(i) for i in near])
    probabilities = compact_posterior(peer, model, evidence)
    state_of, roots = peer.encoding.state_of, len(model.root_number)
    states = len(peer.encoding.nodes[0].table)
    cells = state_of * roots + model.root_of_account
    mass = np.bincount(cells, probabilities, states * roots).reshape(states, roots)
    tables = []
    for i, rows in outcomes.items():
        joint = joints[finding(i)]
        shown = joint / np.maximum(joint.sum(axis=1, keepdims=True), 1e-300)
        told = [soft_findings({i: tuple(row)})[finding(i)][: joint.shape[1]] for row in rows]
        tables.append(np.array(told) @ shown.T @ mass)
    return tables


def compact_encoding(model: Model) -> Encoding:
    """Return the compact form of a compiled model."""
    return compact(model.network, model.figures, np.exp(model.log_prior))
