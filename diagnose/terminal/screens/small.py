"""Shown while the window is too small for anything else."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.screen import ModalScreen
from textual.widgets import Static

from diagnose.terminal.screens.keys import PLACES

LEAST = (60, 18)
"""Columns and rows that the steps need."""


class Small(ModalScreen[None]):
    """Says that the window is too small and that nothing is lost; takes no answers."""

    BINDINGS = PLACES["small"].bindings()

    def compose(self) -> ComposeResult:
        """Say it in few words."""
        columns, rows = LEAST
        yield Static(
            f"This window is too small.\nMake it {columns} wide and {rows} high or more.\n\n"
            "Nothing is lost. It goes on where\nyou were.",
            markup=False,
        )


def too_small(columns: int, rows: int) -> bool:
    """Tell whether a window is too small to work in."""
    return columns < LEAST[0] or rows < LEAST[1]
