"""What is known of a batch before its causes are sought: groups of rejects, and their one shop."""

from __future__ import annotations

from dataclasses import dataclass, field

from diagnose.batch.result import Movement
from diagnose.reject.found import Found, Hearing
from diagnose.rulebase.job import Job


@dataclass(frozen=True, slots=True)
class Level:
    """One level of a factor: a plate, a core maker, the last third of a ladle.

    ``bad``: castings with the group's fault. ``size``: castings poured there; without a sheet of
    them all scrap of the level, whatever its fault. ``rest``: bad and size of what the level is
    held against, where that is not all other levels: of patterns that are made both here and
    elsewhere, what each suffers being allowed for (``counts.standardised``).
    """

    name: str
    bad: float
    size: float
    rest: tuple[float, float] | None = None

    def among(self, levels: tuple[Level, ...]) -> tuple[float, float]:
        """Return bad and size of this level and what it is held against."""
        if self.rest is None:
            return sum(one.bad for one in levels), sum(one.size for one in levels)
        return self.bad + self.rest[0], self.size + self.rest[1]


@dataclass(frozen=True, slots=True)
class Sorting:
    """The group's fault sorted by one factor, with all its levels.

    ``spread``: variance between heats over that of chance alone, at least 1; counts say less by it.
    ``of_scrap``: the sizes are scrap, as no castings poured are known by this factor.
    """

    factor: str
    levels: tuple[Level, ...]
    spread: float = 1.0
    of_scrap: bool = False


@dataclass(frozen=True, slots=True)
class Course:
    """The group's fault in order of time: ``bad`` of ``size`` by day, heat or week."""

    bad: tuple[float, ...]
    size: tuple[float, ...]
    spread: float = 1.0


@dataclass(frozen=True, slots=True)
class Pooled:
    """What was heard in one remark of an inspector, and how many rejects it stands at."""

    hearings: tuple[Hearing, ...]
    count: float = 1.0


@dataclass(frozen=True, slots=True)
class Group:
    """Rejects of one fault that share a signature.

    ``name``: as a person would call it. ``defects``: the fault, as weights that add up to one
    where its word could mean two. ``bad``: castings; ``poured``: those they were among, None where
    no sheet says. ``where``: factor and level that set the group apart. ``rate_elsewhere``: of the
    fault outside that level, where known.
    """

    name: str
    defects: tuple[tuple[str, float], ...]
    bad: float
    poured: float | None = None
    sortings: tuple[Sorting, ...] = ()
    time: Course | None = None
    movements: tuple[Movement, ...] = ()
    remarks: tuple[Pooled, ...] = ()
    where: tuple[tuple[str, str], ...] = ()
    rate_elsewhere: float | None = None

    @property
    def rate(self) -> float | None:
        """Share of the castings poured that the fault took."""
        return self.bad / self.poured if self.poured else None


@dataclass(frozen=True, slots=True)
class Shop:
    """What holds for the whole batch: the job, and what was checked and measured in the shop."""

    job: Job = field(default_factory=Job)
    found: tuple[Found, ...] = ()
