"""Every key of the screens, once: bindings, bottom line and the list of all keys come from here.

A key is a letter, a digit or a named key that every terminal sends. Where a field takes letters,
its F-key twin does the same, so nothing needs two keys at a time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from textual.binding import Binding, BindingType

NAMES = {"?": "question_mark", "Esc": "escape", "PgUp": "pageup", "PgDn": "pagedown"}


@dataclass(frozen=True, slots=True)
class Key:
    """One key and what it does.

    ``shown``: how it is printed; ``1-9`` stands for each of these digits. ``action``: what it
    sets off, ``{}`` standing for the digit; empty where the list or field in use sees to it.
    ``label``: one or two words for the bottom line, empty for a key that only the list of all
    keys names. ``twin``: the F-key that does the same while a field takes letters.
    """

    shown: str
    action: str
    does: str
    label: str = ""
    twin: str = ""

    def bindings(self) -> Iterator[Binding]:
        """Yield the bindings of this key, one for each digit it stands for."""
        if not self.action:
            return
        if self.shown == "1-9":
            yield from (Binding(str(n), self.action.format(n), self.does) for n in range(1, 10))
            return
        name = NAMES.get(self.shown, self.shown.lower())
        yield Binding(name, self.action, self.does)
        if self.twin:
            yield Binding(self.twin.lower(), self.action, self.does)

    def both(self) -> str:
        """Return the key, with its twin if it has one, for the list of all keys.

        >>> Key("?", "app.all_keys", "Show all keys.", twin="F1").both()
        '? or F1'
        """
        return f"{self.shown} or {self.twin}" if self.twin else self.shown


@dataclass(frozen=True, slots=True)
class KeysOf:
    """The keys of one screen. ``typing``: it has a field that takes letters."""

    title: str
    keys: tuple[Key, ...]
    typing: bool = False

    def bindings(self) -> list[BindingType]:
        """Return what the screen binds."""
        return [binding for key in self.keys for binding in key.bindings()]

    def bottom(self) -> list[tuple[str, str]]:
        """Return key and label for the bottom line, at most six."""
        return [
            (key.twin if self.typing and key.twin else key.shown, key.label)
            for key in self.keys
            if key.label
        ]


HELP = Key("?", "app.all_keys", "Show all keys.", "keys", "F1")
LEAVE = Key("q", "app.leave", "Leave. Everything is kept.", "leave", "F12")
BACK = Key("Esc", "app.one_back", "Go one step back, or close what is open.")
CLOSE = replace(BACK, does="Close this.", label="close")
UNDO = Key("u", "app.undo", "Take the last answer back.", "undo", "F9")
UP = Key("Up", "", "Move the mark up, or the text.")
DOWN = Key("Down", "", "Move the mark down, or the text.")
PAGE_UP = Key("PgUp", "", "Move a page up.")
PAGE_DOWN = Key("PgDn", "", "Move a page down.")
MOVING = (UP, DOWN, PAGE_UP, PAGE_DOWN)
STRIKE = Key("x", "strike", "Strike the marked line out.", "strike out")
MORE = Key(
    "m",
    "more",
    "Show all of the question: how to look, drawings, cautions, why it is asked.",
    "more",
)
WHY = Key("w", "why", "Show what speaks for and against a cause.", "why")

STEPS = (
    Key("i", "app.step('about')", "What it is: name, metal, process, section.", twin="F2"),
    Key("d", "app.step('see')", "What you see, described in your own words.", twin="F3"),
    Key("a", "app.step('ask')", "The questions, one at a time.", twin="F4"),
    Key("r", "app.step('readings')", "The readings.", twin="F5"),
    Key("v", "app.step('verdict')", "The verdict.", twin="F6"),
    Key("n", "app.step('note')", "The note.", twin="F7"),
    Key("l", "app.step('said')", "The list of all that was said.", twin="F8"),
    Key("o", "app.step('sums')", "The sums: work one out.", twin="F10"),
)
CTRL_C = Key("Ctrl+C", "", "Nothing. It neither leaves nor loses anything.")
AT_WORK = (
    HELP,
    LEAVE,
    UNDO,
    Key("y", "app.redo", "Put back what was just taken back."),
    BACK,
    *STEPS,
)


def at_work(*keys: Key) -> tuple[Key, ...]:
    """Return the keys of a step: its own, then those of every step that it does not use itself.

    Where a step uses the letter of another step, that one's F-key stays.
    """
    own = {key.shown for key in keys if key.action}
    rest = [
        replace(key, shown=key.twin, twin="") if key.shown in own else key
        for key in AT_WORK[2:]
        if key.shown not in own or key.twin
    ]
    return (*AT_WORK[:2], *keys, *rest)


PLACES = {
    "start": KeysOf(
        "Which reject",
        (
            HELP,
            LEAVE,
            Key("1-9", "pick({})", "Take that line."),
            Key("Enter", "", "Take the marked line.", "take the marked line"),
            *MOVING,
        ),
    ),
    "about": KeysOf(
        "What it is",
        at_work(
            Key(
                "Enter",
                "next_line",
                "Go to the next line; after the section or the last line, on to what you see.",
                "next",
            ),
            Key("Up", "line(-1)", "Go one line up."),
            Key("Down", "line(1)", "Go one line down."),
            Key("Left", "", "The choice before, where there is a choice."),
            Key("Right", "", "The next choice, where there is a choice.", "other"),
        ),
        typing=True,
    ),
    "see": KeysOf(
        "What you see",
        at_work(
            Key("Enter", "", "Say the phrase. With nothing typed: on to the questions.", "say it"),
            Key("Tab", "other_part", "Go between the field and the list.", "list"),
            Key("1-9", "", "With nothing typed: pick what the last phrase means."),
            Key("0", "", "With nothing typed: none of what is offered."),
            Key("Enter", "", "In the list: put the marked line right."),
            Key("y", "yes", "In the list: yes, that is what was meant."),
            Key("n", "no", "In the list: no, that was not meant."),
            replace(STRIKE, does="In the list: strike the marked line out.", label=""),
            *MOVING,
        ),
        typing=True,
    ),
    "ask": KeysOf(
        "The questions",
        at_work(
            Key("1-9", "answer({})", "Give that answer."),
            Key("0", "unsure", "Say that you are not sure."),
            Key("s", "another", "Skip it; ask another question.", "skip"),
            MORE,
            WHY,
            Key("Tab", "other_part", "Go between the answers and the causes."),
            Key("Enter", "", "Give the marked answer, or show why for the marked cause."),
            UP,
            DOWN,
            PAGE_UP,
            PAGE_DOWN,
        ),
    ),
    "readings": KeysOf(
        "The readings",
        at_work(
            Key("Enter", "", "Take the reading typed. A name may stand before it.", "take it"),
            Key("Enter", "", "With sheet and the name of a file typed: read that table."),
            replace(UP, does="Mark the reading above."),
            replace(DOWN, does="Mark the reading below.", label="choose"),
            PAGE_UP,
            PAGE_DOWN,
            Key("Tab", "other_part", "Go between the field and the list."),
            replace(STRIKE, does="In the list: strike the marked reading out.", label=""),
        ),
        typing=True,
    ),
    "verdict": KeysOf(
        "The verdict",
        at_work(
            Key("1-9", "look_into({})", "Answer that question now: it could change the verdict."),
            WHY,
            Key("Enter", "app.step('note')", "On to the note.", "note"),
            *MOVING,
        ),
    ),
    "note": KeysOf(
        "The note",
        at_work(
            Key("f", "write", "Write the note to files and show where they are.", "files"),
            Key("c", "copy", "Copy the note as text, and write the file as well.", "copy"),
            *MOVING,
        ),
    ),
    "said": KeysOf(
        "All that was said",
        at_work(
            Key("Enter", "", "Answer the marked line anew.", "anew"),
            STRIKE,
            *MOVING,
        ),
    ),
    "pick": KeysOf(
        "One of these",
        (
            HELP,
            LEAVE,
            Key("1-9", "pick({})", "Take that line."),
            Key("0", "pick(0)", "None of these, or not sure."),
            Key("Enter", "", "Take the marked line.", "take"),
            CLOSE,
            *MOVING,
        ),
    ),
    "entry": KeysOf(
        "One reading",
        (
            HELP,
            LEAVE,
            Key("Enter", "", "Take the reading.", "take it"),
            CLOSE,
        ),
        typing=True,
    ),
    "sheet": KeysOf(
        "A table read",
        (
            HELP,
            LEAVE,
            Key("Enter", "take", "Take these readings down.", "take them down"),
            replace(CLOSE, does="Close this. Nothing is taken down."),
            *MOVING,
        ),
    ),
    "sums": KeysOf(
        "The sums",
        at_work(
            Key("Enter", "", "Take the marked sum.", "take"),
            replace(UP, does="Mark the sum above."),
            replace(DOWN, does="Mark the sum below.", label="choose"),
            PAGE_UP,
            PAGE_DOWN,
            Key("Tab", "other_part", "Go between the field and the list."),
        ),
        typing=True,
    ),
    "figures": KeysOf(
        "The figures of a sum",
        (
            HELP,
            LEAVE,
            Key("Enter", "", "Take the figure; after the last, work the sum.", "next"),
            Key("Up", "figure(-1)", "Go one figure up.", "before"),
            Key("Down", "figure(1)", "Go one figure down."),
            CLOSE,
        ),
        typing=True,
    ),
    "batch": KeysOf(
        "A scrap batch",
        (
            HELP,
            LEAVE,
            Key("1-9", "down({})", "Go down into that line."),
            Key("Enter", "enter", "Go down into the marked line.", "down"),
            Key("Esc", "app.one_back", "Go up again, or close what is open."),
            Key("Tab", "other_part", "Go between the list and what stands beside it."),
            Key("b", "by", "Order the faults by count, weight, cost or pattern."),
            Key("t", "trend", "Show the charts."),
            Key("d", "details", "Show how the sheet was read, and what the figures cannot say."),
            Key("a", "agree", "Agree an action: what, who, by when.", "action"),
            Key("g", "agreed", "Show the actions agreed."),
            Key("m", "minutes", "Write the minutes and show them.", "minutes"),
            Key("p", "pack", "Write the pack and show where it is.", "pack"),
            Key("o", "open", "Open a reject with what the sheet knows filled in."),
            *MOVING,
        ),
    ),
    "agree": KeysOf(
        "An action",
        (
            HELP,
            LEAVE,
            Key("Enter", "next_line", "Go to the next line; after the last, keep it.", "next"),
            Key("Up", "line(-1)", "Go one line up."),
            Key("Down", "line(1)", "Go one line down."),
            replace(CLOSE, does="Close this. Nothing is kept."),
        ),
        typing=True,
    ),
    "agreed": KeysOf(
        "Actions agreed",
        (
            HELP,
            LEAVE,
            replace(STRIKE, does="Strike the marked action out."),
            CLOSE,
            *MOVING,
        ),
    ),
    "page": KeysOf("A page to read", (HELP, LEAVE, CLOSE, *MOVING)),
    "why": KeysOf(
        "Why",
        (
            HELP,
            LEAVE,
            Key("Left", "other(-1)", "The cause before.", "before"),
            Key("Right", "other(1)", "The next cause.", "next"),
            CLOSE,
            *MOVING,
        ),
    ),
    "keys": KeysOf("All keys", (LEAVE, CLOSE, *MOVING)),
    "small": KeysOf("Window too small", (LEAVE,)),
}
