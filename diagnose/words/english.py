"""The little English that the reader is told and did not learn: denials, doubts, all being well.

Common usage, no source.
"""

from __future__ import annotations

import re

DENIALS = re.compile(
    r"\b(?:no|not|never|none|without|nae|nowt|neither|nor|hardly|barely|scarcely"
    r"|(?:did|does|do|is|was|were|are|has|have|had|could|would|can)n['\u2019]?t|ain['\u2019]?t)\b\s*"
    r"(?:any\b|sign of\b|trace of\b|a\b|the\b)?\s*",
    re.IGNORECASE,
)
"""Words that turn a clause into its contrary."""

DOUBTS = re.compile(
    r"\bnot (?:sure|certain)\b|\bunsure\b|\b(?:do not|don'?t|dunno|did not|didn'?t) know\b"
    r"|\bno idea\b|\bmaybe\b|\bmight\b|\bperhaps\b|\bpossibly\b|\bwhether\b|\bwonder\b"
    r"|\b(?:can ?not|can'?t|could not|couldn'?t) (?:tell|say|see|remember)\b"
    r"|\bcould (?:be|have)\b|\bmay (?:be|have)\b|\?",
    re.IGNORECASE,
)
"""What people say when they do not know; nothing said in the same breath is sure."""

ALL_WELL = re.compile(
    r"\b(?:sound|fine|faultless|ok|okay|all right|alright|no trouble|no fault|no bother"
    r"|never had|ran full|run full|come out well|came out well|as ever|as usual|as always)\b",
    re.IGNORECASE,
)
"""What people say of castings and places with nothing wrong."""
