from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.rulebase import graph
from diagnose.rulebase.book import Book, Check, Condition, Defect, Link, Scope
from diagnose.rulebase.graph import (
    accounts,
    causal_graph,
    cycles,
    largest_clique,
    sources,
)
from diagnose.rulebase.job import Job
from diagnose.rulebase.reading import draft
from tests import shipped

GOOD = Path(__file__).parent / "good"


@cache
def small_book() -> Book:
    return draft(GOOD).book


@pytest.fixture(scope="module")
def good() -> Book:
    return small_book()


def link(to: str, *needs: str, scope: Scope | None = None) -> Link:
    return Link(to=to, strength=0.5, because="so", source=("shop-book",), needs=needs, scope=scope)


def condition(*links: Link, root: bool = True, scope: Scope | None = None) -> Condition:
    return Condition(
        name="a state",
        area="sand",
        source=("shop-book",),
        how="so",
        base_rate=0.1 if root else None,
        leads_to=links,
        scope=scope,
    )


def book_of(good: Book, conditions: dict[str, Condition]) -> Book:
    flaw = Defect(name="flaw", what="a flaw", contain="look", shows={}, source=("shop-book",))
    return Book(scale=good.scale, conditions=conditions, defects={"flaw": flaw})


@st.composite
def acyclic(draw: st.DrawFn) -> list[tuple[int, int]]:
    size = draw(st.integers(1, 7))
    pairs = [(a, b) for b in range(size + 1) for a in range(b)]
    return draw(st.lists(st.sampled_from(pairs), unique=True, max_size=14))


@settings(max_examples=100, deadline=None)
@given(acyclic())
def test_accounts_are_the_simple_paths_networkx_finds(edges: list[tuple[int, int]]) -> None:
    last = max((b for _, b in edges), default=1)
    name = {number: f"c{number}" for number in range(last)} | {last: "flaw"}
    conditions = {
        name[a]: condition(*(link(name[b]) for start, b in edges if start == a), root=a % 3 != 2)
        for a in range(last)
    }
    book = book_of(small_book(), conditions)
    plain = nx.DiGraph((name[a], name[b]) for a, b in edges)
    expected = {
        tuple(path)
        for root, entry in conditions.items()
        if entry.base_rate is not None and root in plain and "flaw" in plain
        for path in nx.all_simple_paths(plain, root, "flaw")
    }
    found = accounts(book)
    assert {(*account.path, account.defect) for account in found} == expected
    assert len(found) == len(expected)
    for account in found:
        steps = [*account.path, account.defect]
        assert [one.to for one in account.links] == steps[1:]
        assert account.root == steps[0]
        assert all(b in [x.to for x in conditions[a].leads_to] for a, b in pairwise(steps))


def test_the_accounts_of_the_shipped_book_are_those_networkx_finds() -> None:
    book = shipped.book()
    plain = causal_graph(book)
    plain.remove_edges_from([(a, b) for a, b, links in plain.edges(data="links") if not links])
    expected = sum(
        1
        for name, entry in book.conditions.items()
        if entry.base_rate is not None
        for defect in book.defects
        for _ in nx.all_simple_paths(plain, name, defect)
    )
    found = accounts(book)
    assert len({(account.path, account.defect) for account in found}) == expected
    assert {account.defect for account in found} == book.defects.keys()


def test_the_accounts_of_the_small_book(good: Book) -> None:
    assert [(account.path, account.defect) for account in accounts(good)] == [
        (("sand-too-wet", "gas-excess"), "blow"),
        (("sand-too-wet",), "pinholes"),
        (("section-thin",), "pinholes"),
    ]
    assert sources(good, accounts(good)[0]) == ["shop-book", "common practice"]


def test_scopes_leave_accounts_out(good: Book) -> None:
    def paths(**where: object) -> set[str]:
        return {account.path[-1] for account in accounts(good, Job(**where))}  # type: ignore[arg-type]

    assert paths(metal="grey iron", section=30.0) == {"gas-excess", "sand-too-wet", "section-thin"}
    assert paths(metal="ductile iron") == {"sand-too-wet", "section-thin"}
    assert paths(section=50.0) == {"sand-too-wet", "section-thin"}


def test_a_link_whose_need_is_out_of_scope_does_not_work(good: Book) -> None:
    only_steel = Scope(metal=("steel",))
    conditions = {
        "a": condition(link("flaw", "b")),
        "b": condition(link("flaw"), scope=only_steel),
    }
    book = book_of(good, conditions)
    assert [account.root for account in accounts(book, Job("grey iron"))] == []
    assert [account.root for account in accounts(book, Job("steel"))] == ["a", "b"]


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)), unique=True, max_size=12))
def test_circles_are_found_where_networkx_finds_them(edges: list[tuple[int, int]]) -> None:
    conditions = {
        f"c{a}": condition(*(link(f"c{b}") for start, b in edges if start == a)) for a in range(6)
    }
    book = book_of(small_book(), conditions)
    plain = nx.DiGraph((f"c{a}", f"c{b}") for a, b in edges)
    found = cycles(book)
    assert bool(found) is not nx.is_directed_acyclic_graph(plain)
    for circle in found:
        assert all(plain.has_edge(a, b) for a, b in pairwise([*circle, circle[0]]))
    knots = [k for k in nx.strongly_connected_components(plain) if len(k) > 1]
    assert len([circle for circle in found if len(circle) > 1]) == len(knots)


def test_accounts_refuse_a_circle(good: Book) -> None:
    book = book_of(good, {"a": condition(link("b")), "b": condition(link("a"))})
    with pytest.raises(Fault, match="round in a circle"):
        accounts(book)


def test_accounts_refuse_what_would_never_end(good: Book) -> None:
    conditions = {
        f"c{layer}-{k}": condition(
            *(link(f"c{layer + 1}-{j}" if layer < 11 else "flaw") for j in range(4))
        )
        for layer in range(12)
        for k in range(4)
    }
    with pytest.raises(Fault, match=str(graph.MOST_ACCOUNTS)):
        accounts(book_of(good, conditions))


def test_a_chain_of_a_thousand_conditions(good: Book) -> None:
    conditions = {
        f"c{k}": condition(link(f"c{k + 1}" if k < 999 else "flaw"), root=k == 0)
        for k in range(1000)
    }
    book = book_of(good, conditions)
    (account,) = accounts(book)
    assert len(account.path) == 1000
    assert cycles(book) == []


def check(*reveals: str) -> Check:
    return Check(
        ask="a",
        how="b",
        minutes=1,
        answers={"yes": "y", "no": "n"},
        bad="yes",
        reveals=dict.fromkeys(reveals, 0.5),
        false_alarm=0.1,
        source=("shop-book",),
    )


def test_the_largest_clique_of_shapes_known_beforehand(good: Book) -> None:
    chain = {f"c{k}": condition(*([link(f"c{k + 1}")] if k < 5 else [])) for k in range(6)}
    assert len(largest_clique(replace(book_of(good, chain), checks={"x": check("c5")}))) == 2
    pair = {"a": condition(link("c")), "b": condition(link("c")), "c": condition()}
    assert sorted(largest_clique(replace(book_of(good, pair), checks={"x": check("c")}))) == [
        "a",
        "b",
        "c",
    ]
    many = {f"p{k}": condition(link("c")) for k in range(30)} | {"c": condition()}
    assert len(largest_clique(replace(book_of(good, many), checks={"x": check("c")}))) == 2


def test_what_no_finding_depends_on_stays_out_of_the_cliques(good: Book) -> None:
    pair = {"a": condition(link("c")), "b": condition(link("c")), "c": condition()}
    assert largest_clique(book_of(good, pair)) == []


def test_a_grid_has_cliques_no_smaller_than_its_treewidth(good: Book) -> None:
    """The treewidth of an n x n grid is n (H. L. Bodlaender, 1998, from memory)."""
    size = 5
    conditions = {
        f"g{x}-{y}": condition(
            *(link(f"g{a}-{b}") for a, b in ((x + 1, y), (x, y + 1)) if a < size and b < size)
        )
        for x in range(size)
        for y in range(size)
    }
    last = f"g{size - 1}-{size - 1}"
    found = largest_clique(replace(book_of(good, conditions), checks={"x": check(last)}))
    assert size + 1 <= len(found) <= 2 * size
