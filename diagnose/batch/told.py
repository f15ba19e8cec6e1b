"""What a scrap batch shows, in sections of plain words: for screen, plain lines and pack."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.basics.duration import about
from diagnose.basics.layout import Line, Section
from diagnose.batch.charts.concentration import place
from diagnose.batch.charts.control import SMOOTHED, said, signals
from diagnose.batch.charts.pareto import pieces
from diagnose.batch.figures import (
    BLANK,
    between,
    castings,
    chance,
    days,
    number,
    percent,
    ratio,
    times,
)
from diagnose.batch.limits import SAFETY
from diagnose.batch.result import (
    Bar,
    Batch,
    Cause,
    Change,
    Chart,
    Concentration,
    Movement,
    Reason,
    SetAside,
    Tell,
)
from diagnose.notes.wording import first_sentence, sentence
from diagnose.reasoning.reasons import strength_in_words

FEW = 0.05
"""False finds among those told as more than chance: common practice in testing many things."""
MOST_PLACES = 3
MOST_REASONS = 6
"""Reasons of a cause that are told, the weightiest: for and against together."""
LEAST = 0.5
"""Castings below which a share is not worth naming."""
MOST_OF_IT = 0.8
"""Share of the scrap that the first faults are counted up to: common practice, no source."""


def name_of(batch: Batch, defect: str) -> str:
    """Return the name of a fault; all scrap where none is meant."""
    return next((one.name for one in batch.pareto if one.defect == defect), defect or "all scrap")


def names(batch: Batch) -> dict[str, str]:
    """Return fault -> its name."""
    return {one.defect: one.name for one in batch.pareto}


def headline(batch: Batch) -> list[str]:
    """Return in a few sentences what matters: how much, of what, what changed, and why."""
    told = [how_much(batch)]
    these = pieces(batch)
    if len(these) > 1:
        first = next(at for at, one in enumerate(these, 1) if one.running >= MOST_OF_IT)
        part = "fault is" if first == 1 else f"{first} faults are"
        if first < len(these):
            told.append(f"The first {part} {percent(these[first - 1].running)} of it.")
    told += [sentence(changed(batch, change)) for change in _first_of_each(batch.changes)[:2]]
    if places := [_named_place(batch, one) for one in standing_out(batch)[:MOST_PLACES]]:
        told.append(f"It concentrates: {', '.join(places)}.")
    if batch.causes:
        one = batch.causes[0]
        told.append(
            f"Likeliest cause at work: {one.name} ({percent(one.probability)}); it explains "
            f"{percent(one.share)} of the scrap."
        )
    return told


def _named_place(batch: Batch, one: Concentration) -> str:
    many = "many" if one.ratio == float("inf") else times(one.ratio)
    return f"{name_of(batch, one.defect)} at {place(one)} ({many} times)"


def _first_of_each(changes: Sequence[Change]) -> list[Change]:
    """Return the strongest step of each fault."""
    seen: dict[str, Change] = {}
    for change in changes:
        seen.setdefault(change.defect, change)
    return [*seen.values()]


def how_much(batch: Batch) -> str:
    """Return how many castings were scrapped, of how many, and when."""
    when = ""
    if batch.first is not None and batch.last is not None:
        when = f", {days(batch.first, batch.last)}"
    if not batch.poured:
        return f"{castings(batch.scrapped)} scrapped{when}; how many were poured is {BLANK}."
    rate = percent(batch.scrapped / batch.poured)
    if batch.rate is not None:
        rate = f"{rate} ({between(*batch.rate)})"
    return f"{castings(batch.scrapped)} scrapped of {number(batch.poured)} poured, {rate}{when}."


def changed(batch: Batch, change: Change) -> str:
    """Return a step in the rate of a fault."""
    way = "rose" if change.after > change.before else "fell"
    return (
        f"{name_of(batch, change.defect)} {way} from {percent(change.before)} to "
        f"{percent(change.after)} in a step between {days(*change.between, 'and')}"
    )


def account(batch: Batch) -> str:
    """Return the account of the rows."""
    rows = batch.rows
    aside = len(rows.aside)
    return f"{rows.read} rows read, {rows.used} used, {aside} set aside."


def about_fault(batch: Batch, one: Bar) -> Section:
    """Return what is known of one fault: how much, since when, where, and what it comes from."""
    lines = [
        Line(
            f"{castings(one.count)}, {percent(one.share)} of the scrap "
            f"({between(one.low, one.high)})."
        )
    ]
    worth = [f"{number(one.weight)} kg"] if one.weight else []
    worth += [f"cost {number(one.cost)}"] if one.cost else []
    if worth:
        lines.append(Line(f"{', '.join(worth)}."))
    lines += [Line(text, "Trend: ") for text in trend_of(batch, one.defect)]
    lines += [Line(_short(find), "Where: ") for find in telling(batch, one.defect)[:3]]
    lines += [Line(_moves(find), "Moves: ") for find in moving(batch, one.defect)[:2]]
    lines += [
        Line(f"{cause.name}, {percent(cause.probability)}", "Cause: ")
        for cause in causes_of(batch, one.defect)[:3]
    ]
    return Section(one.name, tuple(lines))


def trend_of(batch: Batch, defect: str) -> list[str]:
    """Return in words what the charts of a fault show."""
    own = [one for one in batch.charts if one.defect == defect and one.points]
    main = [one for one in own if one.kind != SMOOTHED]
    smoothed = [one for one in own if one.kind == SMOOTHED and signals(one)]
    shown = [one for one in main if signals(one) or not smoothed] or smoothed
    return [text for chart in shown for text in said(chart, batch.changes)]


def found(one: Concentration | Movement) -> bool:
    """Tell whether this is more than chance, with all that was looked at allowed for."""
    return one.q <= FEW


def telling(batch: Batch, defect: str) -> list[Concentration]:
    """Return where a fault concentrates more than by chance, with no stronger place behind it."""
    return [one for one in standing_out(batch) if one.defect == defect]


def standing_out(batch: Batch) -> list[Concentration]:
    """Return all places that stand out by themselves, the strongest first."""
    return [one for one in batch.concentration if found(one) and not one.explained_by]


def where(batch: Batch, defect: str) -> list[Concentration]:
    """Return all places told of a fault: those that stand out by themselves first."""
    own = [one for one in batch.concentration if one.defect == defect]
    return sorted(own, key=lambda one: (bool(one.explained_by), not found(one)))


def moving(batch: Batch, defect: str) -> list[Movement]:
    """Return the readings that move with a fault more than by chance."""
    return [one for one in readings(batch, defect) if found(one)]


def readings(batch: Batch, defect: str) -> list[Movement]:
    """Return all readings that were tried for a fault, the surest first."""
    return sorted((one for one in batch.readings if one.defect == defect), key=_sure)


def _sure(one: Movement) -> tuple[float, float]:
    return one.q, one.p


def causes_of(batch: Batch, defect: str) -> list[Cause]:
    """Return the causes that explain some of a fault, the one that explains most first."""
    explaining = [one for one in batch.causes if dict(one.shares).get(defect, 0.0) >= LEAST]
    return sorted(explaining, key=lambda cause: -dict(cause.shares)[defect])


def _short(one: Concentration) -> str:
    return f"{place(one)}, {ratio(one.ratio, one.low, one.high)} as often"


def _moves(one: Movement) -> str:
    way = "more" if one.odds_ratio > 1 else "less"
    unit = f" {one.unit}" if one.unit else ""
    return f"{way} of it with {one.name}: odds {one.odds_ratio:.2g} times for {one.per:.2g}{unit}"


def about_place(one: Concentration) -> Section:
    """Return what is known of a fault at one place."""
    lines = [
        Line(f"{percent(one.rate)} there, {number(one.bad)} of {number(one.poured)}."),
        Line(f"{percent(one.rate_elsewhere)} elsewhere."),
        Line(
            f"{sentence(ratio(one.ratio, one.low, one.high) + ' as often')} Castings of one "
            "pattern are compared with each other, so a place is not blamed for what it pours."
        ),
        Line(_verdict(one)),
        *(
            [Line(f"Nothing is left of it once {one.explained_by} is allowed for.")]
            if one.explained_by
            else []
        ),
    ]
    return Section(place(one), tuple(lines))


def about_reading(one: Movement) -> Section:
    """Return what is known of a reading that was held beside a fault."""
    unit = f" {one.unit}" if one.unit else ""
    lag = "no lag" if not one.lag else f"lag {one.lag} row{'s'[: one.lag > 1]} of the readings"
    lines = (
        Line(
            f"Odds of the fault times {one.odds_ratio:.2f} ({one.low:.2f} to {one.high:.2f}) for "
            f"{one.per:.2g}{unit} more; {lag}."
        ),
        Line(_verdict(one)),
        Line("That they move together does not say that one makes the other."),
    )
    return Section(one.name, lines)


def _verdict(one: Concentration | Movement) -> str:
    if found(one):
        return f"More than chance (q {chance(one.q)}, with all that was tried allowed for)."
    return f"May well be chance (q {chance(one.q)}, with all that was tried allowed for)."


def about_cause(batch: Batch, one: Cause) -> list[Section]:
    """Return a cause: how likely, how much it explains, why, what to do, and what to mind.

    Of each caution its first sentence: all of it stands under ``care``.
    """
    lines = [
        Line(f"At work with a probability of {percent(one.probability)}."),
        Line(explained(batch, one)),
        *(Line(sentence(text), f"{side}: ") for side, text in reasons(one)),
        *([Line(f"Once it is proved: {sentence(one.action)}", "Do: ")] if one.action else []),
        *(Line(first_sentence(text), "Care: ") for text in one.cautions),
    ]
    return [Section(one.name, tuple(lines))]


def care(causes: Sequence[Cause]) -> list[str]:
    """Return the cautions of causes, each once, and then what always holds."""
    return [*dict.fromkeys([text for one in causes for text in one.cautions]), SAFETY]


def explained(batch: Batch, one: Cause) -> str:
    """Return how much of the scrap a cause explains."""
    parts = [
        f"{castings(count)} of {name_of(batch, defect)}"
        for defect, count in one.shares
        if count >= LEAST
    ]
    return f"Explains {percent(one.share)} of the scrap: {', '.join(parts) or 'nothing'}."


def reasons(one: Cause) -> list[tuple[str, str]]:
    """Return For or Against with each reason, the weightiest first."""
    ordered = sorted(one.reasons, key=lambda each: -abs(each.weight))[:MOST_REASONS]
    return [("For" if each.weight > 0 else "Against", _with_strength(each)) for each in ordered]


def _with_strength(one: Reason) -> str:
    strength = strength_in_words(one.weight)
    return f"{one.text.rstrip('.')} ({strength})" if strength else one.text


def tells(batch: Batch) -> Section:
    """Return what would tell the two first causes apart soonest."""
    first = " and ".join(one.name for one in batch.causes[:2])
    return Section(
        f"What tells apart: {first}", tuple(Line(tell(one), "- ") for one in batch.tells)
    )


def tell(one: Tell) -> str:
    """Return one thing that would tell causes apart, with what it takes."""
    costs = [about(one.minutes)] if one.minutes is not None else []
    costs += [castings(one.castings)] if one.castings is not None else []
    if one.power is not None:
        costs.append(f"seen with a chance of {percent(one.power)}")
    return f"{sentence(one.text)} ({'; '.join(costs)})" if costs else sentence(one.text)


def details(batch: Batch) -> list[Section]:
    """Return what the figures rest on: headings, rows set aside, unknown words, warnings."""
    rows = batch.rows
    sections = [
        Section(
            "Rows",
            (
                Line(account(batch)),
                *(
                    Line(f"{_spot(one)}{one.reason}{f': {one.text}' if one.text else ''}", "- ")
                    for one in rows.aside
                ),
            ),
        ),
        Section("Words not known", tuple(Line(text) for text in unknown(batch))),
        Section(
            "Headings", tuple(Line(meaning, f"{heading}: ") for heading, meaning in batch.headings)
        ),
        Section("Mind", tuple(Line(text, "! ") for text in batch.warnings)),
    ]
    return [section for section in sections if section.lines]


def _spot(one: SetAside) -> str:
    return f"{one.sheet} row {one.row}: ".lstrip()


def unknown(batch: Batch) -> list[str]:
    """Return the words that are not known, with what is near."""
    return [
        f"“{one.word}” {number(one.count)} times"
        + (
            f"; near: {', '.join(f'{name} ({percent(near)})' for name, near in one.nearest)}"
            if one.nearest
            else ""
        )
        for one in batch.unknown_words
    ]


def charts_worth_showing(batch: Batch) -> list[Chart]:
    """Return the chart of all scrap and of every fault with a signal or a step.

    The smoothed chart (EWMA) only where it has a signal that the other one lacks.
    """
    stepped = {change.defect for change in batch.changes}
    marked = {one.defect for one in batch.charts if one.kind != SMOOTHED and signals(one)}
    return [
        one
        for one in batch.charts
        if one.points
        and (
            bool(signals(one)) and one.defect not in marked
            if one.kind == SMOOTHED
            else not one.defect or bool(signals(one)) or one.defect in stepped
        )
    ]


def main_charts(batch: Batch) -> list[Chart]:
    """Return one chart for all scrap and for each fault, without those that are smoothed."""
    return [one for one in batch.charts if one.points and one.kind != SMOOTHED]
