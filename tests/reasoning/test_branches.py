"""A case as a search: its hypotheses add up, its tables are those of the exact model."""

from __future__ import annotations

import numpy as np

from diagnose.reasoning.branches import case_of
from diagnose.reasoning.places import CASTING
from diagnose.session.session import Session


def test_a_case_adds_up(session: Session) -> None:
    session.answer("fault-form", "hole")
    prospects, desk = session.prospects, session.desk
    case = case_of(
        desk, session.reject, session.evidence, session.probabilities, prospects, CASTING
    )
    trouble = case.trouble
    assert np.isclose(trouble.chance.sum(), 1.0)
    assert np.allclose(trouble.told.sum(axis=1), 1.0)
    assert len(trouble.trial) == len(case.corrections) == len({*case.corrections})
    for number, step in enumerate(case.steps):
        expected = step.joint.sum(axis=1)
        assert np.allclose(trouble.told[number, : len(expected)] @ trouble.chance, expected)
