"""Tell what a word means, and guess what was meant by one that is not known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from diagnose.basics.errors import Fault

CLOSE_ENOUGH = 72.0  # percent of letters in common; below it a guess puzzles more than it helps


def nearest(word: str, known: Iterable[str], most: int = 1) -> list[str]:
    """Return the known words most like ``word``, best first; none where none is like it.

    >>> nearest("sand-to-wet", ["sand-too-dry", "sand-too-wet"])
    ['sand-too-wet']
    """
    from rapidfuzz import fuzz, process

    found = process.extract(word, sorted(known), scorer=fuzz.ratio, limit=most)
    return [name for name, score, _ in found if score >= CLOSE_ENOUGH]


def did_you_mean(word: str, known: Iterable[str], kind: str) -> str:
    """Return the way out after an unknown word: the nearest one, or what there is.

    >>> did_you_mean("colour", ["color"], "look")
    "Did you mean 'color'?"
    >>> did_you_mean("xyz", ["yes", "no"], "answer")
    'Known are no, yes.'
    """
    choices = sorted(known)
    if close := nearest(word, choices):
        return f"Did you mean {close[0]!r}?"
    if not choices:
        return f"There is no {kind} in the book yet."
    if len(choices) <= 12:
        return f"Known are {', '.join(choices)}."
    return "Check the spelling, or add it to the book."


def kind_named(text: str, kinds: Mapping[str, tuple[str, ...]], what: str) -> str:
    """Return the metal or process that ``text`` means; raise Fault with the known ones.

    >>> kind_named("Greensand", {"green sand": ("greensand",)}, "process")
    'green sand'
    """
    wanted = text.strip().casefold().replace("-", " ")
    names = {
        spelling.casefold().replace("-", " "): kind
        for kind, also in kinds.items()
        for spelling in (kind, *also)
    }
    if wanted in names:
        return names[wanted]
    raise Fault(f"{text!r} is no {what} known here. {did_you_mean(wanted, kinds, what)}")
