"""What was renamed is listed under a name that was itself renamed since.

Passes: ``a=yes: c=sound`` and ``b=whole: c=sound``.
Fails:  ``a=yes: b=whole`` beside ``b=whole: c=sound``.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every old name that leads to another old name."""
    renamed = draft.book.renamed
    for old, new in renamed.items():
        if new in renamed:
            what = f"{new!r} is an old name too."
            yield draft.problem(("renamed", old), what, f"Write what it became: {renamed[new]}.")
