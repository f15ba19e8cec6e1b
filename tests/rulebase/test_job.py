"""What holds for a job, and which jobs are alike."""

from __future__ import annotations

import pytest

from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Scope
from diagnose.rulebase.job import ANY, Job, job_of


@pytest.mark.parametrize(
    ("scope", "metal", "process", "section", "holds"),
    [
        (None, "steel", None, None, True),
        (Scope(metal=("grey iron",)), "grey iron", None, None, True),
        (Scope(metal=("grey iron",)), "steel", None, None, False),
        (Scope(metal=("grey iron",)), None, None, None, True),
        (Scope(process=("green sand",)), "steel", "dry sand", None, False),
        (Scope(section=(5, 10)), None, None, 5.0, True),
        (Scope(section=(5, 10)), None, None, 10.0, True),
        (Scope(section=(5, 10)), None, None, 4.9, False),
        (Scope(section=(None, 10)), None, None, 0.1, True),
        (Scope(section=(5, None)), None, None, 4.0, False),
    ],
)
def test_what_holds_where(
    scope: Scope | None,
    metal: str | None,
    process: str | None,
    section: float | None,
    holds: bool,
) -> None:
    assert Job(metal, process, section).holds_for(scope) is holds


@pytest.mark.parametrize(
    ("named", "process", "holds"),
    [
        ("green sand", "green sand by hand", True),
        ("green sand by hand", "green sand by hand", True),
        ("green sand by hand", "green sand at high pressure", False),
        ("green sand by hand", "green sand", True),
        ("green sand by hand", "dry sand", False),
        ("dry sand", "green sand by machine", False),
    ],
)
def test_what_holds_for_a_process_holds_for_each_way_of_it(
    named: str, process: str, holds: bool
) -> None:
    """Common practice, no source: machine-moulded green sand is green sand."""
    assert Job(process=process).holds_for(Scope(process=(named,))) is holds


def test_a_reject_that_says_nothing_is_of_any_job() -> None:
    assert job_of(Reject(metal="", process="")) == ANY
    assert job_of(Reject(metal="steel", process="", section=8.0)) == Job("steel", None, 8.0)
