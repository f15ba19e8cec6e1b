"""A scrap batch as plain lines: for pipes, printers and screen readers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import TextIO

from diagnose.basics.layout import Line, Section, plain_text
from diagnose.batch import told
from diagnose.batch.actions import Action
from diagnose.batch.charts import concentration, control, dose, pareto, trend
from diagnose.batch.charts.pareto import PATTERN
from diagnose.batch.charts.signs import Signs, signs_for
from diagnose.batch.limits import cannot_say, meaning
from diagnose.batch.minutes import minutes
from diagnose.batch.result import Batch, Chart
from diagnose.notes.render import showable
from diagnose.notes.wording import one_line

WIDTH = 78
MOST_CAUSES = 5


def tell_batch(
    batch: Batch, actions: Sequence[Action], today: date, out: TextIO | None, width: int = WIDTH
) -> None:
    """Print everything that a batch shows, from what matters to how the sheet was read."""
    encoding = getattr(out, "encoding", None) or "utf-8"
    sections = sections_of(batch, actions, today, width, signs_for(encoding))
    print(showable(plain_text(sections, width), encoding), file=out)


def sections_of(
    batch: Batch, actions: Sequence[Action], today: date, width: int, signs: Signs
) -> list[Section]:
    """Return a batch in sections, charts drawn to ``width`` columns."""
    sections = [
        Section(f"Scrap batch: {one_line(batch.source)}", _lines(_opening(batch))),
        *_paretos(batch, width, signs),
        Section(
            "Trend", _drawn(trend.in_characters(told.main_charts(batch), width=width, signs=signs))
        ),
        *(_chart(batch, one, width, signs) for one in told.charts_worth_showing(batch)),
        Section("Where it concentrates", tuple(_places(batch, width, signs))),
        *_movements(batch, width, signs),
        *(
            section
            for cause in batch.causes[:MOST_CAUSES]
            for section in told.about_cause(batch, cause)
        ),
        *([told.tells(batch)] if batch.tells else []),
        Section("Take care", _lines(told.care(batch.causes[:MOST_CAUSES]))),
        *(minutes(batch, actions, today)[1:] if actions else []),
        Section("What this means", _lines(meaning(batch))),
        Section("What it cannot say", _lines(cannot_say(batch))),
        *told.details(batch),
    ]
    return [section for section in sections if section.lines]


def _opening(batch: Batch) -> list[str]:
    return [*told.headline(batch), told.account(batch)]


def _lines(texts: Iterable[str]) -> tuple[Line, ...]:
    return tuple(Line(text) for text in texts)


def _drawn(rows: Iterable[str]) -> tuple[Line, ...]:
    return tuple(Line(row, drawn=True) for row in rows)


def _paretos(batch: Batch, width: int, signs: Signs) -> Iterator[Section]:
    for way in pareto.ways(batch):
        what = "Patterns" if way == PATTERN else f"Faults by {way}"
        yield Section(what, _drawn(pareto.in_characters(batch, way, width=width, signs=signs)))


def _chart(batch: Batch, chart: Chart, width: int, signs: Signs) -> Section:
    rows = control.in_characters(chart, batch.changes, width=width, signs=signs)
    words = _lines([control.about(chart), *control.said(chart, batch.changes)])
    return Section(f"Control chart of {chart.name}", (*words, *_drawn(rows)))


def _places(batch: Batch, width: int, signs: Signs) -> Iterator[Line]:
    finds = told.standing_out(batch)
    yield from _drawn(
        concentration.in_characters(finds, told.names(batch), width=width, signs=signs)
    )
    if batch.concentration and not finds:
        yield Line("No place stands out by more than chance.")


def _movements(batch: Batch, width: int, signs: Signs) -> Iterator[Section]:
    for one in filter(told.found, batch.readings):
        lines = told.about_reading(one).lines
        rows = dose.in_characters(one, width=width, signs=signs)
        title = f"{told.name_of(batch, one.defect)} moves with {one.name}"
        yield Section(title, (*lines, *_drawn(rows)))
