"""A text is empty, or only spaces.

Passes: ``how: the vent wire was not pushed through``.
Fails:  ``how: ''``.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every blank text in every file, whatever it stands for."""
    for document in draft.documents:
        for steps, value in _values(document.data):
            if isinstance(value, str) and not value.strip():
                what = "This text is empty."
                yield Problem(document.place_of(steps), what, "Fill it in, or take the key out.")


def _values(data: Any) -> Iterator[tuple[Steps, Any]]:
    """Yield every value, however deep, with the steps that lead to it."""
    waiting: list[tuple[Steps, Any]] = [((), data)]
    while waiting:
        steps, value = waiting.pop()
        yield steps, value
        if isinstance(value, dict):
            waiting.extend(((*steps, key), part) for key, part in value.items())
        elif isinstance(value, list):
            waiting.extend(((*steps, number), part) for number, part in enumerate(value))
