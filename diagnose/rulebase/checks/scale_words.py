"""A figure is a word that the scale does not define.

Passes: ``strength: often``, ``base rate: uncommon``, ``strength: 0.4``.
Fails:  ``strength: oftn``, and ``strength: uncommon``: base rates and shares have words of their
own.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.references import figures


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every figure that is an unknown word."""
    if not draft.has_scale:
        return
    scale = draft.book.scale
    for figure in figures(draft.book):
        words = scale.base_rates if figure.base_rate else scale.shares
        if isinstance(figure.value, str) and figure.value not in words:
            kind = "base rate" if figure.base_rate else "share"
            what = f"{figure.value!r} is no word for a {kind}."
            yield draft.problem(figure.steps, what, did_you_mean(figure.value, words, "word"))
