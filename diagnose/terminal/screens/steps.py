"""The steps of a reject by their places; imported once the first screen is shown."""

from __future__ import annotations

from diagnose.terminal.screens.about import About
from diagnose.terminal.screens.ask import Ask
from diagnose.terminal.screens.frame import Step
from diagnose.terminal.screens.note import Note
from diagnose.terminal.screens.readings import Readings
from diagnose.terminal.screens.said import Said
from diagnose.terminal.screens.see import See
from diagnose.terminal.screens.sums import Sums
from diagnose.terminal.screens.verdict import Verdict

STEPS: dict[str, type[Step]] = {
    step.place: step for step in (About, See, Ask, Readings, Verdict, Note, Said, Sums)
}
