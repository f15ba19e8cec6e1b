"""A few measurements, so that no change of the rule base changes what these tests say."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from diagnose.rulebase.book import Measurement
from diagnose.sheets.given import Given
from diagnose.sheets.names import Names
from diagnose.sheets.opened import open_tables
from diagnose.sheets.reading import Sheet, read_sheet
from tests import shipped

FILES = Path(__file__).parent / "files"


def measured(name: str, unit: str, least: float, most: float, *also: str) -> Measurement:
    """A measurement with nothing but its names, its unit and what is possible."""
    return Measurement(
        name=name, unit=unit, possible=(least, most), repeatability=0.1, minutes=5, how="",
        windows=(), source=("common practice",), also=also,
    )  # fmt: skip


BOOK = replace(
    shipped.book(),
    measurements={
        "sand-moisture": measured("moulding sand moisture", "%", 0.3, 15, "moisture"),
        "sand-permeability": measured(
            "permeability of the sand", "AFS", 1, 600, "perm", "permeability number"
        ),
        "sand-temperature": measured("moulding sand temperature", "degC", -10, 150, "sand temp"),
        "sand-loss-on-ignition": measured("loss on ignition of the sand", "%", 0.1, 20, "LOI"),
        "sand-green-strength": measured(
            "green compression strength", "kN/m2", 5, 350, "green strength", "GCS"
        ),
        "pouring-temperature": measured(
            "pouring temperature", "degC", 1100, 1600, "iron temperature"
        ),
        "tapping-temperature": measured(
            "tapping temperature", "degC", 1150, 1650, "tap temperature"
        ),
        "tap-to-pour": measured("time from tap to last mould", "min", 0, 90, "tap to pour time"),
        "chill-wedge": measured("chill on the wedge", "mm", 0, 32, "wedge test"),
        "carbon": measured("carbon in the iron", "%", 1.5, 5, "C"),
        "phosphorus": measured("phosphorus in the iron", "%", 0, 2, "P"),
        "aluminium": measured("aluminium in the iron", "%", 0, 0.5, "Al"),
        "core-age": measured("age of the core", "h", 0, 5000, "core age"),
        "mould-hardness": measured("mould hardness", "B", 0, 100),
    },
)
NAMES = Names(BOOK)


def read(file: Path, given: Given | None = None) -> Sheet:
    """Read a file with these measurements."""
    return read_sheet(open_tables(file), BOOK, given)


def values(sheet: Sheet) -> dict[str, list[tuple[float, str, str]]]:
    """Measurement -> value, unit and cell of each of its readings."""
    found: dict[str, list[tuple[float, str, str]]] = {}
    for taken in sheet.taken:
        found.setdefault(taken.means, []).append((taken.value, taken.unit, taken.cell))
    return found
