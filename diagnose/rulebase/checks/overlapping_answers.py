"""Answers that do not exclude each other by their wording, or a phrase that means two things.

Passes: ``say: smooth wall`` and ``say: jagged wall``.
Fails:  two answers of one look that say the same, or nearly; the same phrase under two answers of
one look; the same phrase under two looks or checks.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from rapidfuzz import fuzz

from diagnose.basics.errors import Problem
from diagnose.rulebase.book import Look
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps

NEARLY_THE_SAME = 93.0  # percent of letters in common


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every answer and every phrase too like another."""
    for name, look in draft.book.looks.items():
        yield from _alike(draft, name, look)
    said: dict[str, Steps] = {}
    for steps, phrase in _phrases(draft):
        first = said.setdefault(" ".join(phrase.casefold().split()), steps)
        if first != steps:
            section, *rest = first
            where = draft.place(str(section), *rest)
            what = f"The phrase {phrase!r} stands for another answer already ({where})."
            yield draft.problem(steps, what, "Keep it where it belongs, or say more.")


def _phrases(draft: Draft) -> Iterator[tuple[Steps, str]]:
    for name, look in draft.book.looks.items():
        for answer, detail in look.answers.items():
            for number, phrase in enumerate(detail.words):
                yield ("looks", name, "answers", answer, "words", number), phrase
    for name, shop_check in draft.book.checks.items():
        for answer, phrases in shop_check.words.items():
            for number, phrase in enumerate(phrases):
                yield ("checks", name, "words", answer, number), phrase


def _alike(draft: Draft, name: str, look: Look) -> Iterator[Problem]:
    for (one, first), (other, second) in combinations(look.answers.items(), 2):
        if fuzz.ratio(first.say.casefold(), second.say.casefold()) >= NEARLY_THE_SAME:
            what = f"The answers {one!r} and {other!r} say the same, or nearly."
            instead = "Word them so that only one can be true."
            yield draft.problem(("looks", name, "answers", other, "say"), what, instead)
