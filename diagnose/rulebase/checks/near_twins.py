"""Two causes of one fault that nothing in the book can ever tell apart.

Passes: a core that was never vented and one whose vent is blocked: a check speaks for the one
three times as often as for the other; or a look does, by an answer given for one of them in a
quarter of all cases at least.
Fails:  two root conditions on a way to the same fault that share all their checks, readings and
looks. What would tell them apart? If there is something, write it down as a check; if nothing
would, they are one cause under two names.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from diagnose.basics.errors import Problem
from diagnose.rulebase.book import Book, Condition
from diagnose.rulebase.checks.look_alikes import FACTOR, spread_table
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.graph import cycles

OFTEN_SEEN = 0.25
"""An answer that is rarer than this with both causes seldom helps anybody."""
Found = dict[str, float]
"""Check, or reading with a side -> how often it is found with a condition."""


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every such pair, at the later of the two."""
    book = draft.book
    if cycles(book) or not draft.has_scale:
        return
    ends = _faults(book)
    roots = [name for name, entry in book.conditions.items() if entry.base_rate is not None]
    found = {name: _found(draft, name) for name in roots}
    by_chance = _by_chance(draft)
    for one, other in combinations(roots, 2):
        first, second = book.conditions[one], book.conditions[other]
        if (
            (found[one] or found[other])  # what nothing confirms is told elsewhere
            and ends[one] & ends[other]
            and _meet(first, second)
            and not _findings_differ(found[one], found[other], by_chance)
            and not _looks_differ(draft, first, second)
        ):
            what = f"Nothing tells {other!r} from {one!r}."
            instead = "Add a check or a look that does, or make them one."
            yield draft.problem(("conditions", other), what, instead, key=True)


def _faults(book: Book) -> dict[str, frozenset[str]]:
    """Return the defects that each condition can bring about."""
    known: dict[str, frozenset[str]] = {}

    def ends(name: str) -> frozenset[str]:
        if name not in known:
            entry = book.conditions.get(name)
            onward = [ends(link.to) for link in entry.leads_to] if entry else []
            known[name] = frozenset({name} & {*book.defects}).union(*onward)
        return known[name]

    return {name: ends(name) for name in book.conditions}


def _found(draft: Draft, condition: str) -> Found:
    book = draft.book
    told = {name: each.reveals for name, each in book.checks.items()}
    told |= {f"{name} low": each.low_speaks_for for name, each in book.measurements.items()}
    told |= {f"{name} high": each.high_speaks_for for name, each in book.measurements.items()}
    return {n: draft.figure(t[condition]) or 0.0 for n, t in told.items() if condition in t}


def _by_chance(draft: Draft) -> Found:
    """Return how often each bad answer, or reading out of its window, is found without a cause."""
    book = draft.book
    stray = book.scale.stray_reading
    alarms = {name: draft.figure(each.false_alarm) or 0.0 for name, each in book.checks.items()}
    return alarms | {f"{n} {side}": stray for n in book.measurements for side in ("low", "high")}


def _meet(one: Condition, other: Condition) -> bool:
    """Tell whether some metal and process can have both."""
    if one.scope is None or other.scope is None:
        return True
    kinds = ((one.scope.metal, other.scope.metal), (one.scope.process, other.scope.process))
    return all(not mine or not theirs or {*mine} & {*theirs} for mine, theirs in kinds)


def _findings_differ(one: Found, other: Found, by_chance: Found) -> bool:
    return any(
        _differ(max(one.get(n, 0.0), by_chance[n]), max(other.get(n, 0.0), by_chance[n]))
        for n in one.keys() | other.keys()
    )


def _looks_differ(draft: Draft, one: Condition, other: Condition) -> bool:
    for name in one.shows.keys() | other.shows.keys():
        if name in draft.book.seen():
            mine, theirs = (
                spread_table(draft, name, each.shows.get(name, {})) for each in (one, other)
            )
            if any(_differ(mine[answer], theirs[answer], OFTEN_SEEN) for answer in mine):
                return True
    return False


def _differ(one: float, other: float, least: float = 0.0) -> bool:
    most = max(one, other)
    return most > least and most >= FACTOR * min(one, other)
