"""Additions, thinning out, the tap backwards: sums that undo sums, and limits.

Balances of weight and atomic weights; published figures stand in ``published/``.
"""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from diagnose.shop.additions import SULPHIDE, addition_for, alloy_again, magnesium_needed
from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.dilution import clean_share, rounds_to_reach


def run(name: str, **values: float | str) -> float:
    return calculations()[name].run(**values).value


@given(st.floats(0, 2), st.floats(0.01, 2), st.floats(10, 100), st.floats(20, 100))
def test_what_is_weighed_in_brings_what_was_lacking(
    found: float, lacking: float, content: float, recovery: float
) -> None:
    """Against the sum the other way round, ``addition-brings``."""
    weight = addition_for(found, found + lacking, content, recovery)
    assume(weight <= 5.0)
    brought = run("addition-brings", addition=weight, content=content, recovery=recovery)
    assert brought == pytest.approx(lacking)


@given(st.floats(0.01, 0.08), st.floats(0.01, 0.08), st.floats(0, 0.1))
def test_the_alloy_again_leaves_what_was_wanted(found: float, target: float, tied: float) -> None:
    """With the same yield: (found + bound) of the first dose, multiplied, less what is bound."""
    times = alloy_again(found, target, tied)
    assert times * (found + SULPHIDE * tied) - SULPHIDE * tied == pytest.approx(target)


def test_sulphur_and_waiting_ask_for_more_magnesium() -> None:
    assert magnesium_needed(0.02, 0.045) > magnesium_needed(0.01, 0.045)
    assert magnesium_needed(0.01, 0.045, 10) - magnesium_needed(0.01, 0.045) == pytest.approx(0.01)


@given(st.floats(0.05, 5), st.floats(0.02, 0.95), st.floats(0, 0.9))
def test_the_clean_share_gives_the_mixture(found: float, fall: float, low: float) -> None:
    """Against the weighted mean of the charge, ``charge-element``."""
    target = found * fall
    clean = target * low
    assume(target - clean > 1e-6)
    share = clean_share(found, target, clean)
    mixed = calculations()["charge-element"].run(
        weights={"clean": share, "old": 100 - share}, contents={"clean": clean, "old": found}
    )
    assert mixed.value == pytest.approx(target)


@given(st.floats(1, 20), st.floats(0.1, 0.9), st.floats(1, 30))
def test_rounds_lead_where_the_series_leads(start: float, fall: float, renewed: float) -> None:
    """Against ``level-after-rounds``, which walks the series."""
    rounds = rounds_to_reach(start, start * fall, renewed)
    level = run("level-after-rounds", start=start, rounds=rounds, added=0, renewed=renewed)
    assert level == pytest.approx(start * fall, rel=1e-6)


def test_what_cannot_be_thinned_is_refused() -> None:
    for wrong in ((1.0, 2.0, 0.0), (2.0, 1.0, 1.5), (1.0, 1.0, 0.0)):
        with pytest.raises(OutOfRange):
            clean_share(*wrong)
    with pytest.raises(OutOfRange, match="never reached"):
        rounds_to_reach(4.0, 8.0, 5.0)
    with pytest.raises(OutOfRange, match="has reached"):
        run("addition-for", found=2, target=1, content=75)
    with pytest.raises(OutOfRange, match="is enough"):
        run("manganese-addition", manganese=0.9, sulphur=0.05)


@given(st.floats(1280, 1420), st.floats(20, 2000), st.floats(0.5, 6))
def test_the_tap_backwards_is_the_tap_forwards(mould: float, metal: float, minutes: float) -> None:
    """Against ``metal-at-mould``; a wait of so long is then the longest."""
    try:
        tapped = run("tap-for-mould", mould=mould, metal=metal, minutes=minutes)
    except OutOfRange:
        return
    assume(tapped <= 1600)
    left = run("metal-at-mould", tapped=tapped, metal=metal, minutes=minutes)
    assert left == pytest.approx(mould, abs=0.01)
    wait = run("wait-in-ladle", tapped=tapped, mould=mould, metal=metal)
    assert wait == pytest.approx(minutes, rel=0.01)


def test_iron_that_is_too_cold_may_not_wait_at_all() -> None:
    with pytest.raises(OutOfRange, match="tap hotter first"):
        run("wait-in-ladle", tapped=1350, mould=1380)


def test_sums_in_one_go_are_the_sums_one_after_the_other() -> None:
    lift = run("cope-lift", area=2250, head=200)
    laid_on = run("weight-for-face", area=2250, head=200, cope=100)
    assert laid_on == pytest.approx(run("mould-weight", lift=lift, cope=100))
    time = run("pouring-time", weight=60, section=12)
    choke = run("choke-for-pour", weight=60, section=12, head=180)
    assert choke == pytest.approx(run("choke-area", weight=60, time=time, head=180))
    vents = run("vents-for-core", core=2, binder=1.5, head=150)
    many = {"core": 2, "binder": 1.5, "head": 150, "seconds": 30, "diameter": 3, "length": 200}
    assert run("core-venting", vents=vents, **many) == pytest.approx(25.0)
    assert run("contraction-allowance", contraction=1.0) == pytest.approx(10.0)
    assert run("part-of-wall", wall=12, share=0.4) == pytest.approx(4.8)
