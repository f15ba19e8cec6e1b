"""What was renamed is listed under a name that the book does not have.

Passes: ``season=no: season=all-year`` where ``season`` has an answer ``all-year``.
Fails:  ``season=no: season=all-yaer``; ``season=no: saeson=all-year``; ``season=no: season``.

A new name that is itself listed as an old one is left to the check for chains.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.renamed import asked, split


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every new name without a look or check that has the answer."""
    answers = asked(draft.book)
    unread = {name for section, name in draft.faulty if section in ("looks", "checks")}
    for old, new in draft.book.renamed.items():
        entry, answer = split(new)
        if new in draft.book.renamed or entry in unread:
            continue
        if entry not in answers:
            what = f"No look or check is called {entry!r}."
            instead = did_you_mean(entry, answers, "look or check")
            yield draft.problem(("renamed", old), what, instead)
        elif answer not in answers[entry]:
            what = f"{entry!r} has no answer {answer!r}."
            instead = did_you_mean(answer, answers[entry], "answer")
            yield draft.problem(("renamed", old), what, instead)
