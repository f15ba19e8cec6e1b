"""A look has fewer than two or more than nine answers, or a check not exactly two.

Passes: a look with three answers; a check with ``yes`` and ``no``.
Fails:  a look with one answer; a check with ``yes``, ``no`` and ``hardly``.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft

MOST = 9
"""Every answer of a look has a number key of its own."""


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every wrong number of answers."""
    for name, look in draft.book.looks.items():
        if not 2 <= len(look.answers) <= MOST:
            what = f"A look needs 2 to {MOST} answers, and this one has {len(look.answers)}."
            steps = ("looks", name, "answers")
            yield draft.problem(steps, what, "Split the look, or join answers.", key=True)
    for name, shop_check in draft.book.checks.items():
        if len(shop_check.answers) != 2:
            what = f"A check needs 2 answers, and this one has {len(shop_check.answers)}."
            steps = ("checks", name, "answers")
            yield draft.problem(steps, what, "Ask so that two are enough.", key=True)
