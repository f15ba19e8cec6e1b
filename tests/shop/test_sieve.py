"""Sieve tables: what the number must and must not do."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.sieve import (
    SERIES,
    grain_fineness,
    grain_fineness_of_samples,
    major_sieves,
    shares,
)

NATURAL = {"40": 0.4, "50": 1.3, "70": 2.4, "100": 4.5, "140": 17.1, "200": 22.1, "270": 21.8}
NATURAL["pan"] = 18.6
LABELS = list(SERIES["us"])
tables = st.dictionaries(
    st.sampled_from(LABELS), st.floats(0.01, 100), min_size=1, max_size=len(LABELS)
)


def test_divides_by_what_was_sieved_not_by_a_hundred() -> None:
    # 15243 over 88.2 sieved is 173; over 100, the common slip, it would read 152.
    assert grain_fineness(NATURAL) == pytest.approx(172.82, abs=0.01)
    assert grain_fineness(NATURAL) != pytest.approx(152.4, abs=1)


@given(tables, st.floats(0.01, 50))
def test_grams_or_per_cent_give_one_number(table: dict[str, float], scale: float) -> None:
    scaled = {label: amount * scale for label, amount in table.items()}
    assert grain_fineness(scaled) == pytest.approx(grain_fineness(table))


@given(tables)
def test_lies_between_the_multipliers_of_its_sieves(table: dict[str, float]) -> None:
    multipliers = [SERIES["us"][label][1] for label in table]
    slack = 1e-9 * max(multipliers)
    assert min(multipliers) - slack <= grain_fineness(table) <= max(multipliers) + slack


@given(tables, st.floats(0.1, 20))
def test_more_on_the_pan_never_makes_sand_coarser(table: dict[str, float], more: float) -> None:
    finer = dict(table)
    finer["pan"] = finer.get("pan", 0.0) + more
    assert grain_fineness(finer) >= grain_fineness(table) - 1e-9


@given(tables)
def test_openings_and_numbers_name_the_same_sieves(table: dict[str, float]) -> None:
    to_opening = dict(zip(SERIES["us"], SERIES["iso"], strict=True))
    by_opening = {to_opening[label]: amount for label, amount in table.items()}
    assert grain_fineness(by_opening, "iso") == grain_fineness(table)


def test_metric_series_is_close_to_the_us_one_on_the_same_sand() -> None:
    # The two stacks cut one curve at different openings; memory has the metric multipliers, so
    # this only guards against a wrong column. The curve: log-normal about 0.22 mm.
    from scipy.stats import norm

    def table(series: str) -> dict[str, float]:
        openings = [each[0] for each in SERIES[series].values()][:-1]
        passing = [float(norm.cdf(np.log(each / 0.22) / 0.35)) for each in openings]
        kept = -np.diff([1.0, *passing, 0.0]) * 100
        return dict(zip(SERIES[series], kept.tolist(), strict=True))

    us, metric = (grain_fineness(table(series), series) for series in ("us", "metric"))
    assert metric == pytest.approx(us, rel=0.06)


def test_many_samples_at_once() -> None:
    rows = np.array([[0.4, 1.3, 2.4, 4.5, 17.1, 22.1, 21.8, 18.6], [0, 10, 40, 40, 10, 0, 0, 0]])
    found = grain_fineness_of_samples(rows, list(NATURAL))
    assert found.shape == (2,)
    assert found[0] == pytest.approx(grain_fineness(NATURAL))
    assert found[1] == pytest.approx(62.0)


def test_the_pan_is_no_sieve() -> None:
    assert major_sieves({"50": 20, "70": 60, "pan": 20}) == ("50", "70")


def test_shares_add_up() -> None:
    assert sum(shares(NATURAL).values()) == pytest.approx(100)


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ({"70": -1.0}, "sieve 70: -1 cannot be"),
        ({"70": float("nan")}, "sieve 70: nan cannot be"),
        ({"75": 1.0}, "sieve 75 is not of the us series"),
        ({"70": 0.0}, "held nothing"),
        ({}, "held nothing"),
    ],
)
def test_nonsense_is_refused(table: dict[str, float], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        grain_fineness(table)


def test_an_unknown_series_is_refused() -> None:
    with pytest.raises(OutOfRange, match="right would be us, iso, metric"):
        grain_fineness({"70": 1.0}, "tyler")


def test_a_table_in_grams_taken_for_per_cent_is_caught() -> None:
    grams = {label: amount / 2 for label, amount in NATURAL.items()}
    fineness = calculations()["grain-fineness"]
    with pytest.raises(OutOfRange, match=r"add up to 44\.1, the sample was 100"):
        fineness.run(retained=grams)
    worked = fineness.run(retained=grams, sample=50.0, clay=5.9)
    assert worked.value == pytest.approx(172.82, abs=0.01)
    assert "40: 0.2 x 30 = 6" in worked.working


def test_small_losses_and_gaps_are_said() -> None:
    worked = calculations()["grain-fineness"].run(
        retained={"30": 1.60, "40": 8.10, "50": 33.80, "100": 48.60, "140": 6.78}
    )
    assert any("miss the sample by 1.12 %" in each for each in worked.warnings)
    assert any("nothing said of 70" in each for each in worked.warnings)


def test_two_humps_are_said() -> None:
    worked = calculations()["sieve-spread"].run(retained={"40": 50, "70": 2, "140": 48})
    assert worked.value == 2
    assert any("side by side" in each for each in worked.warnings)
    assert any("fewer than three" in each for each in worked.warnings)
