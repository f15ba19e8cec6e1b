"""What every founder knows, asked of the rule base.

All of it is common practice, no source, unless a test names one; the limits are ours.
"""

from __future__ import annotations

import pytest

from diagnose.desk import NONE
from diagnose.session import Session


def of_area(session: Session, area: str) -> float:
    return sum(cause.probability for cause in session.causes() if cause.area == area)


def of_cause(session: Session, *names: str) -> float:
    return sum(cause.probability for cause in session.causes() if cause.id in names)


def of_defect(session: Session, name: str) -> float:
    return next(share.probability for share in session.defects() if share.id == name)


@pytest.fixture
def blow_at_a_core(session: Session) -> Session:
    for look, answer in (
        ("fault-form", "hole"), ("cavity-wall", "smooth"), ("beside-core", "at-a-core"),
    ):  # fmt: skip
        session.answer(look, answer)
    return session


@pytest.mark.parametrize("moisture", ["2.0 %", "3.9 %"])
def test_dry_sand_does_not_clear_the_core(blow_at_a_core: Session, moisture: str) -> None:
    before = of_area(blow_at_a_core, "core")
    blow_at_a_core.measure("sand-moisture", moisture)
    assert before - 0.01 < of_area(blow_at_a_core, "core") < before + 0.1


def test_sand_tests_in_range_do_not_clear_the_core(blow_at_a_core: Session) -> None:
    before = of_area(blow_at_a_core, "core")
    for name, text in (
        ("sand-moisture", "3.9 %"), ("sand-permeability", "100"),
        ("sand-compactability", "42 %"), ("sand-green-strength", "80 kN/m2"),
    ):  # fmt: skip
        blow_at_a_core.measure(name, text)
    assert of_area(blow_at_a_core, "core") > before


def test_a_vent_that_takes_the_breath_clears_the_vent_and_not_the_core(
    blow_at_a_core: Session,
) -> None:
    vent, core = of_cause(blow_at_a_core, "core-vent-blocked"), of_area(blow_at_a_core, "core")
    blow_at_a_core.check("core-vent-open", "yes")
    assert of_cause(blow_at_a_core, "core-vent-blocked") < vent / 5
    assert of_area(blow_at_a_core, "core") > core / 2


def test_where_there_is_no_core_no_core_is_to_blame(session: Session) -> None:
    before = of_area(session, "core")
    session.answer("beside-core", "no-core")
    assert of_area(session, "core") < before / 4
    assert of_area(session, "core") < 0.03


def test_too_little_seen_stays_undecided(session: Session) -> None:
    session.answer("fault-form", "hole")
    assert session.causes()[0].probability < 0.2
    assert session.settled().asking
    session.answer("how-many", "some")
    assert session.causes()[0].probability < 0.2


def test_what_fits_nothing_goes_to_none_of_these(session: Session) -> None:
    """A crack: sharp lips, at a corner. No hot tear is in this book."""
    before = of_cause(session, NONE)
    for look, answer in (
        ("fault-form", "seam"), ("seam-lips", "sharp"), ("seam-place", "at-corner"),
    ):  # fmt: skip
        session.answer(look, answer)
    assert session.causes()[0].id == NONE
    assert of_cause(session, NONE) > 3 * before
    assert session.settled().text.startswith(("Still open", "Undecided"))


def test_ten_tests_of_the_same_sand_do_not_count_ten_times(session: Session) -> None:
    session.call_it("blow-mould-gas")
    session.measure("sand-moisture", "6.5 %")
    once = of_cause(session, "sand-too-wet")
    session.measure("sand-moisture", "; ".join(["6.5"] * 10) + " %")
    assert of_cause(session, "sand-too-wet") == pytest.approx(once, abs=0.01)


def test_wet_sand_is_no_proof(session: Session) -> None:
    session.measure("sand-moisture", "6.5 %")
    assert of_cause(session, "sand-too-wet") < 0.5


def test_moisture_in_its_window_is_no_acquittal(session: Session) -> None:
    session.call_it("blow-mould-gas")
    session.answer("mould-at-pour", "boiled-or-spat")
    before = of_cause(session, "sand-too-wet")
    session.measure("sand-moisture", "3.9 %")
    assert before / 20 < of_cause(session, "sand-too-wet") < before


@pytest.mark.parametrize(
    ("wall", "more", "less"),
    [
        ("smooth", "blow-mould-gas", "shrinkage-cavity"),
        ("dendritic", "shrinkage-cavity", "blow-mould-gas"),
        ("glassy", "slag-inclusion", "shrinkage-cavity"),
    ],
)
def test_the_wall_of_a_hole_tells_gas_from_shrinkage_and_slag(
    session: Session, wall: str, more: str, less: str
) -> None:
    session.answer("fault-form", "hole")
    before = of_defect(session, more), of_defect(session, less)
    session.answer("cavity-wall", wall)
    assert of_defect(session, more) > before[0]
    assert of_defect(session, less) < before[1]
    assert of_defect(session, more) > of_defect(session, less)


def test_cold_iron_leaves_seams(session: Session) -> None:
    session.answer("fault-form", "seam")
    session.answer("seam-lips", "rounded")
    assert session.defects()[0].id == "cold-shut"
    cold = ("waited-too-long", "tapped-cold", "ladle-cold")
    before = of_cause(session, *cold)
    session.measure("pouring-temperature", "1200 degC")
    assert of_cause(session, *cold) > before
    assert of_cause(session, *cold) > 0.5
    session.measure("pouring-temperature", "1400 degC")
    assert of_cause(session, *cold) < before


def test_a_blow_in_the_cope_is_not_put_down_to_worn_pins(session: Session) -> None:
    session.call_it("blow-mould-gas")
    before = of_cause(session, "box-pins-worn")
    session.check("cope-rocks-on-pins", "moves")
    assert before <= of_cause(session, "box-pins-worn") < 0.02


def test_worn_pins_shift_the_halves(session: Session) -> None:
    session.answer("fault-form", "step")
    assert session.defects()[0].id == "shift"
    session.check("cope-rocks-on-pins", "moves")
    assert session.causes()[0].id == "box-pins-worn"


def test_a_damp_ladle_lining_makes_pinholes(session: Session) -> None:
    for look, answer in (
        ("fault-form", "hole"), ("cavity-size", "under-3mm"), ("cavity-number", "many-spread"),
        ("cavity-depth", "just-under-skin"), ("time-of-heat", "first-ladles"),
    ):  # fmt: skip
        session.answer(look, answer)
    assert session.defects()[0].id == "pinholes"
    session.check("ladle-lining-dry", "damp")
    assert session.causes()[0].id == "ladle-damp"


def test_slag_comes_off_a_ladle_that_was_not_skimmed(session: Session) -> None:
    session.answer("fault-form", "foreign-matter")
    session.answer("cavity-contents", "slag")
    assert session.defects()[0].id == "slag-inclusion"
    session.check("ladle-skimmed", "not-skimmed")
    assert session.causes()[0].id == "ladle-not-skimmed"


def test_a_wrong_name_does_not_outweigh_what_is_seen(session: Session) -> None:
    session.call_it("shrinkage-cavity")
    assert session.defects()[0].id == "shrinkage-cavity"
    for look, answer in (
        ("cavity-wall", "smooth"), ("beside-core", "at-a-core"), ("cavity-trail", "trail-to-core"),
    ):  # fmt: skip
        session.answer(look, answer)
    assert session.defects()[0].id == "blow-core-gas"


def test_the_riser_that_did_not_pipe_did_not_feed(session: Session) -> None:
    for look, answer in (
        ("fault-form", "hole"), ("cavity-wall", "dendritic"), ("kind-of-spot", "heavy-junction"),
    ):  # fmt: skip
        session.answer(look, answer)
    names = ("riser-neck-freezes", "riser-missing")
    before = of_cause(session, *names)
    session.answer("riser-top", "flat-or-full")
    assert of_cause(session, *names) > before
