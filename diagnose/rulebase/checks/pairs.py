"""A pair of look-alikes that its own looks do not tell apart.

Passes: ``pair: [pinholes, sponge]``, ``by: {hole-wall: {smooth: pinholes}}``, where both name each
other under ``look alikes`` and a smooth wall is three times as likely with pinholes.
Fails:  a defect paired with itself, a pair that is not declared as look-alikes, an answer that
speaks for neither of the two, and one whose figures do not bear out what the pair says.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.book import Book, Pair
from diagnose.rulebase.checks.look_alikes import FACTOR, spread_table
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every pair that does not hold what it says."""
    defects = draft.book.defects
    for name, pair in draft.book.pairs.items():
        one, other = pair.pair
        if one == other:
            what = "A defect cannot be taken for itself."
            yield draft.problem(("pairs", name, "pair"), what, "Name two defects.")
        elif one in defects and other in defects:
            if other not in defects[one].look_alikes:
                what = f"{one!r} and {other!r} are not declared as look alikes."
                instead = "Add each to the look alikes of the other."
                yield draft.problem(("pairs", name, "pair"), what, instead)
            yield from _borne_out(draft, name, pair)


def _borne_out(draft: Draft, name: str, pair: Pair) -> Iterator[Problem]:
    for look, answer, for_, steps in _separated(draft.book, name, pair):
        if for_ not in pair.pair:
            what = f"{for_!r} is neither of the pair."
            yield draft.problem(steps, what, f"Write {pair.pair[0]!r} or {pair.pair[1]!r}.")
            continue
        (against,) = {*pair.pair} - {for_}
        likely, unlikely = (_share(draft, look, answer, one) for one in (for_, against))
        if likely < FACTOR * unlikely:
            what = (
                f"{answer!r} has {likely:.2f} under {for_!r} and {unlikely:.2f} under {against!r}."
            )
            instead = f"It must differ by {FACTOR:g} times: mend the tables, or leave it out."
            yield draft.problem(steps, what, instead)


def _separated(book: Book, name: str, pair: Pair) -> Iterator[tuple[str, str, str, Steps]]:
    """Yield each look with an answer it has, what that speaks for, and where it is written."""
    for look, answers in pair.by.items():
        for answer, for_ in answers.items():
            if look in book.looks and answer in book.looks[look].answers:
                yield look, answer, for_, ("pairs", name, "by", look, answer)


def _share(draft: Draft, look: str, answer: str, defect: str) -> float:
    return spread_table(draft, look, draft.book.defects[defect].shows.get(look, {}))[answer]
