"""Networks with published answers, put through the clique trees; each file names its source."""

from __future__ import annotations

from decimal import Decimal
from itertools import product
from math import log10
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from diagnose.engine.cliquetree import Factor, Tables, alone, axes_of, lay_out
from diagnose.engine.explain import decibans, pushes
from diagnose.engine.model import Model
from diagnose.engine.network import Figures, Finding, Link, Network
from diagnose.engine.posterior import Evidence, log_findings, normalised, posterior
from diagnose.engine.triangulate import clique_tree, elimination_order

PUBLISHED = Path(__file__).parent / "published"
NETWORKS = sorted(p for p in PUBLISHED.glob("*.yaml") if "tables:" in p.read_text())
YES_NO = {True: np.array([0.0, 1.0]), False: np.array([1.0, 0.0])}


def read(name: str) -> dict[str, Any]:
    return dict(yaml.safe_load((PUBLISHED / f"{name}.yaml").read_text()))


def agrees(got: float, published: str) -> bool:
    """Tell whether ``got`` would be printed as published, to its last digit."""
    places = -int(Decimal(published).as_tuple().exponent)
    return abs(got - float(published)) <= 0.5 * 10.0**-places + 1e-12


class Tree:
    """A published network in one set of clique trees."""

    def __init__(self, tables: dict[str, Any], merge_up_to: int) -> None:
        self.number = {name: i for i, name in enumerate(tables)}
        factors = [self._factor(name, table) for name, table in tables.items()]
        scopes = [factor.scope for factor in factors]
        order = elimination_order(scopes, len(tables))
        one_pattern = np.zeros((1, len(tables)), dtype=np.bool_)
        cliques = clique_tree(scopes, order, merge_up_to)
        self.forest = lay_out(cliques, factors, one_pattern)
        self.tables = Tables(self.forest, alone(self.forest, factors, one_pattern))

    def _factor(self, name: str, table: dict[str, Any]) -> Factor:
        parents = table.get("given", [])
        # published with yes first, kept with no first
        yes = np.array(table[True], dtype=float)[::-1].reshape([2] * len(parents))
        shape = np.stack([1.0 - yes, yes], axis=-1)
        return Factor(tuple(self.number[n] for n in (*parents, name)), shape[None])

    def chance(self, likelihoods: dict[str, np.ndarray]) -> float:
        """Return P(evidence), each variable's part of it given as a likelihood of no and yes."""
        laid: dict[int, np.ndarray] = {}
        for name, likelihood in likelihoods.items():
            k = self.forest.home[self.number[name]]
            axes = axes_of(self.forest.places[k].clique, (self.number[name],))
            laid[k] = laid.get(k, 1.0) * likelihood.reshape(*axes, 1)
        changed = self.tables.climb(laid)
        roots = set(self.forest.root)
        return float(np.prod([changed.get(k, self.tables.messages[k]) for k in roots]))


def questions() -> list[Any]:
    return [
        pytest.param(path.stem, question, merge, id=f"{path.stem}-{i}-merge{merge}")
        for path in NETWORKS
        for i, question in enumerate(read(path.stem)["questions"])
        for merge in (0, 3, 5)
    ]


@pytest.mark.parametrize(("name", "question", "merge"), questions())
def test_published_answers(name: str, question: dict[str, Any], merge: int) -> None:
    tree = Tree(read(name)["tables"], merge)
    given = {n: YES_NO[answer] for n, answer in question.get("seen", {}).items()}
    given |= {n: np.array(weights)[::-1] for n, weights in question.get("likely", {}).items()}
    evidence = tree.chance(given)
    if "evidence" in question:
        assert agrees(evidence, question["evidence"])
    for asked, published in question.get("chance", {}).items():
        got = tree.chance({**given, asked: YES_NO[True]}) / evidence
        assert agrees(got, published), (asked, got, published)
    joint = question.get("joint", [])
    for answers, published in zip(
        product((True, False), repeat=len(joint)), question.get("chances", [None]), strict=True
    ):
        if joint:
            states = {n: YES_NO[answer] for n, answer in zip(joint, answers, strict=True)}
            assert agrees(tree.chance({**given, **states}) / evidence, published)


def test_every_file_says_where_it_is_from() -> None:
    for path in NETWORKS:
        assert {"network", "source", "page", "read", "questions"} <= read(path.stem).keys()


def test_impossible_evidence_has_no_chance_at_all() -> None:
    """Chest clinic: neither tuberculosis nor cancer, and yet tuberculosis."""
    tree = Tree(read("chest-clinic")["tables"], merge_up_to=5)
    assert tree.chance({"either": YES_NO[False], "tub": YES_NO[True]}) == 0.0


def test_impossible_findings_are_refused() -> None:
    """A check that never errs finds what no account could have brought about."""
    network = Network(2, (), (Finding((1,)),), ((0,), ()), np.array([0, -1]), np.array([0, -1]))
    figures = Figures(np.array([0.1, 0.0]), np.zeros(0), (np.ones(1),), (np.zeros(0),))
    model = Model(network, figures, np.log([0.9, 0.1]), [])
    with pytest.raises(ValueError, match="exclude every account"):
        posterior(model, Evidence({}, {0: (1.0, -1.0, 0.0, 0.0)}))


def gate(inhibitions: dict[str, float], sets: list[list[str]], leak: float) -> np.ndarray:
    """P(fever | set) from the engine: the causes never come of themselves, fever is seen."""
    names = list(inhibitions)
    causes = len(names)
    links = tuple(Link((c,), causes) for c in range(causes))
    present = tuple(tuple(names.index(n) for n in some) for some in sets)
    root = np.array([min(some, default=-1) for some in present])
    network = Network(causes + 1, links, (Finding((causes,)),), present, root, root)
    figures = Figures(
        np.array([0.0] * causes + [leak]),
        np.array([1.0 - q for q in inhibitions.values()]),
        (np.ones(1),),
        (np.zeros(0),),
    )
    model = Model(network, figures, np.log(np.full(len(sets), 1 / len(sets))), [])
    chances = np.exp(log_findings(model, Evidence({}, {0: (1.0, -1.0, 0.0, 0.0)})))
    return chances[model.pattern_of_account]


def test_noisy_or_as_published() -> None:
    data = read("fever-gate")
    sets = [row["present"] for row in data["chance"]]
    for got, row in zip(gate(data["inhibitions"], sets, leak=0.0), data["chance"], strict=True):
        assert agrees(got, row["fever"]), row


def test_leak_works_as_a_cause_that_is_always_there() -> None:
    """The gate law in the comments of the Bayes Net Toolbox: a leak is an always-on parent."""
    inhibitions = {"cold": 0.6, "flu": 0.2}
    sets = [[], ["cold"], ["flu"], ["cold", "flu"]]
    leaky = gate(inhibitions, sets, leak=0.3)
    always = gate({**inhibitions, "always": 0.7}, [[*some, "always"] for some in sets], leak=0.0)
    np.testing.assert_allclose(leaky, always, atol=1e-15)
    np.testing.assert_allclose(1.0 - leaky, [0.7, 0.7 * 0.6, 0.7 * 0.2, 0.7 * 0.6 * 0.2])


def test_sprinkler_and_rain_are_a_noisy_or() -> None:
    """The wet grass of sprinkler.yaml: 0.99, 0.9, 0.9 and 0 come of two inhibitions of 0.1."""
    got = gate({"sprinkler": 0.1, "rain": 0.1}, [["sprinkler", "rain"], ["sprinkler"], []], 0.0)
    np.testing.assert_allclose(got, [0.99, 0.9, 0.0], atol=1e-15)


def two_accounts(prior: float, looks: list[tuple[float, float]]) -> Model:
    """One cause against none-of-these, with looks given as P(yes) under each."""
    network = Network(1, (), (), ((0,), ()), np.array([0, -1]), np.array([0, -1]))
    figures = Figures(np.array([0.1]), np.zeros(0), (), ())
    tables = [np.log(np.array([[p, q], [1.0 - p, 1.0 - q]])) for p, q in looks]
    return Model(network, figures, np.log([prior, 1.0 - prior]), tables)


@pytest.mark.parametrize("example", read("odds")["examples"])
def test_posterior_odds_are_prior_odds_times_the_likelihood_ratio(example: dict[str, Any]) -> None:
    """Odds form of the theorem: Clinical Epidemiology - The Essentials, p. 124 (neoweb.org.uk)."""
    prior, ratio = example["prior"], example["ratio"]
    model = two_accounts(prior, [(0.1 * ratio, 0.1)])
    got = posterior(model, Evidence({0: (0,)}))[0]
    assert agrees(got, example["posterior"])
    (push,) = pushes(model, Evidence({0: (0,)}), [Evidence()])
    at_root = list(model.root_number).index(0)
    assert push.decibans[at_root] == pytest.approx(10.0 * log10(ratio))


def test_weights_of_evidence_add_up() -> None:
    """flu.yaml again, in decibans: prior odds 1/9, ratios 4 and 7/3; the sum gives 0.509091."""
    table = read("flu")["tables"]
    fever, cough = tuple(table["fever"][True]), tuple(table["cough"][True])
    model = two_accounts(table["flu"][True][0], [fever, cough])
    got = posterior(model, Evidence({0: (0,), 1: (0,)}))
    total = 10.0 * (log10(1 / 9) + log10(4) + log10(7 / 3))
    assert decibans(got)[0] == pytest.approx(total)
    assert agrees(got[0], "0.51")


def test_impossible_accounts_only_are_refused() -> None:
    with pytest.raises(ValueError, match="exclude every account"):
        normalised(np.array([-np.inf, -np.inf]))
