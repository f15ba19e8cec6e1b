"""An entry gives no source, or a source is listed that no entry uses, or its trust is unknown.

Passes: ``source: [common practice]``, ``source: [iron-defect-sheets]``.
Fails:  ``source: []``; a source in sources.yaml that nothing cites; ``trust: good`` in
sources.yaml, where only ``read`` and ``memory`` mean anything.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import ENTRIES, Draft
from diagnose.rulebase.references import references
from diagnose.rulebase.yamlread import Steps

TRUST = ("read", "memory")


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every missing, unused or oddly trusted source."""
    for steps, entry in _sourced(draft):
        if not entry.source:
            instead = "Name one, or write [common practice] or [from memory]."
            yield draft.problem((*steps, "source"), "No source is given.", instead)
    used = {r.name for r in references(draft.book) if r.sections == ("sources",)}
    for name, source in draft.book.sources.items():
        if name not in used and not draft.faulty:
            what = f"Nothing cites the source {name!r}."
            yield draft.problem(("sources", name), what, "Cite it, or take it out.", key=True)
        if source.trust not in TRUST:
            what = f"The trust {source.trust!r} is not known."
            yield draft.problem(("sources", name, "trust"), what, "Write 'read' or 'memory'.")


def _sourced(draft: Draft) -> Iterator[tuple[Steps, Any]]:
    book = draft.book
    if draft.has_scale:
        yield ("scale",), book.scale
    for section in (*ENTRIES, "glossary"):
        for name, entry in getattr(book, section).items():
            yield (section, name), entry
    for name, condition in book.conditions.items():
        for number, link in enumerate(condition.leads_to):
            yield ("conditions", name, "leads to", number), link
    for name, measurement in book.measurements.items():
        for number, window in enumerate(measurement.windows):
            yield ("measurements", name, "windows", number), window
