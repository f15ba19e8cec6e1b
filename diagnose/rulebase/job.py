"""The job that a reject was made in: metal, process, ruling section; what holds for it."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Scope

_WAY = re.compile(r" (?:by|at) ")


@dataclass(frozen=True, slots=True)
class Job:
    """What is known of the job, the section in mm; None where it is not known."""

    metal: str | None = None
    process: str | None = None
    section: float | None = None

    def holds_for(self, scope: Scope | None) -> bool:
        """Tell whether something with this scope holds for the job.

        What is not known of the job rules nothing out, nor does a process of which the way is not
        known.

        >>> Job("steel").holds_for(Scope(metal=("grey iron",))), Job().holds_for(Scope())
        (False, True)
        >>> Job(process="green sand by machine").holds_for(Scope(process=("green sand",)))
        True
        """
        if scope is None:
            return True
        if self.metal is not None and scope.metal and self.metal not in scope.metal:
            return False
        if self.process is not None and not is_among(self.process, scope.process):
            return False
        if self.section is not None and scope.section is not None:
            low, high = scope.section
            return (low is None or low <= self.section) and (high is None or self.section <= high)
        return True

    def alike(self, limits: Sequence[float]) -> Job:
        """Return one job for all sections between the same two limits, where the same holds.

        A section that is a limit itself stays; between two limits it is the one in the middle.

        >>> Job(section=7.0).alike([5.0, 10.0]), Job(section=10.0).alike([5.0, 10.0]).section
        (Job(metal=None, process=None, section=7.5), 10.0)
        """
        if self.section is None:
            return self
        place = bisect_left(limits, self.section)
        if place < len(limits) and limits[place] == self.section:
            return self
        below = limits[place - 1] if place else 0.0
        above = limits[place] if place < len(limits) else 2.0 * below + 2.0
        return replace(self, section=(below + above) / 2.0)


def whole_process(process: str) -> str:
    """Return the process of which another is a way of doing it, or the process itself.

    A way is called by the process, "by" or "at", and how it is done.

    >>> whole_process("green sand by machine"), whole_process("green sand")
    ('green sand', 'green sand')
    """
    return _WAY.split(process, maxsplit=1)[0]


def is_among(process: str, named: Collection[str]) -> bool:
    """Tell whether a process is one of those named, a way of one, or the whole of a way named.

    No names at all stand for every process.
    """
    return not named or any(
        name in (process, whole_process(process)) or whole_process(name) == process
        for name in named
    )


ANY = Job()
"""Any job: nothing is known of it."""


def job_of(reject: Reject) -> Job:
    """Return the job that a reject was made in, as far as it says."""
    return Job(reject.metal or None, reject.process or None, reject.section)
