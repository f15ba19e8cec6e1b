"""The order of the proofs: the largest probability to a minute first, by hand."""

from __future__ import annotations

from diagnose.notes.note import Step, Suspect
from diagnose.notes.planned import plan

VENT = Step("vent", "Blow through it.", "Use a tube.", 2, "no air")
SAND = Step("sand", "Measure it.", "Dry it.", 10, "above 4 %")
DRY = Step("dry", "Is it dry?", "Ask.", 4, "damp")


def suspect(name: str, step: Step | None) -> Suspect:
    return Suspect(name, "cores", "", step=step)


def test_the_largest_probability_to_a_minute_comes_first() -> None:
    """0.5 / 10 = 0.05, 0.3 / 2 = 0.15 and 0.2 / 4 = 0.05 a minute; equals keep their order."""
    suspects = [suspect("wet", SAND), suspect("blocked", VENT), suspect("damp", DRY)]
    made = plan(suspects, [0.5, 0.3, 0.2], ())
    assert [one.proves for one in made] == [("blocked",), ("wet",), ("damp",)]


def test_one_proof_of_two_causes_stands_once_and_counts_for_both() -> None:
    """(0.2 + 0.2) / 2 = 0.2 is more than 0.3 / 4 = 0.075; by itself 0.2 / 2 = 0.1 is too."""
    suspects = [suspect("damp", DRY), suspect("paste", VENT), suspect("wax", VENT)]
    made = plan(suspects, [0.3, 0.2, 0.2], ())
    assert [(one.step.name, one.proves) for one in made] == [
        ("vent", ("paste", "wax")), ("dry", ("damp",)),
    ]  # fmt: skip


def test_what_is_proved_needs_no_step_and_questions_come_last() -> None:
    made = plan([suspect("proved", None), suspect("wet", SAND)], [0.6, 0.1], [DRY])
    assert [(one.step.name, one.proves) for one in made] == [("sand", ("wet",)), ("dry", ())]
