"""A scrap batch of a made-up foundry, written by hand: every figure is invented.

It has one of everything that a batch can hold, so that what is drawn from it can be looked at.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from diagnose.batch.result import (
    Bar,
    Batch,
    Cause,
    Change,
    Chart,
    Concentration,
    Dose,
    Movement,
    Point,
    Reason,
    Rows,
    SetAside,
    Tell,
    UnknownWord,
)

CORE, SAND, MISRUN, CHILL = "blow-core-gas", "sand-inclusion", "misrun", "chill"
MONDAYS = [date(2026, 1, 5) + timedelta(weeks=week) for week in range(13)]
BLOWN = (7, 9, 6, 8, 10, 7, 21, 24, 19, 22, 25, 18, 23)
ALL = (24, 26, 22, 27, 25, 23, 41, 43, 38, 40, 46, 37, 42)
POURED = (640, 655, 610, 648, 660, 632, 651, 645, 622, 655, 668, 615, 640)


def chart(name: str, kind: str, defect: str, counts: tuple[int, ...], spread: float) -> Chart:
    """Return a chart of weeks; what is above its limit breaks the first of the usual rules."""
    centre = sum(counts) / sum(POURED)
    points = []
    for day, count, size in zip(MONDAYS, counts, POURED, strict=True):
        step = 3 * spread * (centre * (1 - centre) / size) ** 0.5
        low, high, value = max(0.0, centre - step), centre + step, count / size
        rule = "" if low <= value <= high else "beyond a limit"
        points.append(Point(day.isoformat(), count, size, value, low, high, rule))
    if min(point.value for point in points[-7:]) > centre and not points[-1].rule:
        points[-1] = replace(points[-1], rule="seven in a row on one side")
    return Chart(name, kind, defect, centre, tuple(points), spread)


# fmt: off
BATCH = Batch(
    source="made-up-quarter.xlsx",
    rows=Rows(
        read=447,
        used=441,
        aside=(
            SetAside("Scrap", 118, "more castings scrapped than poured", "12.02.26; P-114; 900"),
            SetAside("Scrap", 203, "a count below nought", "-3"),
            SetAside("Scrap", 204, "the same row stands above it", "27.02.26; P-114; 4; blown"),
            SetAside("Scrap", 311, "no date", "=SUM(D2:D310)"),
            SetAside("Scrap", 446, "a row of totals", "Total; ; 434"),
            SetAside("Scrap", 447, "no fault and no remark", "31.03.26; P-220; 2"),
        ),
    ),
    scrapped=434.0,
    poured=8341.0,
    first=date(2026, 1, 5),
    last=date(2026, 3, 31),
    pareto=(
        Bar(CORE, "blow from core gas", 199.0, 0.4585, 0.412, 0.506, 1393.0, 5970.0),
        Bar(SAND, "sand inclusion", 104.5, 0.2408, 0.203, 0.283, 940.5, 3135.0),
        Bar(MISRUN, "misrun", 61.0, 0.1406, 0.111, 0.177, 244.0, 915.0),
        Bar(CHILL, "chill of thin edges", 38.5, 0.0887, 0.065, 0.119, 115.5, 770.0),
        Bar("core-shift", "core shift", 20.0, 0.0461, 0.03, 0.07, 140.0, 600.0),
        Bar("slag-inclusion", "slag inclusion", 11.0, 0.0253, 0.014, 0.045, None, None),
    ),
    charts=(
        chart("all scrap", "laney p", "", ALL, 1.31),
        chart("blow from core gas", "p", CORE, BLOWN, 1.0),
        chart("sand inclusion", "p", SAND, (9, 8, 7, 9, 8, 8, 8, 7, 9, 8, 8, 7, 8), 1.0),
    ),
    changes=(Change(CORE, (date(2026, 2, 11), date(2026, 2, 20)), 0.0122, 0.0338, 0.0002),),
    concentration=(
        Concentration(
            "core maker", "C", CORE, 0.0567, 0.0148, 3.42, 2.51, 4.66, 0.0001, 0.0024, 121, 2135
        ),
        Concentration(
            "plate and core maker",
            "P-114 and C",
            CORE,
            0.071,
            0.0182,
            3.1,
            2.02,
            4.75,
            0.0004,
            0.0061,
            58,
            817,
        ),
        Concentration(
            "ladle order", "last third", MISRUN, 0.0141, 0.0039, 3.6, 2.1, 6.2, 0.0003, 0.0049,
            39, 2766,
        ),
        Concentration(
            "moulder", "second shift", SAND, 0.0151, 0.0113, 1.22, 0.84, 1.78, 0.3, 0.61, 48, 3180
        ),
    ),
    readings=(
        Movement(
            "core-bake-loss",
            "loss of a baked core on baking again",
            CORE,
            1.62,
            1.29,
            2.04,
            1,
            0.0004,
            0.0052,
            0.1,
            "%",
            (
                Dose(0.1, 0.2, 12, 1650),
                Dose(0.2, 0.3, 28, 1880),
                Dose(0.3, 0.4, 41, 1710),
                Dose(0.4, 0.5, 52, 1602),
                Dose(0.5, 0.6, 66, 1499),
            ),
        ),
        Movement(
            "moisture", "moulding sand moisture", SAND, 0.93, 0.71, 1.2, 0, 0.56, 0.81, 0.3, "%"
        ),
    ),
    causes=(
        Cause(
            "core-underbaked",
            "core not baked or cured through",
            "core",
            0.83,
            0.31,
            ((CORE, 134.0),),
            (
                Reason("The cores of maker C have 3.4 times the blows of the others.", 9.1),
                Reason("The blows follow the loss of the cores on baking again.", 6.2),
                Reason("They rose in one step between 11 and 20 February.", 2.0),
                Reason("They do not follow the weather.", -1.4),
            ),
            "Bake to a loss below 0.3 % on baking again, and break one core of each rack.",
            (
                "Do not open an oven of cores that give off solvent: it can flash. Let it vent as "
                "the makers of oven and binder say.",
            ),
        ),
        Cause(
            "core-vent-blocked",
            "core vent blocked",
            "core",
            0.34,
            0.09,
            ((CORE, 39.0),),
            (
                Reason("One core maker only.", 4.0),
                Reason("Rising loss on baking again would not follow from it.", -5.5),
            ),
            "Draw a wire through every vent before the core is set.",
        ),
        Cause(
            "waited-too-long",
            "ladle waited too long before pouring",
            "pouring",
            0.71,
            0.11,
            ((MISRUN, 37.0), (CHILL, 11.0)),
            (
                Reason("Misruns stand in the last third of the ladle.", 8.3),
                Reason("Thin edges of the same boxes are chilled.", 2.4),
            ),
            "Pour no box later than eight minutes after the tap; pig the rest.",
            (
                "Iron poured back or pigged near water or on damp ground can explode. Use dry, "
                "warmed pig moulds and keep people away.",
            ),
        ),
    ),
    tells=(
        Tell("look", "Cut ten blown castings of maker C: are the holes smooth and beside the core?",
             40.0, 10, 0.9),
        Tell("trial", "Pour one rack baked half an hour longer beside one as now, same ladle.",
             None, 240, 0.8),
    ),
    unknown_words=(
        UnknownWord("gribbly", 7, (("rough surface", 0.22), ("sand inclusion", 0.18))),
        UnknownWord("=cmd|' /C calc'!A0", 1),
    ),
    warnings=(
        "Dates of sheet Scrap: rows 2 to 300 prove day before month; the rest are read alike.",
        "31 remarks could mean two faults; they count as parts of both.",
    ),
    by_pattern=(("P-114", 171.0, 2480.0), ("P-220", 149.0, 3301.0), ("P-301", 114.0, 2560.0)),
    rate=(0.0468, 0.0578),
    headings=(("Dat.", "date"), ("Mod.", "pattern"), ("Km", "core maker"), ("Grund", "fault")),
)
# fmt: on
"""A quarter with one step, one core maker, one end of the ladle, and a reading that moves along."""

BARE = Batch(
    source="rejects-only.csv",
    rows=Rows(read=21, used=21),
    scrapped=21.0,
    poured=None,
    first=None,
    last=None,
    pareto=(
        Bar(MISRUN, "misrun", 14.0, 0.6667, 0.45, 0.83),
        Bar(CHILL, "chill of thin edges", 7.0, 0.3333, 0.17, 0.55),
    ),
)
"""Rejects only: no castings poured, no date, nothing beside it."""

EMPTY = Batch("nothing.csv", Rows(0, 0), 0.0, None, None, None, ())
"""A sheet without a single row that is used."""
