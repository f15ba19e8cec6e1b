"""An answer is named that its look or check does not have.

Passes: ``shows: {cavity-wall: {smooth: often}}`` where ``cavity-wall`` has an answer ``smooth``.
Fails:  ``shows: {cavity-wall: {smoth: often}}``, ``only if: {fault-form: [hoel]}``, the same under
``not if`` and in a pair, and a check whose ``bad`` or whose ``words`` name an answer that it does
not have.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.references import shows_tables
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every answer that is not one of its look's or check's."""
    for steps, name, known, key in _named(draft):
        if name not in known:
            what = f"{name!r} is not one of the answers."
            yield draft.problem(steps, what, did_you_mean(name, known, "answer"), key=key)


def _named(draft: Draft) -> Iterator[tuple[Steps, str, set[str], bool]]:
    """Yield every answer named: where, which, the answers there are, whether it is a key."""
    looks, seen = draft.book.looks, draft.book.seen()
    for steps, look, table in shows_tables(draft.book):
        if look in seen:
            for answer in table:
                yield (*steps, answer), answer, set(draft.book.answers_of(look)), True
    for name, entry in looks.items():
        for key, others in (("only if", entry.only_if), ("not if", entry.not_if)):
            for other, number, answer in _each(others):
                if other in looks:
                    steps = ("looks", name, key, other, number)
                    yield steps, answer, set(looks[other].answers), False
    for name, pair in draft.book.pairs.items():
        for look, speaks in pair.by.items():
            if look in looks:
                answers = set(looks[look].answers)
                for answer in speaks:
                    yield ("pairs", name, "by", look, answer), answer, answers, True
    for name, shop_check in draft.book.checks.items():
        known = set(shop_check.answers)
        yield ("checks", name, "bad"), shop_check.bad, known, False
        for answer in shop_check.words:
            yield ("checks", name, "words", answer), answer, known, True


def _each(others: Mapping[str, Sequence[str]]) -> Iterator[tuple[str, int, str]]:
    for other, answers in others.items():
        for number, answer in enumerate(answers):
            yield other, number, answer
