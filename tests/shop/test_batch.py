"""What to throw into the mill."""

from __future__ import annotations

import pytest

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations


def test_clay_and_water_together_reach_both_targets() -> None:
    worked = calculations()["batch-make-up"].run(
        batch=200, moisture=2, moisture_target=3.5, clay=7, clay_target=8, strength=90, damp=10
    )
    # By hand: 196 kg dry x 1 / 82 = 2.3902 kg dry clay, 2.6558 kg as delivered.
    clay = 196 * (8 - 7) / (90 - 8) / 0.9
    assert worked.working[1].startswith("clay as delivered = 2.656 kg")
    water = 200 * 0.02 + clay * 0.1 + worked.value
    whole = 200 + clay + worked.value
    assert water / whole == pytest.approx(0.035)
    assert (196 * 0.07 + clay * 0.9 * 0.9) / (196 + clay * 0.9) == pytest.approx(0.08)


@pytest.mark.parametrize(
    ("name", "values"),
    [
        (
            "coal-dust-addition",
            {"batch": 200, "moisture": 3, "ignition": 3.5, "target": 4, "strength": 90},
        ),
        ("new-sand-dilution", {"batch": 200, "moisture": 3, "level": 4, "target": 3.8}),
        ("clay-addition", {"batch": 200, "moisture": 3, "clay": 7, "target": 8}),
        ("new-sand-for-metal", {"metal": 1000}),
    ],
)
def test_dust_is_warned_of(name: str, values: dict[str, float]) -> None:
    worked = calculations()[name].run(**values)
    assert worked.value > 0
    assert any(each.startswith("dust: silica") for each in worked.warnings)


def test_a_great_thinning_is_spread() -> None:
    values = {"batch": 200, "moisture": 3, "level": 6, "target": 4}
    warnings = calculations()["new-sand-dilution"].run(**values).warnings
    assert any("spread it over several rounds" in each for each in warnings)


def test_core_sand_renews_the_system_too() -> None:
    rule = calculations()["new-sand-for-metal"]
    assert rule.run(metal=1000, cores=60).value == pytest.approx(90)
    with pytest.raises(OutOfRange, match="more than the 150 kg"):
        rule.run(metal=1000, cores=200)
