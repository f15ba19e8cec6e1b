"""Cut a phrase into the parts that are read for themselves: clauses, neighbours, the whole."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from diagnose.words.pieces import Piece

Span = tuple[int, int]
"""First piece of a part of a phrase, and the one behind its last."""

_BREAK = re.compile(
    r"[,;:.!?()\n]+(?!\d)|\s[-\u2013\u2014]+\s"
    r"|\b(?:and|but|with|so|which|where|then|because|cos|although|though|while|when|yet)\b",
    re.IGNORECASE,
)
LONG = 8
"""Words in a clause from which it is also read through a window."""
WINDOW, STEP = 6, 3
"""Words that the window shows, and by how many it moves on."""
BLOCK = 96
"""Pieces that are read together; what is longer is read in blocks, cut between clauses."""


def spans(text: str, pieces: Sequence[Piece]) -> list[Span]:
    """Return the parts of a phrase: the whole first, then clauses, pairs of them, windows.

    >>> from diagnose.words.pieces import Vocabulary
    >>> known = Vocabulary(["[UNK]", "[CLS]", "[SEP]", ","])
    >>> text = "smooth holes, near the core"
    >>> spans(text, known.pieces(text))
    [(0, 6), (0, 2), (3, 6)]
    """
    if not pieces:
        return []
    parts = list(clauses(text, pieces))
    found = [(0, len(pieces)), *parts]
    found += [(one[0], two[1]) for one, two in pairwise(parts)]
    for part in parts:
        found += _windows(pieces, part)
    return list(dict.fromkeys(found))


def clauses(text: str, pieces: Sequence[Piece]) -> Iterator[Span]:
    """Yield the clauses of a phrase, without the stops and small words that part them."""
    cuts = [(match.start(), match.end()) for match in _BREAK.finditer(text)]
    begin = 0
    at = 0
    for start, end in [*cuts, (len(text), len(text))]:
        while at < len(pieces) and pieces[at].start < start:
            at += 1
        if at > begin:
            yield begin, at
        while at < len(pieces) and pieces[at].start < end:
            at += 1
        begin = at


def _windows(pieces: Sequence[Piece], part: Span) -> Iterator[Span]:
    """Yield the windows over a long clause."""
    begin, end = part
    starts = [k for k in range(begin, end) if k == begin or pieces[k].start != pieces[k - 1].start]
    if len(starts) <= LONG:
        return
    bounds = [*starts, end]
    for first in range(0, len(starts) - WINDOW + STEP, STEP):
        last = min(first + WINDOW, len(starts))
        yield bounds[first], bounds[last]


def blocks(text: str, pieces: Sequence[Piece]) -> list[Span]:
    """Return the blocks in which a long phrase is read: whole clauses as far as they fit."""
    found: list[Span] = []
    begin = end = 0
    for _, stop in clauses(text, pieces):
        while stop - begin > BLOCK:
            cut = end if end > begin else begin + BLOCK
            found.append((begin, cut))
            begin = end = cut
        end = stop
    if len(pieces) - begin > BLOCK:
        found.append((begin, end))
        begin = end
    if begin < len(pieces):
        found.append((begin, min(len(pieces), begin + BLOCK)))
    return [block for block in found if block[1] > block[0]]
