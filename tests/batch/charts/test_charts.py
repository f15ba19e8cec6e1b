"""The charts: never too wide, the same figures in every form, readable without colour or script.

What a chart must keep to is ours; SVG is read back with the XML parser of the standard library.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.batch.charts import concentration, control, dose, pareto, trend
from diagnose.batch.charts.signs import DRAWN, LETTERS, Signs
from diagnose.batch.result import Bar, Batch, Change, Chart, Point, Rows
from diagnose.batch.told import names
from tests.batch.example import BARE, BATCH, CORE, EMPTY, MISRUN

NAMES = names(BATCH)
FIRST = BATCH.charts[1]


def drawn(width: int, signs: Signs) -> dict[str, list[str]]:
    """Every chart of the example in characters."""
    return {
        "pareto": pareto.in_characters(BATCH, width=width, signs=signs),
        "weight": pareto.in_characters(BATCH, "weight", width=width, signs=signs),
        "pattern": pareto.in_characters(BATCH, "pattern", width=width, signs=signs),
        "control": control.in_characters(FIRST, BATCH.changes, width=width, signs=signs),
        "trend": trend.in_characters(BATCH.charts, width=width, signs=signs),
        "places": concentration.in_characters(BATCH.concentration, NAMES, width=width, signs=signs),
        "dose": dose.in_characters(BATCH.readings[0], width=width, signs=signs),
    }


SVGS = {
    "pareto": pareto.svg(BATCH),
    "cost": pareto.svg(BATCH, "cost"),
    "control": control.svg(FIRST, BATCH.changes),
    "trend": trend.svg(BATCH.charts),
    "places": concentration.svg(BATCH.concentration, NAMES),
    "dose": dose.svg(BATCH.readings[0], NAMES[CORE]),
    "no scrap": pareto.svg(EMPTY),
    "no places": concentration.svg((), {}),
    "no trend": trend.svg(()),
}


@pytest.mark.parametrize("width", [80, 60, 32])
@pytest.mark.parametrize("signs", [DRAWN, LETTERS], ids=["drawn", "letters"])
def test_no_line_is_wider_than_the_window(width: int, signs: Signs) -> None:
    for name, rows in drawn(width, signs).items():
        assert rows, name
        assert max(map(len, rows)) <= width, name


def test_letters_are_ascii_and_show_the_same_figures() -> None:
    for name, rows in drawn(80, LETTERS).items():
        "\n".join(rows).encode("ascii")
        plain = [word for row in rows for word in row.split() if word[0].isdigit()]
        pretty = [w for row in drawn(80, DRAWN)[name] for w in row.split() if w[0].isdigit()]
        assert plain == pretty


def test_the_pareto_adds_up() -> None:
    for way in pareto.ways(BATCH):
        these = pareto.pieces(BATCH, way)
        assert these[-1].running == pytest.approx(1.0)
        assert [one.amount for one in these] == sorted((o.amount for o in these), reverse=True)
    assert pareto.ways(BATCH) == ["count", "weight", "cost", "pattern"]
    assert pareto.ways(BARE) == ["count"]
    assert pareto.left_out(BATCH, "cost") == ["slag inclusion"]


def test_a_longer_bar_is_more_scrap() -> None:
    rows = pareto.in_characters(BATCH, width=80, signs=LETTERS)[1:]
    assert [row.count("#") for row in rows] == sorted((r.count("#") for r in rows), reverse=True)


def test_signals_and_steps_show_and_are_said() -> None:
    rows = control.in_characters(FIRST, BATCH.changes, width=80, signs=LETTERS)
    assert sum(row.count("X") for row in rows) == len(control.signals(FIRST)) == 1
    assert any(row.endswith("step") for row in rows)
    told = control.said(FIRST, BATCH.changes)
    assert told[0] == "30 March 2026: 3.6 %, seven in a row on one side"
    assert told[1] == "step between 11 and 20 February 2026: 1.2 % before, 3.4 % after"
    assert control.said(BATCH.charts[2]) == [
        "No signal: what is seen is chance, as far as this chart can tell."
    ]


def test_a_step_stands_under_the_points_of_its_days() -> None:
    change = Change(CORE, (date(2026, 1, 5), date(2026, 1, 5)), 0.1, 0.2, 0.01)
    rows = control.in_characters(FIRST, [change], width=80, signs=LETTERS)
    marked = next(row for row in rows if row.endswith("step"))
    first = min(row.index("o") for row in rows if "o" in row.split("step")[0])
    assert marked.index("^") <= first < marked.rindex("^") + 1


def test_many_points_share_columns_and_no_signal_is_lost() -> None:
    points = [
        Point(f"heat {n}", 1, 20, 0.05, 0.0, 0.2, "beyond a limit" if n % 97 == 5 else "")
        for n in range(900)
    ]
    chart = Chart("all scrap", "p", "", 0.05, tuple(points))
    rows = control.in_characters(chart, width=60, signs=LETTERS)
    assert max(map(len, rows)) <= 60
    assert sum(row.count("X") for row in rows) == len(control.signals(chart))
    assert "Each column is" in " ".join(rows[-2:])


def test_a_ratio_without_an_upper_end_is_drawn_within_the_scale() -> None:
    endless = replace(BATCH.concentration[0], ratio=float("inf"), high=float("inf"))
    root = ET.fromstring(concentration.svg([endless], NAMES))
    across = [float(dot.get("cx", "0")) for dot in root.iter("{http://www.w3.org/2000/svg}circle")]
    assert across
    assert max(across) <= 720


@pytest.mark.parametrize("name", SVGS)
def test_svg_is_whole_said_in_words_and_without_script(name: str) -> None:
    root = ET.fromstring(SVGS[name])
    tags = [element.tag.rpartition("}")[2] for element in root.iter()]
    assert root.get("role") == "img"
    assert tags[1:3] == ["title", "desc"]
    assert all((root[at].text or "").strip() for at in (0, 1))
    assert not {"script", "image", "use", "a", "style"} & set(tags)


def test_svg_is_black_white_and_grey_and_stays_within_its_frame() -> None:
    for svg in SVGS.values():
        root = ET.fromstring(svg)
        wide, high = map(float, root.get("viewBox", "").split()[2:])
        for element in root.iter():
            for key in ("fill", "stroke"):
                ink = element.get(key, "none")
                assert ink == "none" or len(set(ink.lstrip("#"))) <= 2
            if element.get("x") is not None:
                assert -1 <= float(element.get("x", "0")) <= wide
                assert -1 <= float(element.get("y", "0")) <= high


def test_the_description_holds_every_figure() -> None:
    said = ET.fromstring(SVGS["places"])[1].text or ""
    assert "misrun, ladle order last third: 1.4 % against 0.4 % elsewhere" in said
    assert "blow from core gas: 199, 46 %" in (ET.fromstring(SVGS["pareto"])[1].text or "")


@given(
    st.lists(
        st.tuples(st.text(min_size=1, max_size=60), st.floats(0.1, 1e7)), min_size=1, max_size=12
    ),
    st.integers(30, 120),
)
def test_any_names_and_counts_can_be_drawn(pairs: list[tuple[str, float]], width: int) -> None:
    whole = sum(count for _, count in pairs)
    bars = tuple(
        Bar(f"d{at}", name, count, count / whole, 0.0, 1.0)
        for at, (name, count) in enumerate(pairs)
    )
    batch = Batch("any", Rows(1, 1), whole, None, None, None, bars)
    assert all(len(row) <= width for row in pareto.in_characters(batch, width=width))
    ET.fromstring(pareto.svg(batch))


@given(
    st.lists(st.floats(0, 1), min_size=1, max_size=200), st.integers(30, 120), st.integers(3, 20)
)
def test_any_course_can_be_drawn(values: list[float], width: int, high: int) -> None:
    points = tuple(
        Point(f"week {n}", value * 50, 50, value, 0.0, min(1.0, value + 0.1))
        for n, value in enumerate(values)
    )
    chart = Chart("any", "p", MISRUN, 0.2, points)
    rows = control.in_characters(chart, width=width, high=high, signs=LETTERS)
    assert all(len(row) <= width for row in rows)
    assert all(len(row) <= width for row in trend.in_characters([chart], width=width))
    ET.fromstring(control.svg(chart))
