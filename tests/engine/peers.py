"""Two general-purpose libraries put to the same question as the engine.

A peer is built once from an encoding and then asked any number of times. pyAgrum takes soft
evidence as it is. In pgmpy every variable that evidence can touch gets a yes/no child "seen",
whose table is rewritten for each question: its own virtual evidence copies the whole network.
"""

from __future__ import annotations

import logging
from collections.abc import Mapping

import numpy as np
import pyagrum
from pgmpy.factors.discrete import TabularCPD
from pgmpy.inference import VariableElimination
from pgmpy.models import DiscreteBayesianNetwork

from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, log_looks
from tests.engine.encodings import CAUSE, Encoding, compact, look, soft_findings

Soft = Mapping[str, np.ndarray]

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
        self.encoding = encoding
        self.states = state_counts(encoding)
        self.net = to_pyagrum(encoding)
        self.inference = getattr(pyagrum, inference)(self.net)
        self.inference.setTargets({CAUSE})

    def cause(self, soft: Soft) -> np.ndarray:
        """Return P(cause | soft evidence)."""
        self.inference.eraseAllEvidence()
        self.inference.setEvidence(
            {name: fitting(v, self.states[name]).tolist() for name, v in soft.items()}
        )
        self.inference.makeInference()
        return np.array(self.inference.posterior(CAUSE)[:])


class Pgmpy:
    """pgmpy on one encoding."""

    name = "pgmpy"

    def __init__(self, encoding: Encoding) -> None:
        self.encoding = encoding
        self.states = state_counts(encoding)
        self.net = to_pgmpy(encoding)

    def cause(self, soft: Soft) -> np.ndarray:
        """Return P(cause | soft evidence)."""
        for name, v in soft.items():
            likelihood = fitting(v, self.states[name])
            self.net.get_cpds(seen(name)).values = np.stack([1.0 - likelihood, likelihood])
        given = {seen(name): 1 for name in soft}
        answer = VariableElimination(self.net).query([CAUSE], given, show_progress=False)
        return np.array(answer.values)


Peer = PyAgrum | Pgmpy


def plain_posterior(peer: Peer, evidence: Evidence) -> np.ndarray:
    """Return P(account | evidence) from a peer on the plain form."""
    soft = soft_findings(evidence.findings)
    for k, answers in evidence.looks.items():
        node = next(n for n in peer.encoding.nodes if n.name == look(k))
        soft[look(k)] = np.isin(np.arange(node.table.shape[-1]), answers).astype(float)
    return peer.cause(soft)


def compact_posterior(peer: Peer, model: Model, evidence: Evidence) -> np.ndarray:
    """Return P(account | evidence) from a peer on the compact form of ``model``."""
    weights = np.exp(model.log_prior + log_looks(model, evidence))
    soft = {CAUSE: peer.encoding.soft_cause(weights), **soft_findings(evidence.findings)}
    return peer.encoding.accounts(peer.cause(soft), weights)


def compact_encoding(model: Model) -> Encoding:
    """Return the compact form of a compiled model."""
    return compact(model.network, model.figures, np.exp(model.log_prior))
