"""Which check or measurement proves a cause best."""

import numpy as np
import pytest

from diagnose.notes.proof import best_proof, outcomes_for, step_of
from diagnose.reasoning.asking import BANDS, Prospect
from diagnose.rulebase.load import load
from tests.notes.rejects import REJECTS, SMALL_BOOK, opened


def prospect(name: str, minutes: float, bad_if_cause: float, bad_if_other: float) -> Prospect:
    """Return a check on a cause of one half (column 0) against everything else (column 1)."""
    bad = np.array([bad_if_cause, bad_if_other]) / 2
    return Prospect(name, "check", minutes, ("bad", "good"), np.array([bad, 0.5 - bad]), 0.0, 0.0)


def chosen(*prospects: Prospect) -> str | None:
    proof = best_proof(prospects, dict.fromkeys((p.id for p in prospects), "bad"), 0)
    return proof and proof.id


def test_the_most_telling_one_is_chosen() -> None:
    assert chosen(prospect("weak", 1, 0.6, 0.4), prospect("strong", 9, 0.95, 0.05)) == "strong"


def test_of_equally_telling_ones_the_quickest_is_chosen() -> None:
    assert chosen(prospect("slow", 75, 0.95, 0.05), prospect("quick", 3, 0.93, 0.05)) == "quick"


def test_what_speaks_more_for_the_others_proves_nothing() -> None:
    assert chosen(prospect("wrong way", 1, 0.1, 0.9)) is None


def test_only_what_speaks_for_the_cause_itself_counts() -> None:
    assert best_proof([prospect("beside the point", 1, 0.9, 0.1)], {}, 0) is None


@pytest.mark.parametrize(
    ("cause", "expected"),
    [
        ("sand-wet", {"sand-moisture": BANDS[2]}),
        ("iron-cold", {"ladle-warm": "cold", "pouring-temperature": BANDS[0]}),
        ("wall-thin", {}),
    ],
)
def test_outcomes_that_speak_for_a_cause(cause: str, expected: dict[str, str]) -> None:
    assert outcomes_for(load(SMALL_BOOK), cause) == expected


def test_a_measurement_without_a_window_is_said_without_a_limit() -> None:
    session = opened(REJECTS["open"])
    proof = Prospect("sand-moisture", "measurement", 10, BANDS, np.zeros((3, 1)), 0.0, 0.0)
    assert step_of(session.desk, proof, "below").bears_out == "below 3 %"
    assert step_of(session.desk, proof, "above").bears_out == "above 4 %"
