"""A name is listed as an old one, and the book still has it.

Passes: ``season=no: season=all-year`` where ``season`` has no answer ``no`` any more.
Fails:  the same where it still has one; an old name that is not ``entry=answer``.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.renamed import asked, split


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every old name that is none."""
    answers = asked(draft.book)
    for old in draft.book.renamed:
        entry, answer = split(old)
        if not entry or not answer:
            what = f"{old!r} is no answer of a look or check."
            yield draft.problem(("renamed", old), what, "Write 'entry=answer'.", key=True)
        elif answer in answers.get(entry, ()):
            what = f"{old!r} is listed as an old name, but the book still has it."
            yield draft.problem(("renamed", old), what, "Take one of the two away.", key=True)
