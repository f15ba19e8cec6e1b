"""A figure lies outside 0..1, or the figures of one table add up to more than one.

Passes: ``shows: {cavity-wall: {smooth: usually, jagged: seldom}}`` (0.75 + 0.10).
Fails:  ``strength: 1.5``, and ``{smooth: nearly always, jagged: often}`` (0.92 + 0.50).

A table that names every answer must add up to about one; otherwise something is left for none.
A strength, a base rate, a usual answer and the share scrapped must be more than nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields

from diagnose.basics.errors import Problem
from diagnose.rulebase.book import spaced
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.references import figures, shows_tables
from diagnose.rulebase.yamlread import Steps

_MORE_THAN_NOTHING = ("base rate", "strength", "usual", "scrapped")
_SLACK = 0.005  # what rounding in a handful of figures may add up to
_SHORT = 0.05  # what a table of all answers may fall short of one

MOST_HANDLING = 60  # minutes
_STEP_MINUTES = ("walk", "trial", "giving_up")


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every figure and every table out of range."""
    yield from _scale(draft)
    for figure in figures(draft.book):
        if isinstance(figure.value, float):
            yield from _in_range(draft, figure.steps, figure.value)
    yield from _tables(draft)
    for section in ("looks", "checks", "measurements"):
        for name, entry in getattr(draft.book, section).items():
            if not 0 < entry.minutes <= 24 * 60:
                what = f"{entry.minutes:g} minutes make no sense."
                instead = "Write how long it takes, more than 0 and at most a day."
                yield draft.problem((section, name, "minutes"), what, instead)
    for name, measurement in draft.book.measurements.items():
        if measurement.repeatability <= 0:
            what = "The repeatability must be more than 0."
            instead = "Write the standard deviation of a repeated test."
            yield draft.problem(("measurements", name, "repeatability"), what, instead)


def _in_range(draft: Draft, steps: Steps, value: float) -> Iterator[Problem]:
    if not 0 <= value <= 1:
        instead = "Write a number from 0 to 1."
        if 1 < value <= 100:
            instead = f"Write a number from 0 to 1; {value:g} % is {value / 100:g}."
        yield draft.problem(steps, f"The figure {value:g} is not between 0 and 1.", instead)
    elif value == 0 and steps[-1] in _MORE_THAN_NOTHING:
        what = f"A {steps[-1]} of 0 says that it never happens."
        yield draft.problem(steps, what, "Write a figure above 0, or leave the entry out.")


def _tables(draft: Draft) -> Iterator[Problem]:
    seen = draft.book.seen()
    for steps, look, table in shows_tables(draft.book):
        values = [draft.figure(value) for value in table.values()]
        if look not in seen or any(v is None or not 0 <= v <= 1 for v in values):
            continue  # another check reports those
        total = sum(value for value in values if value is not None)
        if total > 1 + _SLACK:
            what = f"The figures for {look!r} add up to {total:.2f}."
            yield draft.problem(steps, what, "Lower them to 1 or less together.", key=True)
        elif set(table) == set(draft.book.answers_of(look)) and total < 1 - _SHORT:
            what = f"The figures for all answers of {look!r} add up to only {total:.2f}."
            instead = "Raise them to 1 together, or leave an answer out to take the rest."
            yield draft.problem(steps, what, instead, key=True)


def _scale(draft: Draft) -> Iterator[Problem]:
    if not draft.has_scale:
        return
    scale = draft.book.scale
    for part in ("base_rates", "shares"):
        for word, value in getattr(scale, part).items():
            if not 0 < value < 1:
                what = f"{word!r} stands for {value:g}."
                instead = "Write a number between 0 and 1, neither of them included."
                yield draft.problem(("scale", spaced(part), word), what, instead)
    yield from _minutes(draft)
    for field in fields(scale):
        value = getattr(scale, field.name)
        if field.name == "handling":
            if not 0 <= value <= MOST_HANDLING:
                what = f"'handling' is {value:g} minutes."
                instead = f"Write the minutes that a question takes to read: 0 to {MOST_HANDLING}."
                yield draft.problem(("scale", "handling"), what, instead)
        elif field.name in _STEP_MINUTES:
            continue
        elif isinstance(value, float) and not 0 <= value < 1:
            what = f"{spaced(field.name)!r} is {value:g}."
            instead = "Write a number from 0 to below 1."
            yield draft.problem(("scale", spaced(field.name)), what, instead)


def _minutes(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for a minute of the scale that makes no sense, or no plan."""
    scale = draft.book.scale
    for name in _STEP_MINUTES:
        value = getattr(scale, name)
        if not (value > 0.0 or name == "walk") or not 0.0 <= value <= 24 * 60:
            what = f"{spaced(name)!r} is {value:g} minutes."
            instead = "Write how long it takes, more than 0 and at most a day."
            yield draft.problem(("scale", spaced(name)), what, instead)
    if scale.giving_up < scale.trial:
        what = f"Giving up takes {scale.giving_up:g} minutes, less than one trial."
        instead = "Write at least the minutes of a trial, or nothing would ever be tried."
        yield draft.problem(("scale", "giving up"), what, instead)
