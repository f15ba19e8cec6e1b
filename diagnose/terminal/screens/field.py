"""A field for words: it does not blink, and takes every line that is pasted."""

from __future__ import annotations

import re

from textual.events import Paste
from textual.message import Message
from textual.widgets import Input

from diagnose.notes.wording import one_line

STEERING = re.compile(r"\x1b\[[0-?]*[ -/]*[@-~]")
"""A control sequence as ECMA-48 lays it down: what colours text or moves a cursor."""

MOST = 1000
"""Letters that one field takes."""


class Field(Input):
    """One line of text. Pasted lines are joined by ``; `` and stripped of what steers a screen."""

    class Full(Message):
        """Says that not all of what was pasted went in."""

    def __init__(
        self,
        value: str = "",
        *,
        hint: str = "",
        replace: bool = False,
        id: str,  # noqa: A002 - the name that Textual gives it
    ) -> None:
        """``replace``: what is typed first takes the place of what stands there."""
        super().__init__(value, placeholder=hint, id=id, select_on_focus=replace, max_length=MOST)
        self.cursor_blink = False

    def on_paste(self, event: Paste) -> None:
        """Take all of what is pasted."""
        event.stop()
        event.prevent_default()
        lines = (one_line(line) for line in STEERING.sub("", event.text).splitlines())
        text = "; ".join(line for line in lines if line)
        room = MOST - len(self.value)
        self.insert_text_at_cursor(text[:room])
        if len(text) > room:
            self.post_message(self.Full())
