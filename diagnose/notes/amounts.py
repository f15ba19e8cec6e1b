"""How much to correct by, worked from the readings of the reject, with their doubt."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, log
from typing import TYPE_CHECKING

from diagnose.notes.rounding import has_two_figures, in_words, weighable
from diagnose.notes.wording import sentence
from diagnose.reasoning.derived import Known, aim, work_sum
from diagnose.rulebase.bands import edge
from diagnose.rulebase.book import Action, Amount

if TYPE_CHECKING:
    from diagnose.session.session import Session

NINE_IN_TEN = 1.645
"""Standard deviations either way between which the right amount lies nine times in ten."""
PARTED = 5.0
"""A part of an amount is weighed so much finer than the whole, so that the parts add up to it."""
HAZARD = re.compile(
    r"stand clear|dry and warm|damp under|poison|lungs|explode|shield|lifting|Molten iron|flame|"
    r"lets iron run out|red-hot|kicks|blow of the metal",
    re.IGNORECASE,
)
"""What is said of a hazard goes without saying where the amount has a safety rule of its own."""
WALL = "ruling-section"
"""The measurement that the ruling section of the job stands for, where no wall was measured."""


@dataclass(frozen=True, slots=True)
class Figured:
    """An amount before it is rounded.

    ``error``: its standard deviation. ``start``: for a temperature, what it is now.
    """

    value: float
    error: float
    unit: str
    numbers: str
    warnings: tuple[str, ...] = ()
    start: float | None = None


def amounts(session: Session, action: Action) -> Iterator[str]:
    """Yield how much, by the readings; nothing where they do not say."""
    known = known_values(session)
    said = False
    for wanted in action.worked:
        if said and wanted.otherwise:
            continue
        figured = figured_of(session, wanted, known)
        if figured is not None and (told := in_a_sentence(wanted, figured)):
            said = True
            yield told


def known_values(session: Session) -> dict[str, Known]:
    """Return what is known in numbers: the readings, and the wall that the job was given with."""
    known = {
        reading.id: Known(sum(reading.values) / len(reading.values), reading.error)
        for reading in session.readings()
    }
    section = session.reject.section
    if section is not None and WALL in session.book.measurements:
        known.setdefault(WALL, Known(section, 0.0))
    return known


def figured_of(session: Session, wanted: Amount, known: dict[str, Known]) -> Figured | None:
    """Work one amount; None where a reading is lacking or asks for nothing."""
    figured = _by_sum(session, wanted, known) if wanted.by else _change(session, wanted, known)
    return figured if figured is not None and figured.value > 0.0 else None


def _by_sum(session: Session, wanted: Amount, known: dict[str, Known]) -> Figured | None:
    book = session.book
    aims = {
        name: aim(session.desk.window(book.measurements[entry]), wanted.ends.get(name, ""))
        for name, entry in wanted.aims.items()
    }
    result = work_sum(book, wanted, known, aims)
    if result is None:
        return None
    worked, error = result
    if worked.unit == "times" and wanted.way and (worked.value > 1.0) != (wanted.way == "up"):
        return None
    numbers = worked.working[-2].removeprefix("= ")
    start = known[wanted.start].value if wanted.start in known else None
    return Figured(worked.value, error, worked.unit, numbers, worked.warnings, start)


def _change(session: Session, wanted: Amount, known: dict[str, Known]) -> Figured | None:
    """Return how far, or how many times, to change the thing that a reading measures."""
    entry = session.book.measurements[wanted.change]
    if wanted.change not in known:
        return None
    found, error = known[wanted.change].value, known[wanted.change].error
    to = edge(wanted.to, session.desk.window(entry), float("inf"))
    if abs(to) == float("inf"):
        return None
    if not wanted.times:
        value = to - found if wanted.way == "up" else found - to
        numbers = f"{to:g} - {found:.4g}" if wanted.way == "up" else f"{found:.4g} - {to:g}"
        unit = entry.unit if has_two_figures(entry.unit) else "K"
        return Figured(value, error, unit, numbers)
    above, below = (to, found) if wanted.times == "direct" else (found, to)
    if above <= 0.0 or below <= 0.0:
        return None
    factor = above / below
    if (factor > 1.0) != (wanted.way == "up"):
        return None
    return Figured(factor, factor * error / found, "times", f"{above:.4g} / {below:.4g}")


def in_a_sentence(wanted: Amount, figured: Figured) -> str:
    """Say an amount: rounded, with its doubt, its steps, its working and what to take care of.

    Nothing is said where it is less than can be weighed, or a factor that is as good as one.
    """
    two = has_two_figures(figured.unit)
    amount = weighable(figured.value, wanted.least, two=two)
    if amount <= 0.0 or (figured.unit == "times" and amount == 1.0):
        return ""
    if wanted.most is not None and amount > wanted.most:
        most = in_words(wanted.most, figured.unit)
        of_what = wanted.say.rpartition("{amount}")[2]
        parts = [
            f"By these readings it would take {in_words(amount, figured.unit)}{of_what}, and more "
            f"than {most} does harm: put the rest right in another way ({figured.numbers})."
        ]
    else:
        advice = wanted.say.format(amount=in_words(amount, figured.unit))
        parts = [f"By these readings: {advice}{_doubt(wanted, figured, amount, two=two)}"]
        parts[0] += f"{_steps(wanted, figured, amount)} ({figured.numbers})."
    minds = [warning for warning in figured.warnings if not HAZARD.search(warning)]
    parts += [f"Mind: {sentence(warning)}" for warning in minds[:1]]
    if wanted.care:
        parts.append(f"Safety: {sentence(wanted.care)}")
    return " ".join(parts)


def _doubt(wanted: Amount, figured: Figured, amount: float, *, two: bool) -> str:
    """Say between what the amount lies, where the readings leave it open by more than a weight."""
    away = NINE_IN_TEN * figured.error
    low = max(0.0, figured.value - away)
    low, high = (weighable(x, wanted.least, two=two) for x in (low, figured.value + away))
    if low == high == amount:
        return ""
    if low == 0.0:
        return f", though the readings leave open anything up to {in_words(high, figured.unit)}"
    return f", between {low:g} and {in_words(high, figured.unit)}"


def _steps(wanted: Amount, figured: Figured, amount: float) -> str:
    """Say in how many steps, none of them more than is safe at one time."""
    if wanted.at_once is None:
        return ""
    if figured.unit == "times":
        count = ceil(log(amount) / log(wanted.at_once) - 1e-6)
        one = f"{amount ** (1.0 / count):.2g} times" if count > 1 else ""
    else:
        way = amount if figured.start is None else abs(amount - figured.start)
        count = ceil(way / wanted.at_once - 1e-6)
        each = min(wanted.at_once, weighable(way / max(count, 1), wanted.least / PARTED))
        one = in_words(each, "K" if figured.start else figured.unit)
    return f"; not at once, but in {count} {wanted.rounds} of {one}" if count > 1 else ""
