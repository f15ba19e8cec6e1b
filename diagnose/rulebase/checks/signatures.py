"""What a scrap sheet's counts answer must be answers of the look, by a factor that sheets have.

Passes: ``{factor: plate, look: plate-place, one: one-impression}`` where the look has that answer.
Fails:  the answer misspelt, a factor that no sheet is sorted by, and a signature without an answer
for a level, so that nothing can speak against even counts.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.book import FACTORS, Signature
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every signature that says nothing or names what is not known."""
    for name, signature in draft.book.signatures.items():
        at = ("signatures", name)
        if signature.factor not in FACTORS:
            what = f"No sheet is sorted by {signature.factor!r}."
            way_out = did_you_mean(signature.factor, FACTORS, "factor")
            yield draft.problem((*at, "factor"), what, way_out)
        if not (signature.one or signature.only or signature.levels):
            what = "No answer is named for a level that stands apart."
            yield draft.problem(at, what, "Name one under 'one', 'only' or 'levels'.", key=True)
        if signature.look in draft.book.looks:
            known = set(draft.book.looks[signature.look].answers)
            for steps, answer in _answers(signature):
                if answer not in known:
                    what = f"{answer!r} is not one of the answers."
                    way_out = did_you_mean(answer, known, "answer")
                    yield draft.problem((*at, *steps), what, way_out)


def _answers(signature: Signature) -> Iterator[tuple[Steps, str]]:
    """Yield every answer that a signature names, with where it stands."""
    for key, answer in (("one", signature.one), ("only", signature.only), ("even", signature.even)):
        if answer:
            yield (key,), answer
    for level, answer in signature.levels.items():
        yield ("levels", level), answer
