"""The one kind of error that a user can mend, and the place where it is to be mended."""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.basics.letters import harmless


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A spot in a file; lines and columns count from 1, and 0 means the file as a whole."""

    file: str = ""
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        if not self.line:
            return harmless(self.file)
        return f"{harmless(self.file)}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong, where it stands, and what would be right."""

    place: Place
    what: str
    instead: str = ""

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place.file else ""
        way_out = f" {self.instead}" if self.instead else ""
        return harmless(f"{where}{self.what}{way_out}")


class Fault(Exception):  # noqa: N818 - the trade's word; every one of them is the user's to mend
    """Raised for anything the user can mend; carries every problem found, not only the first."""

    def __init__(self, *problems: Problem | str) -> None:
        self.problems = tuple(
            Problem(Place(), problem) if isinstance(problem, str) else problem
            for problem in problems
        )
        super().__init__("\n".join(str(problem) for problem in self.problems))
