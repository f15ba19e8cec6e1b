"""Which check or measurement would best prove a cause before anything is changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from diagnose.engine.ask import information
from diagnose.notes.note import Step
from diagnose.notes.wording import sentence
from diagnose.reasoning.asking import BANDS, Prospect
from diagnose.reasoning.setup import Desk
from diagnose.rulebase.book import Book, Figure

_NEARLY_AS_GOOD = 0.8
"""Among proofs that tell at least this share of what the best one tells, the quickest is taken."""

BELOW, _, ABOVE = BANDS


def outcomes_for(book: Book, cause: str, least: float = 0.0) -> dict[str, str]:
    """Return every check and measurement that speaks for a cause itself, with the outcome.

    The outcome is a check's bad answer, or ``below`` or ``above`` the window of a measurement.
    ``least``: share of cases with the cause in which it must at least be found.
    """

    def shows(figures: Mapping[str, Figure]) -> bool:
        return cause in figures and book.figure(figures[cause]) >= least

    found = {name: check.bad for name, check in book.checks.items() if shows(check.reveals)}
    for name, reading in book.measurements.items():
        if shows(reading.high_speaks_for):
            found[name] = ABOVE
        elif shows(reading.low_speaks_for):
            found[name] = BELOW
    return found


def best_proof(
    prospects: Sequence[Prospect], outcomes: Mapping[str, str], column: int
) -> Prospect | None:
    """Return the open check or measurement that tells most on one cause; None where none does.

    ``outcomes``: those that speak for the cause, see ``outcomes_for``. ``column``: the cause's
    place in ``Desk.roots``. Of those that tell nearly as much as the best the quickest is taken.
    """
    told = [
        (bits, prospect)
        for prospect in prospects
        if prospect.id in outcomes
        and (bits := _telling(prospect, outcomes[prospect.id], column)) > 0.0
    ]
    enough = _NEARLY_AS_GOOD * max((bits for bits, _ in told), default=0.0)
    good = [(prospect.minutes, -bits, prospect) for bits, prospect in told if bits >= enough]
    return min(good, key=lambda entry: entry[:2])[2] if good else None


def _telling(prospect: Prospect, outcome: str, column: int) -> float:
    """Return the bits expected on whether the cause did it or anything else did.

    0 where the outcome would rather speak for the others: it could not prove the cause.
    """
    mine = prospect.joint[:, column]
    others = prospect.joint.sum(axis=1) - mine
    row = prospect.answers.index(outcome)
    if mine[row] * others.sum() <= others[row] * mine.sum():
        return 0.0
    return float(information(np.stack([mine, others], axis=1), [0])[0])


def step_of(desk: Desk, proof: Prospect, outcome: str) -> Step:
    """Return a proof as a step to take, with the outcome that bears the cause out."""
    book, name = desk.book, proof.id
    if name in book.checks:
        check = book.checks[name]
        name, told = check.name or check.ask, check.answers[outcome]
        return Step(name, check.ask, sentence(check.how), proof.minutes, told)
    reading = book.measurements[name]
    window = desk.window(reading)
    edge = window and (window.low if outcome == BELOW else window.high)
    limit = f"it is {outcome} its window" if edge is None else f"{outcome} {edge:g} {reading.unit}"
    ask = f"Measure the {reading.name}."
    return Step(reading.name, ask, sentence(reading.how), proof.minutes, limit)
