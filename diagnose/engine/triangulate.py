"""From factor scopes to a tree of cliques: min-fill elimination and merging of small cliques.

References
----------
S. L. Lauritzen and D. J. Spiegelhalter, "Local computations with probabilities on graphical
structures", J. R. Statist. Soc. B 50 (1988) 157-224 (from memory): the junction tree.

"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

Variables = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Clique:
    """One clique of the tree.

    ``variables``: those eliminated later first, so that all cliques agree on the order and the
    separator towards the parent comes before the variables summed out here. ``separator``: how
    many of them are shared with the parent (0 at a root of the forest).
    ``parent``: index of the parent clique, or -1. Children come before their parents.
    """

    variables: Variables
    separator: int
    parent: int


def neighbours(scopes: Iterable[Variables], size: int) -> list[set[int]]:
    """Return for every variable those that share a scope with it."""
    near: list[set[int]] = [set() for _ in range(size)]
    for scope in scopes:
        for one, other in combinations(scope, 2):
            near[one].add(other)
            near[other].add(one)
    return near


def elimination_order(scopes: Sequence[Variables], size: int) -> list[int]:
    """Return the greedy min-fill order over ``size`` variables (ties: fewest neighbours, index).

    >>> elimination_order([(0, 1), (1, 2)], 3)
    [0, 1, 2]
    """
    near = neighbours(scopes, size)
    missing = {v: _fill(near, v) for v in range(size)}
    order = []
    while missing:
        best = min(missing, key=lambda v: (missing[v], len(near[v]), v))
        order.append(best)
        del missing[best]
        touched = _eliminate(near, best)
        for v in touched & missing.keys():
            missing[v] = _fill(near, v)
    return order


def _fill(near: list[set[int]], v: int) -> int:
    return sum(1 for a, b in combinations(near[v], 2) if b not in near[a])


def _eliminate(near: list[set[int]], v: int) -> set[int]:
    """Take ``v`` out, join its neighbours, and return all whose fill may have changed."""
    around = near[v]
    touched = set(around)
    for a in around:
        near[a].discard(v)
    for a, b in combinations(sorted(around), 2):
        if b not in near[a]:
            near[a].add(b)
            near[b].add(a)
            touched |= near[a] & near[b]
    near[v] = set()
    return touched


def clique_tree(
    scopes: Sequence[Variables], order: Sequence[int], merge_up_to: int
) -> list[Clique]:
    """Return the forest of cliques that the elimination ``order`` gives.

    A clique is merged into its parent while their union has at most ``merge_up_to`` variables:
    fewer, larger steps are faster than many tiny ones.
    """
    members, parents = _elimination_cliques(scopes, order)
    own = [{v} for v in order]
    alive = [True] * len(order)
    for k in range(len(order)):
        p = parents[k]
        if p < 0:
            continue
        union = members[k] | members[p]
        if len(union) <= max(merge_up_to, len(members[p]), len(members[k])):
            members[p] = union
            own[p] |= own[k]
            alive[k] = False
    return _ordered(members, own, parents, alive, order)


def _elimination_cliques(
    scopes: Sequence[Variables], order: Sequence[int]
) -> tuple[list[set[int]], list[int]]:
    near = neighbours(scopes, len(order))
    place = {v: k for k, v in enumerate(order)}
    members, parents = [], []
    for k, v in enumerate(order):
        rest = set(near[v])
        members.append(rest | {v})
        parents.append(min((place[u] for u in rest), default=-1))
        _eliminate(near, v)
        assert all(place[u] > k for u in rest)
    return members, parents


def _ordered(
    members: list[set[int]],
    own: list[set[int]],
    parents: list[int],
    alive: list[bool],
    order: Sequence[int],
) -> list[Clique]:
    """Return the living cliques, children first, their parents those that still live."""

    def living(k: int) -> int:
        while k >= 0 and not alive[k]:
            k = parents[k]
        return k

    place = {v: k for k, v in enumerate(order)}
    number = {k: i for i, k in enumerate(k for k in range(len(members)) if alive[k])}
    number[-1] = -1
    return [
        Clique(
            tuple(sorted(members[k], key=place.__getitem__, reverse=True)),
            len(members[k] - own[k]),
            number[living(parents[k])],
        )
        for k in number
        if k >= 0
    ]
