"""Elimination orders and clique trees, against what defines them."""

from __future__ import annotations

from itertools import combinations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st
from networkx.algorithms.approximation import treewidth_min_fill_in

from diagnose.engine.triangulate import Variables, clique_tree, elimination_order

SIZE = 12


def shared(scopes: list[Variables]) -> nx.Graph:
    """The graph in which variables of one scope are neighbours."""
    graph = nx.empty_graph(SIZE)
    for scope in scopes:
        graph.add_edges_from(combinations(scope, 2))
    return graph


scopes_of_factors = st.lists(
    st.lists(st.integers(0, SIZE - 1), min_size=1, max_size=4, unique=True).map(tuple), max_size=14
)


@given(scopes=scopes_of_factors, merge=st.integers(0, 6))
def test_every_scope_lies_within_one_clique(scopes: list[Variables], merge: int) -> None:
    cliques = clique_tree(scopes, elimination_order(scopes, SIZE), merge)
    for scope in scopes:
        assert any(set(scope) <= set(clique.variables) for clique in cliques)


@given(scopes=scopes_of_factors, merge=st.integers(0, 6))
def test_the_cliques_that_hold_a_variable_hang_together(
    scopes: list[Variables], merge: int
) -> None:
    """The running intersection property: without it sums over parts do not add up."""
    cliques = clique_tree(scopes, elimination_order(scopes, SIZE), merge)
    tree = nx.empty_graph(len(cliques))
    tree.add_edges_from((k, c.parent) for k, c in enumerate(cliques) if c.parent >= 0)
    assert nx.is_forest(tree)
    for v in range(SIZE):
        holding = [k for k, clique in enumerate(cliques) if v in clique.variables]
        assert nx.is_connected(tree.subgraph(holding))


@given(scopes=scopes_of_factors, merge=st.integers(0, 6))
def test_separators_are_what_clique_and_parent_share(scopes: list[Variables], merge: int) -> None:
    cliques = clique_tree(scopes, elimination_order(scopes, SIZE), merge)
    summed_out = []
    for k, clique in enumerate(cliques):
        kept = set(clique.variables[: clique.separator])
        summed_out += clique.variables[clique.separator :]
        if clique.parent < 0:
            assert not kept
        else:
            assert clique.parent > k
            assert kept == set(clique.variables) & set(cliques[clique.parent].variables)
    assert sorted(summed_out) == list(range(SIZE))


@given(scopes=scopes_of_factors)
def test_min_fill_is_about_as_good_as_that_of_a_library(scopes: list[Variables]) -> None:
    """Against networkx: both are greedy and break ties their own way, so within one variable."""
    cliques = clique_tree(scopes, elimination_order(scopes, SIZE), merge_up_to=0)
    width, _ = treewidth_min_fill_in(shared(scopes))
    assert max(len(clique.variables) for clique in cliques) - 1 <= width + 1


@given(scopes=scopes_of_factors)
def test_a_chordal_graph_is_taken_as_it_is(scopes: list[Variables]) -> None:
    """Where nothing needs filling in, min-fill finds the largest clique and no larger."""
    chordal, _ = nx.complete_to_chordal_graph(shared(scopes))
    filled = [tuple(edge) for edge in chordal.edges]
    cliques = clique_tree(filled, elimination_order(filled, SIZE), merge_up_to=0)
    largest = max(len(clique) for clique in nx.find_cliques(chordal))
    assert max(len(clique.variables) for clique in cliques) == largest


@given(scopes=scopes_of_factors, small=st.integers(0, 3), more=st.integers(1, 3))
def test_merging_makes_fewer_cliques_and_none_too_large(
    scopes: list[Variables], small: int, more: int
) -> None:
    order = elimination_order(scopes, SIZE)
    fine, coarse = (clique_tree(scopes, order, merge) for merge in (small, small + more))
    assert len(coarse) <= len(fine)
    widest = max(len(clique.variables) for clique in fine)
    assert max(len(clique.variables) for clique in coarse) <= max(widest, small + more)
