"""The causal graph: conditions, links, accounts, and walks through it.

An account is one causal path from a condition with a base rate through further conditions to a
defect. How closely the conditions hang together decides whether exact sums are feasible: see
``largest_clique``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from typing import Any

from diagnose.basics.errors import Fault
from diagnose.rulebase.book import Book, Link
from diagnose.rulebase.job import ANY, Job

MOST_ACCOUNTS = 50_000
"""More accounts than this would make every answer slow."""

WIDEST_LINK = 6
"""Conditions that one link may join: its cause and what else it needs."""


@dataclass(frozen=True, slots=True)
class Account:
    """One causal path: ``path`` runs from the root to the last condition before the defect.

    ``links[i]`` leads from ``path[i]`` to the next condition, the last one to the defect.
    """

    root: str
    path: tuple[str, ...]
    defect: str
    links: tuple[Link, ...]


def live_links(book: Book, job: Job = ANY) -> Iterator[tuple[str, Link]]:
    """Yield every link that can work in a job, with the condition it starts from.

    A link works where it, both its ends and everything it needs hold for the job.
    """
    live = {c for c, entry in book.conditions.items() if job.holds_for(entry.scope)}
    ends = live | {d for d, entry in book.defects.items() if job.holds_for(entry.scope)}
    for name in book.conditions:
        for link in book.conditions[name].leads_to if name in live else ():
            if link.to in ends and live.issuperset(link.needs) and job.holds_for(link.scope):
                yield name, link


def causal_graph(book: Book, job: Job = ANY) -> Any:
    """Return the causal graph (a networkx DiGraph) of a job.

    Nodes are the ids of conditions and defects; an edge's ``links`` are the links that make it,
    and ``needed_by`` the links for which its start is only a second condition.
    """
    import networkx as nx

    graph = nx.DiGraph()
    graph.add_nodes_from(book.conditions)
    graph.add_nodes_from(book.defects)
    for name, link in live_links(book, job):
        _edge(graph, name, link.to)["links"] += (link,)
        for needed in link.needs:
            _edge(graph, needed, link.to)["needed_by"] += (link,)
    return graph


def _edge(graph: Any, start: str, end: str) -> dict[str, tuple[Link, ...]]:
    if not graph.has_edge(start, end):
        graph.add_edge(start, end, links=(), needed_by=())
    edge: dict[str, tuple[Link, ...]] = graph.edges[start, end]
    return edge


def cycles(book: Book) -> list[list[str]]:
    """Return one cycle of every knot of conditions that bring about each other; [] if none.

    A condition that a link needs counts as one of its causes.
    """
    import networkx as nx

    graph = causal_graph(book)
    found = [[name] for name in graph if graph.has_edge(name, name)]
    graph.remove_edges_from([(name, name) for (name,) in found])
    for knot in nx.strongly_connected_components(graph):
        if len(knot) > 1:
            part = graph.subgraph(sorted(knot))
            found.append([start for start, _ in nx.find_cycle(part, min(knot))])
    return sorted(found)


def accounts(book: Book, job: Job = ANY) -> list[Account]:
    """Return every account that a job allows, in the order of the book's conditions.

    Raises Fault where conditions go round in a circle, or where there are too many accounts.
    """
    onward: dict[str, list[Link]] = {name: [] for name in book.conditions}
    for name, link in live_links(book, job):
        onward[name].append(link)
    tails = _tails(book, onward)
    return [
        Account(root=name, path=path, defect=links[-1].to, links=links)
        for name, condition in book.conditions.items()
        if condition.base_rate is not None
        for path, links in tails[name]
    ]


def sources(book: Book, account: Account) -> list[str]:
    """Return the sources of an account: of its root, then of its links, each once."""
    cited = [*book.conditions[account.root].source]
    cited += [source for link in account.links for source in link.source]
    return list(dict.fromkeys(cited))


def _tails(
    book: Book, onward: dict[str, list[Link]]
) -> dict[str, list[tuple[tuple[str, ...], tuple[Link, ...]]]]:
    """Return, for each condition, every way on from it to a defect: conditions and links."""
    following = {
        name: [link.to for link in links if link.to in book.conditions]
        for name, links in onward.items()
    }
    tails: dict[str, list[tuple[tuple[str, ...], tuple[Link, ...]]]] = {}
    ways = 0
    try:
        order = list(TopologicalSorter(following).static_order())
    except CycleError as error:
        raise Fault(f"Conditions go round in a circle: {' > '.join(error.args[1])}.") from None
    for name in order:
        ways += sum(len(tails.get(link.to, " ")) for link in onward[name])
        if ways > MOST_ACCOUNTS:
            raise Fault(f"There are more than {MOST_ACCOUNTS} causal paths, too many to weigh.")
        tails[name] = []
        for link in onward[name]:
            if link.to in book.defects:
                tails[name].append(((name,), (link,)))
            else:
                tails[name] += [((name, *p), (link, *rest)) for p, rest in tails[link.to]]
    return tails


def largest_clique(book: Book) -> list[str]:
    """Return the conditions of the largest clique that exact inference has to sum over.

    The engine's own factors are triangulated by its own min-fill order; a variable that only
    splits a noisy-OR is called ``(hidden)``. Inference takes time and room in proportion to two
    to the power of the length of this list.
    """
    from diagnose.engine.network import Scribe
    from diagnose.engine.triangulate import clique_tree, elimination_order

    widest = _widest_link(book)
    if len(widest) > WIDEST_LINK:
        return widest
    names = list(book.conditions)
    scribe = Scribe(*_network(book))
    scopes = [factor.scope for factor in scribe.factors]
    order = elimination_order(scopes, scribe.variables)
    cliques = (clique.variables for clique in clique_tree(scopes, order, 0))
    widest_clique = max(cliques, key=len, default=())
    return [
        names[scribe.observable[v]] if v < len(scribe.observable) else "(hidden)"
        for v in sorted(widest_clique)
    ]


def _widest_link(book: Book) -> list[str]:
    """Return a cause with all it needs for the link that needs most."""
    links = [[name, *link.needs] for name, c in book.conditions.items() for link in c.leads_to]
    return max(links, key=len, default=[])


def _network(book: Book) -> tuple[Any, Any]:
    """Return the shape of the book's network for the engine, with figures that do not matter."""
    import numpy as np

    from diagnose.engine.network import Figures, Finding, Link, Network

    number = {name: i for i, name in enumerate(book.conditions)}
    links = tuple(
        Link(tuple(number[cause] for cause in (name, *link.needs)), number[link.to])
        for name, link in live_links(book)
        if link.to in number
    )
    findings = [Finding(_numbers(number, check.reveals)) for check in book.checks.values()]
    for reading in book.measurements.values():
        low, high = reading.low_speaks_for, reading.high_speaks_for
        findings.append(Finding(_numbers(number, low), _numbers(number, high)))
    nobody = np.array([-1])
    network = Network(len(number), links, tuple(findings), ((),), nobody, nobody)
    figures = Figures(
        leak=np.zeros(len(number)),
        strength=np.zeros(len(links)),
        low=tuple(np.zeros(len(finding.low)) for finding in findings),
        high=tuple(np.zeros(len(finding.high)) for finding in findings),
    )
    return network, figures


def _numbers(number: dict[str, int], names: Iterable[str]) -> tuple[int, ...]:
    return tuple(number[name] for name in names if name in number)
