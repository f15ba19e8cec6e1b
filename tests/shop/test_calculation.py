"""The checks every input goes through, and the words of a fault."""

from __future__ import annotations

import math

import pytest

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps


def _water(weight: float, share: float, way: str, extra: dict[str, float]) -> Worked:
    value = weight * share / 100 + sum(extra.values())
    return Worked(value, "kg", steps("water = weight x share", way, value, "kg"), "arithmetic")


WATER = Calculation(
    "water",
    "Water in a batch",
    (
        Input("weight", "weight of the batch", "kg", 1, 1000),
        Input("share", "water in it", "%", 0, 100, default=3.0),
        Input("way", "how it was weighed", "", choices=("scale", "shovel"), default="scale"),
        Input("extra", "what was thrown in, by name", "kg", 0, 10, table=True),
    ),
    "kg",
    "arithmetic",
    _water,
)


def test_runs_with_defaults_filled_in() -> None:
    worked = WATER.run(weight=200, extra={"can": 1, "hose": 2})
    assert worked.value == 9.0
    assert worked.working == ("water = weight x share", "= scale", "= 9 kg")


def test_all_faults_come_at_once_each_with_what_would_be_right() -> None:
    with pytest.raises(OutOfRange) as caught:
        WATER.run(weight=-3, share=120, way="eye", extra={"can": 11, "hose": 2})
    assert caught.value.problems == (
        "weight: -3 kg cannot be used (weight of the batch); right would be from 1 to 1000 kg.",
        "share: 120 % cannot be used (water in it); right would be from 0 to 100 %.",
        "way: 'eye' is not known; right would be one of scale, shovel.",
        "extra, can: 11 kg cannot be used (what was thrown in, by name); "
        "right would be from 0 to 10 kg.",
    )


def test_missing_and_mistaken_names() -> None:
    with pytest.raises(OutOfRange) as caught:
        WATER.run(wieght=3.0, extra={"can": 1.0})
    assert caught.value.problems == (
        "wieght is not an input of water; did you mean weight?",
        "weight is missing: weight of the batch, from 1 to 1000 kg.",
    )


@pytest.mark.parametrize("bad", ["three", True, [1.0], math.nan, math.inf, {}])
def test_what_is_not_a_number_is_refused(bad: object) -> None:
    with pytest.raises(OutOfRange, match="weight"):
        WATER.run(weight=bad, extra={"can": 1.0})  # type: ignore[arg-type]


@pytest.mark.parametrize("bad", [3.0, {}, "can:1", {"can": None}])
def test_what_is_not_a_table_is_refused(bad: object) -> None:
    with pytest.raises(OutOfRange, match="extra"):
        WATER.run(weight=10, extra=bad)  # type: ignore[arg-type]


def test_a_result_that_is_no_number_is_refused() -> None:
    endless = Calculation(
        "endless",
        "Endless",
        (Input("weight", "weight", "kg", 0, 10),),
        "kg",
        "arithmetic",
        lambda weight: Worked(math.inf * (weight + 1), "kg", (), "arithmetic"),
    )
    with pytest.raises(OutOfRange, match="no finite result"):
        endless.run(weight=0)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0, "0"), (0.1 + 0.2, "0.3"), (152.38, "152.4"), (30076.8, "30077"), (-4.36949, "-4.369")],
)
def test_figures_read_easily(value: float, text: str) -> None:
    assert figure(value) == text
