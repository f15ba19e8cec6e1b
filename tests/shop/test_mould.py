"""Sums on the closed mould."""

from __future__ import annotations

import pytest

from diagnose.shop.catalogue import calculations


def test_both_conventions_of_core_lift_are_said() -> None:
    core = calculations()["core-lift"]
    net, gross = core.run(volume=1000), core.run(volume=1000, way="gross")
    # 7200 - 1600 and 7200 kg/m3 on a litre.
    assert net.value == pytest.approx(5.6 * 9.80665)
    assert gross.value == pytest.approx(7.2 * 9.80665)
    assert "gross one gives 70.61 N" in net.warnings[0]
    assert "net one gives 54.92 N" in gross.warnings[0]


def test_a_thin_margin_is_told() -> None:
    weight = calculations()["mould-weight"]
    assert "1.43" in weight.run(lift=1000, factor=1.1).warnings[0]
    assert not any("1.43" in each for each in weight.run(lift=1000).warnings)


def test_a_cope_heavy_enough_wants_no_weight() -> None:
    assert calculations()["mould-weight"].run(lift=100, cope=60).value == 0


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("cope-lift", {"area": 400, "head": 150}),
        ("mould-weight", {"lift": 400}),
        ("mould-clamps", {"pull": 400, "load": 2000}),
    ],
)
def test_a_lifting_cope_is_warned_of(name: str, values: dict[str, float]) -> None:
    assert any("run out" in each for each in calculations()[name].run(**values).warnings)


def test_lift_in_the_words_of_the_old_rule() -> None:
    # 6 in of head on 5 square inches: 6 x 0.26 x 5 = 7.8 lb (Shop Practice V2).
    worked = calculations()["cope-lift"].run(area=5 * 6.4516, head=152.4, density=7196.8)
    assert worked.working[-1] == "= 3.538 kg to hold it down, without margin"
    assert worked.value == pytest.approx(7.8 * 4.4482216, abs=0.005)
