"""Rejects of the small book, one for each kind of note."""

from __future__ import annotations

from pathlib import Path

from diagnose.reject.found import Looked, Measured, Unsure
from diagnose.reject.reject import Reject
from diagnose.session.session import Session, open_session

HERE = Path(__file__).parent
SMALL_BOOK = HERE / "small-book"
GOLDEN = HERE / "golden"

HOLE_BY_CORE = (
    Looked("hole-wall", "smooth"),
    Looked("seam", "none"),
    Looked("near-core", "beside"),
)
REJECTS = {
    "likely": Reject(
        name="cover-17",
        section=12.0,
        found=(
            Looked("hole-wall", "smooth", said="like glass inside"),
            Looked("near-core", "away"),
            Measured("sand-moisture", readings=(5.2, 5.4)),
            Unsure("seam"),
        ),
        not_understood=("it went funny at the top",),
    ),
    "contest": Reject(name="bracket 3/8", found=HOLE_BY_CORE),
    "open": Reject(name="lid_a*b", found=(Unsure("seam"),)),
}


def opened(reject: Reject) -> Session:
    return open_session(reject, SMALL_BOOK)
