"""Run every check over a draft, and sort what they find by place."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from diagnose.errors import Problem
from diagnose.rulebase.checks import (
    figures_in_range,
    scale_words,
    unknown_answers,
    unknown_ids,
)
from diagnose.rulebase.draft import Draft

Check = Callable[[Draft], Iterator[Problem]]

MUST_HOLD: tuple[Check, ...] = (
    unknown_ids.check,
    unknown_answers.check,
    scale_words.check,
    figures_in_range.check,
)
"""Without these the book cannot be worked with; loading it runs them too."""

OUGHT_TO_HOLD: tuple[Check, ...] = ()
"""These find what is missing, doubtful or of no use; only ``book check`` runs them."""


def run(draft: Draft, checks: tuple[Check, ...] = MUST_HOLD + OUGHT_TO_HOLD) -> list[Problem]:
    """Return everything that is wrong with a draft, its reading included, sorted by place."""
    found = set(draft.problems)
    for check in checks:
        found.update(check(draft))
    return sorted(found)
