"""Rejects of the small book, one for each kind of note."""

from __future__ import annotations

from pathlib import Path

from diagnose.reject.reject import LOOK, MEASUREMENT, UNSURE, Found, Reject
from diagnose.session.session import Session, open_session

HERE = Path(__file__).parent
SMALL_BOOK = HERE / "small-book"
GOLDEN = HERE / "golden"

HOLE_BY_CORE = (
    Found(LOOK, "hole-wall", "smooth"),
    Found(LOOK, "seam", "none"),
    Found(LOOK, "near-core", "beside"),
)
REJECTS = {
    "likely": Reject(
        name="cover-17",
        section=12.0,
        found=(
            Found(LOOK, "hole-wall", "smooth", said="like glass inside"),
            Found(LOOK, "near-core", "away"),
            Found(MEASUREMENT, "sand-moisture", readings=(5.2, 5.4)),
            Found(UNSURE, "seam"),
        ),
        not_understood=("it went funny at the top",),
    ),
    "contest": Reject(name="bracket 3/8", found=HOLE_BY_CORE),
    "open": Reject(name="lid_a*b", found=(Found(UNSURE, "seam"),)),
}


def opened(reject: Reject) -> Session:
    return open_session(reject, SMALL_BOOK)
