"""How a note puts things: percents, sureness, sentences and lists in plain words."""

from __future__ import annotations

import re
from collections.abc import Sequence

from diagnose.basics.quantity import unit_shown
from diagnose.reject.reject import one_line as one_line
from diagnose.reject.ticket import Ticket

_SURENESS = ((0.97, "nearly certain"), (0.85, "very likely"), (0.65, "likely"))


def percent(probability: float) -> str:
    """Return a probability as a whole percent that never pretends to be nothing or everything.

    >>> percent(0.814), percent(0.004), percent(0.9999)
    ('81 %', 'under 1 %', 'over 99 %')
    """
    if probability < 0.01:
        return "under 1 %"
    if probability > 0.99:
        return "over 99 %"
    return f"{probability * 100:.0f} %"


def sureness(probability: float) -> str:
    """Return how sure a cause of at least even odds is.

    >>> sureness(0.9), sureness(0.55)
    ('very likely', 'more likely than not')
    """
    words = (words for least, words in _SURENESS if probability >= least)
    return next(words, "more likely than not")


def sentence(text: str) -> str:
    """Return a text with a capital and a full stop.

    >>> sentence("break one core"), sentence("Is it dry?")
    ('Break one core.', 'Is it dry?')
    """
    text = one_line(text)
    stop = "" if text.endswith((".", "!", "?", ":")) else "."
    return f"{text[:1].upper()}{text[1:]}{stop}" if text else ""


def first_sentence(text: str) -> str:
    """Return the first sentence of a text.

    >>> first_sentence("Slag burns. Stand aside."), first_sentence("Keep 1.5 m off")
    ('Slag burns.', 'Keep 1.5 m off')
    """
    return re.split(r"(?<=[.!?])\s", one_line(text), maxsplit=1)[0]


def either(names: Sequence[str]) -> str:
    """Return names joined by commas and an "or".

    >>> either(["a", "b", "c"])
    'a, b or c'
    """
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} or {names[-1]}"


def job_in_words(ticket: Ticket) -> str:
    """Return what the ticket of a reject says, in one sentence; empty where it says nothing.

    >>> job_in_words(Ticket(pattern="P-17", date="2026-03-14", heat="99", bad=6, of=40))
    'Pattern P-17; poured 2026-03-14; heat 99; 6 of 40 bad.'
    """
    said = {
        "pattern": "pattern {}", "date": "poured {}", "heat": "heat {}", "bad": "{} bad",
        "moulder": "moulder {}", "core_maker": "core maker {}", "box": "box or plate {}",
    }  # fmt: skip
    told = [words.format(text) for name, words in said.items() if (text := ticket.entry(name))]
    return sentence("; ".join(told))


def readings(values: Sequence[float], unit: str) -> str:
    """Return readings with their unit.

    >>> readings([4.4, 4.6], "%")
    '4.4, 4.6 %'
    """
    return f"{', '.join(f'{value:g}' for value in values)} {unit_shown(unit)}".strip()
