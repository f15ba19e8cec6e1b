"""Count a book: what it holds, how its links are sourced, how big its largest clique is."""

from __future__ import annotations

from collections import Counter
from typing import Any

from diagnose.basics.errors import Fault
from diagnose.rulebase.book import Book, Link
from diagnose.rulebase.graph import accounts, cycles, largest_clique

KINDS = ("read", "common practice", "from memory")


def counts(book: Book) -> dict[str, Any]:
    """Return the counts of a book, by their plain names, in the order to show them.

    Counts that a circle of conditions makes impossible are left out.
    """
    links = [link for condition in book.conditions.values() for link in condition.leads_to]
    roots = sum(condition.base_rate is not None for condition in book.conditions.values())
    found: dict[str, Any] = {
        "defects": len(book.defects),
        "root conditions": roots,
        "mechanisms": len(book.conditions) - roots,
        "links": len(links),
        "looks": len(book.looks),
        "checks": len(book.checks),
        "measurements": len(book.measurements),
        "actions": len(book.actions),
        "sources": len(book.sources),
    }
    if not cycles(book):
        try:
            found["accounts"] = len(accounts(book))
        except Fault:
            found["accounts"] = "too many"
        found["largest clique"] = len(largest_clique(book))
    kinds = Counter(kind_of_source(book, link) for link in links)
    found["links by source"] = {kind: kinds[kind] / len(links) for kind in KINDS if links}
    return found


def kind_of_source(book: Book, link: Link) -> str:
    """Return the best that vouches for a link: a source that was read, practice, or memory."""
    trust = {book.sources[name].trust for name in link.source if name in book.sources}
    if "read" in trust:
        return "read"
    return "common practice" if "common practice" in link.source else "from memory"
