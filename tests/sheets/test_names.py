"""What headings stand for: names with units and abbreviations as the trade writes them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagnose.basics.quantity import UNITS
from diagnose.sheets.names import KEYS, Names
from tests import shipped
from tests.sheets.shop import BOOK, NAMES, measured

REAL = Names(shipped.book())


@pytest.mark.parametrize(
    ("heading", "sure", "unit"),
    [
        ("moisture (%)", "sand-moisture", "%"),
        ("Moisture [%]", "sand-moisture", "%"),
        ("MOISTURE, %", "sand-moisture", "%"),
        ("Moisture %", "sand-moisture", "%"),
        ("% moisture", "sand-moisture", "%"),
        ("Moisture (wt. %)", "sand-moisture", "%"),
        ("Moist.", "sand-moisture", ""),
        ("H2O %", "sand-moisture", "%"),
        ("molding sand moisture", "sand-moisture", ""),
        ("Moisture 2", "sand-moisture", ""),
        ("mositure", "sand-moisture", ""),
        ("Perm.", "sand-permeability", ""),
        ("Perm (AFS)", "sand-permeability", "AFS"),
        ("Sand temp °F", "sand-temperature", "degF"),
        ("temperature (sand) [°C]", "sand-temperature", "degC"),
        ("Pouring temp., deg. C", "pouring-temperature", "degC"),
        ("Iron temp/°C", "pouring-temperature", "degC"),
        ("pour temp °C", "pouring-temperature", "degC"),
        ("L.O.I. (%)", "sand-loss-on-ignition", "%"),
        ("GCS kN/m²", "sand-green-strength", "kN/m2"),
        ("green strength (psi)", "sand-green-strength", "psi"),
        ("Wedge test mm", "chill-wedge", "mm"),
        ("Tap to pour time (min)", "tap-to-pour", "min"),
        ("time from tap to last mould min", "tap-to-pour", "min"),
        ("mold hardness B", "mould-hardness", "B"),
        ("C", "carbon", ""),
        ("%C", "carbon", "%"),
        ("P [ppm]", "phosphorus", "ppm"),
        ("Date", "date", ""),
        ("Date/Time", "date", ""),
        ("Time", "time", ""),
        ("Heat No.", "heat", ""),
        ("Heat #", "heat", ""),
        ("Ladle", "ladle", ""),
        ("SHIFT", "shift", ""),
        ("Part no", "pattern", ""),
    ],
)
def test_a_name_with_its_unit(heading: str, sure: str, unit: str) -> None:
    sense = NAMES.sense(heading)
    assert (sense.sure, sense.unit) == (sure, unit)


@pytest.mark.parametrize(
    ("heading", "perhaps", "strange"),
    [
        ("Temp °F", {"sand-temperature", "pouring-temperature", "tapping-temperature"}, ""),
        ("Temperature", {"sand-temperature", "pouring-temperature", "tapping-temperature"}, ""),
        ("Strength", {"sand-green-strength"}, ""),
        ("moisture at bench 2 (%)", {"sand-moisture"}, ""),
        ("moisture (kg)", {"sand-moisture"}, "kg"),
        ("GCS (kp/cm²)", {"sand-green-strength"}, "kp/cm²"),
        ("GCS kp/cm2", {"sand-green-strength"}, "kp/cm2"),
    ],
)
def test_what_is_asked(heading: str, perhaps: set[str], strange: str) -> None:
    sense = NAMES.sense(heading)
    assert (sense.sure, set(sense.perhaps), sense.strange) == ("", perhaps, strange)


def test_a_name_of_two_measurements_is_asked_unless_the_unit_settles_it() -> None:
    sand = measured("temper", "%", 0, 15)
    names = Names(replace(BOOK, measurements={"a": sand, "b": sand, "c": replace(sand, unit="mm")}))
    assert names.sense("temper").perhaps == ("a", "b", "c")
    assert names.sense("temper (%)").perhaps == ("a", "b")
    assert names.sense("temper (mm)").sure == "c"


@pytest.mark.parametrize(
    "heading",
    [
        "Remarks",
        "Operator",
        "Sample",
        "Iron",
        "Sand",
        "Feuchte",
        "Cr",
        "Mn",
        "time (min)",
        "7",
        "%",
    ],
)
def test_what_is_not_understood(heading: str) -> None:
    sense = NAMES.sense(heading)
    assert (sense.sure, sense.perhaps, sense.limit) == ("", (), False)


@pytest.mark.parametrize(
    "heading", ["moisture max", "moisture min", "Target perm", "upper limit LOI", "P spec"]
)
def test_a_column_of_limits_is_no_column_of_readings(heading: str) -> None:
    assert NAMES.sense(heading).limit


def test_every_name_of_the_rule_base_is_understood_with_its_unit() -> None:
    """Asked at worst, where two measurements share a name; never taken for another one."""
    for meaning, entry in REAL.book.measurements.items():
        for name in (meaning, meaning.replace("-", " "), entry.name, *entry.also):
            for heading in (name, f"{name} ({entry.unit})", f"{name.upper()} [{entry.unit}]"):
                sense = REAL.sense(heading)
                assert meaning in (sense.sure, *sense.perhaps), heading
                assert sense.unit in ("", entry.unit)


def test_every_unit_stands_behind_a_name_that_it_fits() -> None:
    for unit in UNITS:
        for meaning, entry in REAL.book.measurements.items():
            sense = REAL.sense(f"{entry.name} ({unit})")
            fits = UNITS[unit].kind == UNITS[entry.unit].kind
            assert (sense.sure == meaning and sense.unit == unit) == fits, (entry.name, unit)


@pytest.mark.parametrize("key", KEYS)
def test_what_tells_rows_apart_is_known_in_the_rule_base_too(key: str) -> None:
    """No measurement has one of these for its name."""
    for name in KEYS[key]:
        assert REAL.sense(name).sure == key
