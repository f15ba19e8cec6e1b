"""The page of the pack: one HTML file that needs no script and nothing from outside."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from diagnose.batch import figures, limits, minutes, told
from diagnose.batch.actions import Action
from diagnose.batch.charts import concentration, control, dose, pareto, trend
from diagnose.batch.result import Batch, Chart, Concentration
from diagnose.notes.wording import first_sentence, sentence

if TYPE_CHECKING:
    from jinja2 import Template

_BREAK = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]+")
MOST_CHARTS, MOST_PLACES, MOST_CURVES, MOST_CAUSES, MOST_ASIDE = 4, 8, 3, 5, 40
"""How many of each the page shows; the tables beside it hold all of them."""


def html(batch: Batch, actions: Sequence[Action], today: date) -> str:
    """Return the page; ``today``: the day of the meeting."""
    finds = told.standing_out(batch)
    return _template().render(
        batch=batch,
        names=told.names(batch),
        day=figures.day(today),
        today=today,
        headline=told.headline(batch),
        account=told.account(batch),
        paretos=[_pareto(batch, way) for way in pareto.ways(batch)],
        trend=_trend(batch),
        charts=[_control(batch, one) for one in told.charts_worth_showing(batch)[:MOST_CHARTS]],
        places=_places(batch, finds),
        finds=finds[:MOST_PLACES],
        more=len(batch.concentration) - len(finds[:MOST_PLACES]),
        readings=[one for one in batch.readings if told.found(one)][:MOST_CURVES],
        more_readings=max(len(batch.readings) - MOST_CURVES, 0),
        causes=batch.causes[:MOST_CAUSES],
        actions=minutes.in_order(actions),
        cautions=_cautions(batch, actions),
        meaning=limits.meaning(batch),
        cannot=limits.cannot_say(batch),
        aside=batch.rows.aside[:MOST_ASIDE],
        unknown=told.unknown(batch),
    )


def _pareto(batch: Batch, way: str) -> tuple[str, Any]:
    lacking = pareto.left_out(batch, way)
    besides = f"; not known for {', '.join(lacking)}" if lacking else ""
    return f"By {way}{besides}", _marked(pareto.svg(batch, way))


def _trend(batch: Batch) -> Any:
    charts = [one for one in told.main_charts(batch) if len(one.points) > 1]
    return _marked(trend.svg(charts)) if charts else ""


def _control(batch: Batch, chart: Chart) -> tuple[str, Any, list[str]]:
    return (
        f"{chart.name}: {control.about(chart)}",
        _marked(control.svg(chart, batch.changes)),
        control.said(chart, batch.changes),
    )


def _places(batch: Batch, finds: Sequence[Concentration]) -> Any:
    return _marked(concentration.svg(finds[:MOST_PLACES], told.names(batch))) if finds else ""


def _cautions(batch: Batch, actions: Sequence[Action]) -> list[str]:
    """Return the cautions of every cause on the page, then what always holds."""
    shown = told.care(batch.causes[:MOST_CAUSES])
    return [*dict.fromkeys([*shown[:-1], *minutes.cautions(batch, actions), limits.SAFETY])]


def _marked(svg: str) -> Any:
    from markupsafe import Markup

    return Markup(svg)


@cache
def _template() -> Template:
    """Return the template; Jinja is imported and the template compiled at first use."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    house = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=_finished,
    )
    house.filters |= {
        "percent": figures.percent,
        "number": figures.number,
        "castings": figures.castings,
        "chance": figures.chance,
        "on": figures.day,
        "sentence": sentence,
        "first_sentence": first_sentence,
        "place": concentration.place,
        "tell": told.tell,
    }
    house.globals |= {
        "ratio": figures.ratio,
        "span": figures.between,
        "reading": lambda one: told.about_reading(one).lines[0].text,
        "curve": lambda one, fault: _marked(dose.svg(one, fault)),
        "by": minutes.by,
        "against": minutes.against,
        "share_of": told.explained,
        "reasons": told.reasons,
    }
    return house.get_template("page.html")


def _finished(value: Any) -> Any:
    """Keep a text on one line, and a figure with its percent sign."""
    if isinstance(value, str) and not hasattr(value, "__html__"):
        return _BREAK.sub(" ", value).replace(" %", "\u00a0%")
    return value
