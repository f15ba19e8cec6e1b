"""What every app has: the look, the size that it needs, the list of all keys, and calm."""

from __future__ import annotations

from typing import ClassVar, TypeVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.events import Resize
from textual.theme import Theme

from diagnose.terminal.screens.allkeys import AllKeys
from diagnose.terminal.screens.keys import LEAVE
from diagnose.terminal.screens.small import Small, too_small

CALM = f"Nothing is lost. To leave: {LEAVE.shown}, or {LEAVE.twin} where you are typing."
CONTRAST = Theme(
    name="contrast",
    primary="#ffffff",
    accent="#ffd75f",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#000000",
)
Result = TypeVar("Result")


class Window(App[Result]):
    """A window of the terminal: white on black, and covered while it is too small."""

    CSS_PATH = "style.tcss"
    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+c", "stay_calm", priority=True)]
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (78, "-wide"), (118, "-roomy")]  # noqa: RUF012 - Textual's own type

    def __init__(self, *, colour: bool = True) -> None:
        super().__init__(ansi_color=not colour)
        self.animation_level = "none"
        self.register_theme(CONTRAST)
        self.theme = CONTRAST.name

    def action_all_keys(self) -> None:
        """Show all keys, those of this screen first."""
        self.push_screen(AllKeys(getattr(self.screen, "place", "start")))

    def action_stay_calm(self) -> None:
        """Say that nothing is lost and how to leave."""
        if say := getattr(self.screen, "say", None):
            say(CALM)

    def on_resize(self, event: Resize) -> None:
        """Cover the screen while the window is too small, and go on when it grows."""
        covered = isinstance(self.screen, Small)
        if too_small(*event.size) and not covered:
            self.push_screen(Small())
        elif covered and not too_small(*event.size):
            self.pop_screen()
