"""A casting's dimension against the casting tolerance grades of ISO 8062-3."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure
from diagnose.shop.contraction import GREY

_NONE: Final = None
_Row = tuple[float, tuple[float | None, ...]]
GRADES: Final = tuple(range(1, 17))
WIDTHS: Final[tuple[_Row, ...]] = (
    (10, (0.09, 0.13, 0.18, 0.26, 0.36, 0.52, 0.74, 1, 1.5, 2, 2.8, 4.2, *(_NONE,) * 4)),
    (16, (0.1, 0.14, 0.2, 0.28, 0.38, 0.54, 0.78, 1.1, 1.6, 2.2, 3, 4.4, *(_NONE,) * 4)),
    (25, (0.11, 0.15, 0.22, 0.3, 0.42, 0.58, 0.82, 1.2, 1.7, 2.4, 3.2, 4.6, 6, 8, 10, 12)),
    (40, (0.12, 0.17, 0.24, 0.32, 0.46, 0.64, 0.9, 1.3, 1.8, 2.6, 3.6, 5, 7, 9, 11, 14)),
    (63, (0.13, 0.18, 0.26, 0.36, 0.5, 0.7, 1, 1.4, 2, 2.8, 4, 5.6, 8, 10, 12, 16)),
    (100, (0.14, 0.2, 0.28, 0.4, 0.56, 0.78, 1.1, 1.6, 2.2, 3.2, 4.4, 6, 9, 11, 14, 18)),
    (160, (0.15, 0.22, 0.3, 0.44, 0.62, 0.88, 1.2, 1.8, 2.5, 3.6, 5, 7, 10, 12, 16, 20)),
    (250, (_NONE, 0.24, 0.34, 0.5, 0.7, 1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 14, 18, 22)),
    (400, (_NONE, _NONE, 0.4, 0.56, 0.78, 1.1, 1.6, 2.2, 3.2, 4.4, 6.2, 9, 12, 16, 20, 25)),
    (630, (*(_NONE,) * 3, 0.64, 0.9, 1.2, 1.8, 2.6, 3.6, 5, 7, 10, 14, 18, 22, 28)),
    (1000, (*(_NONE,) * 4, 1, 1.4, 2, 2.8, 4, 6, 8, 11, 16, 20, 25, 32)),
    (1600, (*(_NONE,) * 4, 1.1, 1.6, 2.2, 3.2, 4.6, 7, 9, 13, 18, 23, 29, 37)),
)
"""Whole width of the tolerance in mm by largest size of the row, mm, and grade from 1 to 16."""

_READ_UP_TO: Final = 400.0
_SOURCE = (
    "ISO 8062-3:2007, Table 2 (read up to 400 mm and grade 13 to 630 mm; beyond that grade 9 "
    "read, the rest from memory)."
)
HAND: Final = "hand-moulded grey iron in clay-bonded sand, short series: grade 13 to 15"


def tolerance(size: float, grade: int) -> float:
    """Return the whole width of the tolerance in mm for a size in mm and a grade from 1 to 16.

    It lies half above and half below the size. Raises OutOfRange where the standard has none.

    References: ISO 8062-3:2007, Table 2 (read).

    >>> tolerance(80, 9), tolerance(250.1, 9)
    (2.2, 3.2)
    """
    held = _widths(size)
    if grade not in held:
        raise OutOfRange(
            f"grade: {grade} has no tolerance for {figure(size)} mm; right would be from "
            f"{min(held)} to {max(held)}."
        )
    return held[grade]


def grade_met(size: float, measured: float) -> int:
    """Return the finest grade that a measured size meets, both in mm.

    Raises OutOfRange when not even the coarsest is met.

    >>> grade_met(80, 81.0), grade_met(80, 84.4)
    (9, 13)
    """
    off = abs(measured - size)
    held = _widths(size)
    met = [grade for grade, width in held.items() if off <= width / 2 + 1e-9]
    if not met:
        raise OutOfRange(
            f"measured: {figure(off)} mm off is outside every grade (at most "
            f"{figure(max(held.values()) / 2)}); was the right length measured?"
        )
    return met[0]


def beside_pattern(measured: float, pattern: float, contraction: float) -> float:
    """Return by how many mm a casting is larger than its pattern should make it.

    All in mm, ``contraction`` in %. What is left is not the pattern's doing.

    >>> round(beside_pattern(301.5, 303.0, 1.0), 6)
    1.5
    """
    return measured - pattern / (1 + contraction / 100)


def _widths(size: float) -> dict[int, float]:
    """Return the widths of the row that ``size`` falls in, by grade, finest first."""
    for largest, widths in WIDTHS:
        if 0 < size <= largest:
            return {
                grade: width
                for grade, width in zip(GRADES, widths, strict=True)
                if width is not None
            }
    raise OutOfRange(
        f"size: {figure(size)} mm is not in the table; right would be above 0 to "
        f"{figure(WIDTHS[-1][0])} mm."
    )


def _whole(grade: float) -> int:
    if grade != int(grade):
        raise OutOfRange(f"grade: {figure(grade)} is not a grade; right would be a whole number.")
    return int(grade)


def _warnings(size: float) -> tuple[str, ...]:
    words = [HAND]
    if size <= 25:
        finer = 3 if size <= 10 else 2 if size <= 16 else 1
        words.append(f"sizes as small as this can be held {finer} finer (ISO/CD 8062-2, read)")
    if size > _READ_UP_TO:
        words.append("this row is partly from memory: look it up before a dispute")
    return tuple(words)


def _work_tolerance(size: float, grade: float) -> Worked:
    value = tolerance(size, _whole(grade))
    working = (
        f"look up the width for {figure(size)} mm, grade {figure(grade)}",
        f"half of it above and half below: {figure(size)} +/- {figure(value / 2)} mm",
        f"= {figure(value)} mm",
    )
    return Worked(value, "mm", working, _SOURCE, _warnings(size))


def _work_met(size: float, measured: float) -> Worked:
    value = grade_met(size, measured)
    half = tolerance(size, value) / 2
    working = (
        "finest grade whose half width covers the error",
        f"{figure(abs(measured - size))} mm off; grade {value} allows {figure(half)} mm either way",
        f"= grade {value}",
    )
    warnings = list(_warnings(size))
    if value > 15:
        warnings.insert(0, "coarser than hand moulding should give: pattern, shift or swell")
    return Worked(value, "grade", working, _SOURCE, tuple(warnings))


def _work_beside(size: float, measured: float, pattern: float, contraction: float) -> Worked:
    value = beside_pattern(measured, pattern, contraction)
    due = pattern / (1 + contraction / 100)
    working = (
        "not the pattern's doing = measured - pattern / (1 + contraction / 100)",
        f"= {figure(measured)} - {figure(pattern)} / (1 + {figure(contraction)} / 100)",
        f"= {figure(value)} mm; the pattern itself is out by {figure(due - size)} mm",
    )
    if abs(due - size) > abs(value):
        warnings = ("the pattern, or the contraction it was made for, is the larger part",)
    else:
        warnings = ("the mould is the larger part: swell or strain, rapping, shift, or hindrance",)
    return Worked(value, "mm", working, _SOURCE, (*warnings, *_warnings(size)))


_SIZE = Input("size", "size on the drawing", "mm", 1, 1600)
_MEASURED = Input("measured", "size found on the casting", "mm", 0.5, 1700)
CALCULATIONS = (
    Calculation(
        "casting-tolerance",
        "Tolerance of a casting's dimension",
        (_SIZE, Input("grade", "casting tolerance grade", "", 1, 16)),
        "mm",
        _SOURCE,
        _work_tolerance,
    ),
    Calculation(
        "casting-grade",
        "Grade that a casting's dimension meets",
        (_SIZE, _MEASURED),
        "grade",
        _SOURCE,
        _work_met,
    ),
    Calculation(
        "size-beside-pattern",
        "How much of a wrong size is the pattern's doing",
        (
            _SIZE,
            _MEASURED,
            Input("pattern", "the same length on the pattern", "mm", 0.5, 1700),
            Input("contraction", "contraction in length", "%", 0, 3, default=GREY["free"]),
        ),
        "mm",
        _SOURCE,
        _work_beside,
    ),
)
