"""What a hostile second reader of notes would not sign, each once (common practice, no source).

Findings of the same sickness, or of two sicknesses at once, are not evidence against each other;
what is merely rare is no contradiction; what follows from readings is named.
"""

from __future__ import annotations

import pytest

from diagnose.notes.compose import compose
from diagnose.session.session import Session


def job(first: Session, metal: str, section: str, **measured: str) -> Session:
    session = first.another()
    session.about(metal=metal, process="green sand", section=section)
    for name, reading in measured.items():
        session.measure(name.replace("_", "-"), reading)
    return session


def test_cold_tapping_is_no_evidence_against_a_long_wait(first: Session) -> None:
    session = job(first, "grey iron", "5 mm", tapping_temperature="1410 degC", tap_to_pour="6 min")
    session.call_it("misrun")
    session.answer("place-in-ladle", "last-from-ladle")
    pushes = {push.entry: push for push in session.explain("waited-too-long")}
    assert pushes["tapping-temperature"].besides == ("iron tapped too cold",)
    assert "against" not in pushes["tapping-temperature"].words
    suspect = next(s for s in compose(session).suspects if s.name.startswith("ladle waited"))
    assert suspect.against == ()
    assert any("points to iron tapped too cold" in text for text in suspect.besides)


def test_a_sign_of_the_cause_itself_is_not_called_a_sign_of_something_else(first: Session) -> None:
    session = job(
        first, "ductile iron", "20 mm", residual_magnesium="0.024 %", time_since_treatment="13 min"
    )
    session.call_it("poor-nodularity")
    for push in session.explain("treated-iron-waited"):
        assert push.besides == ()


def test_worked_out_carbon_equivalent_bears_the_cause_out(first: Session) -> None:
    """3.15 + (1.75 + 0.08) / 3 = 3.76."""
    session = job(
        first, "grey iron", "6 mm", carbon="3.15 %", silicon="1.75 %", phosphorus="0.08 %"
    )
    session.call_it("chill")
    note = compose(session)
    suspect = next(s for s in note.suspects if s.name == "carbon equivalent too low")
    assert any("carbon equivalent: 3.76 %" in text for text in suspect.proved_by)
    assert any("3.76 %" in text for group in note.findings for text in group.texts)


@pytest.mark.parametrize(
    ("called", "measured"),
    [
        ("penetration", {"pouring_temperature": "1460 degC", "mould_hardness": "55 B"}),
        ("expansion-scab", {"mould_hardness": "93 B"}),
        ("chill", {"carbon": "3.15 %", "silicon": "1.75 %", "phosphorus": "0.08 %"}),
    ],
)
def test_a_rare_fault_is_no_contradiction_to_what_goes_with_it(
    first: Session, called: str, measured: dict[str, str]
) -> None:
    session = job(first, "grey iron", "12 mm", **measured)
    session.call_it(called)
    assert not any("hardly goes with" in text for text in session.warnings())


def test_what_the_rest_makes_rarer_still_is_reported(first: Session) -> None:
    session = job(first, "grey iron", "12 mm")
    for look, answer in (
        ("fault-form", "hole"), ("cavity-wall", "smooth"), ("beside-core", "at-a-core"),
        ("cavity-contents", "empty"),
    ):  # fmt: skip
        session.answer(look, answer)
    session.call_it("drop")
    assert any("called it" in text and "hardly goes with" in text for text in session.warnings())


def test_a_reading_is_not_said_to_explain_little_before_the_fault_is_clear(first: Session) -> None:
    session = job(first, "grey iron", "12 mm", sand_live_clay="5.2 %")
    assert not any("explains little" in text for text in session.warnings())
    session.call_it("shift")
    session.answer("step-direction", "same-each-time")
    assert any("explains little" in text for text in session.warnings())


def test_a_unit_with_a_figure_in_it_is_not_said_twice(first: Session) -> None:
    session = job(first, "grey iron", "12 mm", zircon_wash_density="1.9 g/cm3")
    texts = [text for group in compose(session).findings for text in group.texts]
    assert texts == ["density of the zircon wash: 1.9 g/cm3, within its window"]


def test_a_plain_ratio_stands_without_a_word_for_a_unit(first: Session) -> None:
    session = job(first, "grey iron", "12 mm", weight_over_lift="0.8")
    texts = [text for group in compose(session).findings for text in group.texts]
    assert any("weight on the cope over the lift: 0.8," in text for text in texts)
