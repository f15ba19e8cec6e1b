"""Line by line: what goes with a reject and says nothing of its cause."""

from __future__ import annotations

from functools import partial

from diagnose.basics.nearest import nearest
from diagnose.reject.ticket import ENTRIES, HINTS
from diagnose.session.autosave import Bench
from diagnose.terminal.plain.console import Talk


def take_ticket(bench: Bench, talk: Talk, text: str) -> None:
    """Take one entry, ``heat 99``; without a text ask for each, an empty line keeps it."""
    if text:
        name, value = _entry(text)
        if not name:
            talk.say(f"Say which: {', '.join(_words(one) for one in ENTRIES)}.")
        elif not value:
            talk.say(HINTS[name])
        else:
            _tell(bench, talk, name, value)
        return
    for name, label in ENTRIES.items():
        while reply := talk.read(f"{label} [{bench.session.reject.ticket.entry(name)}]"):
            if _tell(bench, talk, name, reply):
                break


def _tell(bench: Bench, talk: Talk, name: str, value: str) -> bool:
    """Take one entry down; return whether it could be."""
    wrong = bench.change(partial(bench.session.about, **{name: "" if value == "-" else value}))
    told = bench.session.reject.ticket.entry(name) or "not known"
    for line in (bench.trouble, wrong or f"{ENTRIES[name]}: {told}"):
        if line:
            talk.say(line)
    return not wrong


def _entry(text: str) -> tuple[str, str]:
    """Return the entry that a text begins with, and the rest of it."""
    for name in ENTRIES:
        begun = _words(name)
        if f"{text.lower()} ".startswith(f"{begun} "):
            return name, text[len(begun) :].strip()
    word, _, rest = text.partition(" ")
    like = nearest(word.lower(), ENTRIES)
    return (like[0], rest.strip()) if like else ("", "")


def _words(name: str) -> str:
    return name.replace("_", " ")
