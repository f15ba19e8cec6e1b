"""The verdict in sections: what it was, how sure, why, and what would change it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagnose.basics.duration import about
from diagnose.basics.layout import Line, Section
from diagnose.notes.figures_in_words import bar
from diagnose.notes.wording import percent, sentence, sureness
from diagnose.reasoning.ranking import Cause, Share
from diagnose.reasoning.reasons import Change, Push
from diagnose.reasoning.setup import NONE
from diagnose.session.session import Session

BAR = 14
SHOWN = 5
WORTH_SHOWING = 0.005


def verdict(session: Session, *, on_screen: bool = False) -> list[Section]:
    """Return the verdict; ``on_screen`` shares have bars, and numbers are keys to press."""
    bar_width = BAR if on_screen else 0
    numbers = ": press its number to look into it" if on_screen else ""
    causes, defects = session.causes(), session.defects()
    first = causes[0]
    sections = [
        Section("The verdict", tuple(_headline(session, first))),
        Section("Likely causes", tuple(shares(causes, bar_width))),
        Section("What the fault is called", tuple(shares(defects, bar_width)[:3])),
        Section(f"How it comes about: {first.name}", _sentences(session.mechanism(first.id))),
        Section(f"Why: {first.name}", pushes(session.explain(first.id)[:8])),
        Section(f"What would change it{numbers}", tuple(changes(session.would_change()))),
        Section("What does not fit", _sentences(session.warnings())),
    ]
    return [section for section in sections if section.lines]


def shares(these: Sequence[Cause] | Sequence[Share], bar_width: int) -> list[Line]:
    """Return the first few causes or defects, each behind its share in per cent.

    With ``bar_width`` a bar of that many characters stands before it.
    """
    rows = [one for one in these[:SHOWN] if one.probability >= WORTH_SHOWING]
    width = max((len(percent(one.probability)) for one in rows), default=0)
    return [
        Line(
            one.name,
            f"{bar(one.probability, bar_width)}{' ' if bar_width else ''}"
            f"{percent(one.probability):>{width}}  ",
        )
        for one in rows
    ]


def pushes(these: Sequence[Push]) -> tuple[Line, ...]:
    """Return findings with what each does for or against a cause, the weightiest first."""
    told = [push for push in these if round(push.decibans)]
    if not told:
        return (Line("Nothing said so far speaks for or against it."),)
    return tuple(
        Line(f"{push.text} ({push.words})", "+  " if push.decibans > 0 else "-  ") for push in told
    )


def changes(these: Sequence[Change]) -> Iterator[Line]:
    """Yield the findings that would put another cause first, numbered."""
    for number, change in enumerate(these, 1):
        text = f"{change.text}: then {change.leads_to}. Takes {about(change.minutes)}."
        yield Line(text, f"{number}  ")


def _headline(session: Session, first: Cause) -> Iterator[Line]:
    standing, firm = session.settled(), session.stability()
    if first.probability >= 0.5:
        yield Line(sentence(f"{sureness(first.probability)}: {first.name}"))
    elif first.id == NONE:
        yield Line("Open. No cause in the book fits well so far.")
    else:
        yield Line(f"Open. The first of several is: {first.name}.")
    yield Line(sentence(standing.text))
    if firm.runs:
        runner_up = f" Else mostly: {firm.runner_up}." if firm.runner_up else ""
        yield Line(
            f"With every figure of the book shaken, it stays first in {firm.share * firm.runs:.0f} "
            f"of {firm.runs} trials.{runner_up}"
        )


def _sentences(these: Sequence[str]) -> tuple[Line, ...]:
    return tuple(Line(sentence(text), "-  ") for text in these)
