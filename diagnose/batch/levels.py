"""What stands on each level of a walk: the lines to choose from, and what each is about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from diagnose.basics.layout import Line, Section
from diagnose.batch.charts import control, dose, pareto
from diagnose.batch.charts.concentration import place
from diagnose.batch.charts.signs import DRAWN, Signs, bar
from diagnose.batch.charts.trend import cut_to
from diagnose.batch.figures import narrow, number, percent, times
from diagnose.batch.result import Batch, Cause, Concentration, Movement
from diagnose.batch.told import (
    about_cause,
    about_fault,
    about_place,
    about_reading,
    causes_of,
    found,
    name_of,
    readings,
    tells,
    where,
)
from diagnose.batch.walk import CASTING, CAUSES, FAULTS, WHERE, Walk
from diagnose.notes.wording import first_sentence

ALL = "all"
OPEN, AGREE = "open", "agree"


@dataclass(frozen=True, slots=True)
class Choice:
    """One line of a level: what it is (``what``, none where there is nothing more), its text."""

    id: str
    text: str
    what: Concentration | Movement | Cause | None = None


def choices(walk: Walk, width: int, signs: Signs = DRAWN) -> list[Choice]:
    """Return the lines of the level, drawn to ``width`` columns."""
    if walk.level == FAULTS:
        return [*_bars(walk, width, signs)]
    if walk.level == WHERE:
        return [*_places(walk.batch, walk.defect)]
    if walk.level == CAUSES:
        return [*_causes(walk.batch, walk.defect)]
    return [
        Choice(OPEN, "open it as a reject, with this filled in"),
        Choice(AGREE, "agree an action"),
    ]


def _bars(walk: Walk, width: int, signs: Signs) -> Iterator[Choice]:
    these = pareto.pieces(walk.batch, walk.by)
    room = min(max((len(one.name) for one in these), default=0), max(12, width // 2 - 2))
    most = max((one.share for one in these), default=1.0)
    figure = max((len(number(one.amount)) for one in these), default=0)
    left = width - room - figure - 8
    for one in these:
        drawn = bar(one.share / most, left, signs.full) if left > 3 else ""
        yield Choice(
            one.id,
            f"{cut_to(one.name, room):<{room}} {number(one.amount):>{figure}} "
            f"{narrow(one.share):>5} {drawn}".rstrip(),
        )


def _places(batch: Batch, defect: str) -> Iterator[Choice]:
    yield Choice(ALL, "everywhere: how it went")
    for one in where(batch, defect):
        many = f"{times(one.ratio)} times" if one.ratio != float("inf") else "many times"
        yield Choice("place", f"{place(one)}: {many}{_sure(one)}", one)
    for each in readings(batch, defect):
        yield Choice("reading", f"{each.name}{_sure(each)}", each)


def _sure(one: Concentration | Movement) -> str:
    if isinstance(one, Concentration) and one.explained_by:
        return f" (through {one.explained_by})"
    return "" if found(one) else " (may be chance)"


def _causes(batch: Batch, defect: str) -> Iterator[Choice]:
    these = causes_of(batch, defect)
    for one in these:
        yield Choice("cause", f"{percent(one.probability)}  {one.name}", one)
    if not these:
        yield Choice(ALL, "no cause explains any of it")


def explained(walk: Walk, choice: Choice, width: int, signs: Signs = DRAWN) -> Sequence[Section]:
    """Return what a line is about."""
    batch = walk.batch
    if walk.level == FAULTS:
        return _about_bar(walk, choice)
    if isinstance(choice.what, Concentration):
        return [about_place(choice.what)]
    if isinstance(choice.what, Movement):
        return [about_reading(choice.what), *_curve(choice.what, width, signs)]
    if isinstance(choice.what, Cause):
        return [*about_cause(batch, choice.what), *([tells(batch)] if batch.tells else [])]
    if walk.level == WHERE:
        return [*_charts(batch, walk.defect, width, signs)] or [
            Section(name_of(batch, walk.defect), (Line("There are too few dates for a chart."),))
        ]
    return [casting(walk)]


def _about_bar(walk: Walk, choice: Choice) -> Sequence[Section]:
    for one in walk.batch.pareto:
        if one.defect == choice.id:
            return [about_fault(walk.batch, one)]
    for name, scrapped, poured in walk.batch.by_pattern:
        if name == choice.id:
            rate = f" of {number(poured)}, {percent(scrapped / poured)}" if poured else ""
            return [Section(f"Pattern {name}", (Line(f"{number(scrapped)} scrapped{rate}."),))]
    return []


def _charts(batch: Batch, defect: str, width: int, signs: Signs) -> Iterator[Section]:
    for chart in batch.charts:
        if chart.defect == defect and (chart.kind != control.SMOOTHED or control.signals(chart)):
            drawn = control.in_characters(chart, batch.changes, width=width, high=7, signs=signs)
            yield Section(
                chart.name,
                (
                    Line(control.about(chart)),
                    *(Line(text) for text in control.said(chart, batch.changes)),
                    *(Line(row, drawn=True) for row in drawn),
                ),
            )


def _curve(one: Movement, width: int, signs: Signs) -> list[Section]:
    rows = dose.in_characters(one, width=width, signs=signs)
    lines = tuple(Line(row, drawn=True) for row in rows)
    return [Section("Rate at each reading", lines)] if lines else []


def casting(walk: Walk) -> Section:
    """Return what the sheet knows of a casting where the walk stands."""
    known = walk.opened()
    lines = [Line(name_of(walk.batch, known.defect), "Fault: ")]
    lines += [Line(level, f"{factor}: ") for factor, level in known.where]
    if isinstance(walk.spot, Movement):
        lines.append(Line(walk.spot.name, "Reading to take: "))
    if walk.cause is not None:
        lines.append(Line(walk.cause.name, "Supposed cause: "))
        lines += [Line(first_sentence(text), "Care: ") for text in walk.cause.cautions]
    lines.append(Line("Take one such casting in hand and answer the questions on it."))
    return Section("One casting", tuple(lines))


def titles() -> dict[str, str]:
    """Return the name of each level."""
    return {FAULTS: "Faults", WHERE: "Where", CAUSES: "Causes", CASTING: "Casting"}
