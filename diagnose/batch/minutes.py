"""The minutes of a meeting about a scrap batch: what was seen, and who does what by when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from diagnose.basics.layout import Line, Section, plain_text
from diagnose.batch.actions import Action
from diagnose.batch.figures import day
from diagnose.batch.limits import SAFETY
from diagnose.batch.result import Batch
from diagnose.batch.told import account, headline, name_of
from diagnose.notes.wording import one_line, sentence

WIDTH = 78
NOBODY = "nobody yet"


def minutes(batch: Batch, actions: Sequence[Action], today: date) -> list[Section]:
    """Return the minutes in sections; ``today`` tells what is overdue."""
    sections = [
        Section(
            f"Minutes of the scrap meeting, {day(today)}",
            (
                Line(f"Sheet: {one_line(batch.source)}. {account(batch)}"),
                *(Line(text) for text in headline(batch)),
            ),
        ),
        Section("Who agreed what", tuple(_agreed(batch, actions, today))),
        Section("Take care", tuple(Line(text, "! ") for text in cautions(batch, actions))),
    ]
    return [section for section in sections if section.lines]


def minutes_text(batch: Batch, actions: Sequence[Action], today: date) -> str:
    """Return the minutes as plain text."""
    return plain_text(minutes(batch, actions, today), WIDTH) + "\n"


def in_order(actions: Sequence[Action]) -> list[Action]:
    """Return actions, the soonest due first; those without a date last."""
    return sorted(actions, key=lambda one: (one.due is None, one.due or date.max))


def _agreed(batch: Batch, actions: Sequence[Action], today: date) -> Iterator[Line]:
    if not actions:
        yield Line("No action was agreed.")
    for number, one in enumerate(in_order(actions), 1):
        yield Line(
            f"{one_line(one.owner) or NOBODY}, {by(one, today)}: {sentence(one.text)}"
            f"{against(batch, one)}",
            f"{number}. ",
        )


def by(one: Action, today: date) -> str:
    """Return by when an action is due."""
    if one.due is None:
        return "no date set"
    return f"by {day(one.due)}" + (" (overdue)" if one.due < today else "")


def against(batch: Batch, one: Action) -> str:
    """Return what an action is against, behind its text."""
    cause = next((each.name for each in batch.causes if each.id == one.cause), one.cause)
    meant = [text for text in (cause, name_of(batch, one.defect) if one.defect else "") if text]
    return f" (against: {', '.join(meant)})" if meant else ""


def cautions(batch: Batch, actions: Sequence[Action]) -> list[str]:
    """Return the cautions of the causes that actions are against, then what always holds."""
    meant = {one.cause for one in actions}
    told = [text for cause in batch.causes if cause.id in meant for text in cause.cautions]
    return [*dict.fromkeys(told), SAFETY] if actions else []
