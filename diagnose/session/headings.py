"""The headings of a reject file, and which one was meant by another word."""

from __future__ import annotations

from diagnose.basics.nearest import nearest
from diagnose.reject.ticket import ENTRIES

TICKET = {name.replace("_", " "): name for name in ENTRIES}
"""The headings of what goes with a reject, and what ``Ticket`` calls it."""
FOUND = ("seen", "checked", "measured", "unsure")
KEYS = ("reject", "metal", "process", "section", *TICKET, *FOUND)

_WORDS = {
    "reject": ("name", "job", "job number", "id", "title"),
    "metal": ("iron", "alloy", "material", "grade"),
    "process": ("sand", "moulding", "moulded in", "mould"),
    "section": ("wall", "thickness", "wall thickness"),
    "pattern": ("part", "part number", "pattern number", "pattern no", "item"),
    "date": ("poured", "poured on", "day", "cast on", "pouring date", "date poured"),
    "heat": ("charge", "melt", "heat number", "heat no", "charge number"),
    "bad": ("qty", "quantity", "count", "scrap", "scrapped", "rejected", "number bad", "rejects"),
    "moulder": ("molder", "made by", "moulded by", "mould maker", "gang"),
    "core maker": ("coremaker", "core-maker", "cores by"),
    "box": ("plate", "flask", "impression", "mould box", "moulding box", "box number"),
    "measured": ("readings", "measurements", "reading"),
    "checked": ("checks", "check"),
    "seen": ("looks", "look", "fault", "defect", "description", "found"),
}
"""Words that people write above a part of a file, by the heading that stands for them here."""


def way_out(key: str) -> str:
    """Return what to do about a heading that is not known.

    >>> way_out("Qty"), way_out("moulderr")
    ("Did you mean 'bad'?", "Did you mean 'moulder'?")
    """
    plain = " ".join(key.lower().replace("_", " ").replace(".", " ").split())
    like = nearest(plain, KEYS)
    meant = [name for name, words in _WORDS.items() if plain in words] or like
    return f"Did you mean {meant[0]!r}?" if meant else f"Known are {', '.join(KEYS)}."
