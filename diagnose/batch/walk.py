"""A walk through a batch: from the faults to where one stands, its causes, and one casting."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from diagnose.batch.actions import Action, add_action, read_actions, strike_action
from diagnose.batch.charts.concentration import place
from diagnose.batch.charts.pareto import COUNT, PATTERN, ways
from diagnose.batch.minutes import minutes_text
from diagnose.batch.pack.write import Written, write_pack
from diagnose.batch.result import Batch, Cause, Concentration, Movement
from diagnose.batch.told import name_of

FAULTS, WHERE, CAUSES, CASTING = "faults", "where", "causes", "casting"
LEVELS = (FAULTS, WHERE, CAUSES, CASTING)


@dataclass(frozen=True, slots=True)
class Opened:
    """What the sheet knows of a casting that is to be opened as a reject.

    ``where``: factor and level of the place walked through, such as ("core maker", "C").
    """

    defect: str
    where: tuple[tuple[str, str], ...] = ()
    cause: str = ""


@dataclass(slots=True)
class Walk:
    """Where the meeting stands, and what it has agreed.

    ``beside``: the file of the actions. ``folder``: where pack and minutes go. ``marks``: the
    marked line at each level. ``spot``: the place or reading that was walked through, if any.
    """

    batch: Batch
    beside: Path
    folder: Path
    today: date
    actions: list[Action] = field(default_factory=list)
    by: str = COUNT
    level: str = FAULTS
    defect: str = ""
    spot: Concentration | Movement | None = None
    cause: Cause | None = None
    marks: dict[str, int] = field(default_factory=dict)

    def begin(self) -> None:
        """Read the actions of earlier meetings; raise Fault where their file is wrong."""
        self.actions = read_actions(self.beside)

    def other_order(self) -> str:
        """Order the faults in the next way that the sheet knows, and return it."""
        known = ways(self.batch) or [COUNT]
        at = known.index(self.by) if self.by in known else -1
        self.by = known[(at + 1) % len(known)]
        return self.by

    def up(self) -> bool:
        """Go one level up; return whether there was one."""
        at = LEVELS.index(self.level)
        if not at:
            return False
        self.level = LEVELS[at - 1]
        if self.level == FAULTS:
            self.defect = ""
        if self.level in (FAULTS, WHERE):
            self.spot = None
        if self.level != CASTING:
            self.cause = None
        return True

    def down(self) -> None:
        """Go one level down; the lowest stays where it is."""
        self.level = LEVELS[min(LEVELS.index(self.level) + 1, len(LEVELS) - 1)]
        self.marks.pop(self.level, None)

    def trail(self) -> str:
        """Return what was walked through, in words."""
        parts = [name_of(self.batch, self.defect)] if self.defect else []
        if isinstance(self.spot, Concentration):
            parts.append(place(self.spot))
        elif self.spot is not None:
            parts.append(self.spot.name)
        if self.cause is not None:
            parts.append(self.cause.name)
        return " > ".join(parts)

    def opened(self, defect: str = "") -> Opened:
        """Return what is known of a casting where the meeting stands."""
        where: tuple[tuple[str, str], ...] = ()
        if isinstance(self.spot, Concentration):
            levels = self.spot.level.split(" and ")
            where = tuple(zip(self.spot.factor.split(" and "), levels, strict=False))
        cause = self.cause.id if self.cause is not None else ""
        return Opened(self.defect or defect, where, cause)

    def agree(
        self, text: str, owner: str, due: date | None, *, defect: str = "", cause: str = ""
    ) -> None:
        """Keep an action on what the meeting stands at; raise Fault where it cannot be kept.

        ``defect`` and ``cause``: those of the marked line, where the walk has not gone into it.
        """
        known = self.cause.id if self.cause is not None else cause
        new = Action(text, owner, due, self.defect or defect, known, self.today)
        self.actions = add_action(self.beside, new)

    def strike(self, number: int) -> None:
        """Strike an action out, by its place in the list."""
        self.actions = strike_action(self.beside, number)

    def write_minutes(self) -> Path:
        """Write the minutes beside the actions and return where they are."""
        from diagnose.basics.atomic_write import write_whole

        path = self.beside.with_name(f"{self.beside.stem.removesuffix('-actions')}-minutes.txt")
        write_whole(path, minutes_text(self.batch, self.actions, self.today).encode())
        return path

    def write_pack(self) -> Written:
        """Write the pack."""
        return write_pack(self.batch, self.actions, self.folder, self.today)


def by_pattern(walk: Walk) -> bool:
    """Tell whether the list is of patterns, into which there is no going down."""
    return walk.by == PATTERN and walk.level == FAULTS
