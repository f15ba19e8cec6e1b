"""A reject worked from a file, as text for people and as data for machines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from diagnose.basics.layout import WIDTH
from diagnose.notes.findings import anything
from diagnose.notes.wording import percent
from diagnose.reasoning.asking import cause_name
from diagnose.reasoning.plan import plan_data
from diagnose.reasoning.reasons import found_text
from diagnose.reject.reject import one_line
from diagnose.reject.ticket import ENTRIES
from diagnose.session.rejectfile import FileRead
from diagnose.session.session import Session

if TYPE_CHECKING:
    from diagnose.words.heard import Meaning

NOTHING = (
    "Nothing was understood, so nothing can be said of the cause. Say in other words under 'seen:' "
    "what you see, such as '- smooth round holes near the core' (diagnose hear tells what words "
    "are taken for), or answer the questions: diagnose."
)
NEAREST = 3
"""Meanings that are told of words which were not understood."""
MOST_CAUSES = 6
BAR = 20


def as_data(session: Session, reading: FileRead, accounts: int) -> dict[str, Any]:
    """Return everything that was worked out, with probabilities unrounded.

    ``accounts``: how many causal paths, the likeliest first.
    """
    from diagnose.notes.compose import compose

    note = asdict(compose(session))
    known = anything(session)
    return {
        "reject": _about(session),
        "causes": [asdict(cause) for cause in session.causes() if known],
        "defects": [asdict(defect) for defect in session.defects() if known],
        "accounts": [
            {"path": list(account.path), "probability": account.probability}
            for account in session.accounts(accounts)
            if known
        ],
        "ask_next": [
            {
                "id": question.id,
                "kind": question.kind,
                "gain_bits": question.gain_bits,
                "minutes": question.minutes,
                "worth": question.worth,
            }
            for question in session.ask_next()
        ],
        "plan": plan_data(session.plan()) if known else [],
        "standings": [asdict(standing) for standing in session.standings() if known],
        "understood": [
            {
                "phrase": heard.phrase,
                "words": one.words,
                "as": {one.kind: one.id} | ({verb: one.answer} if one.answer else {}),
                "score": round(100 * one.probability, 1),
                "probability": one.probability,
                "mark": "sure" if one.sure else "likely",
            }
            for heard in reading.heard
            for verb, meanings in (
                ("answer", heard.taken),
                ("answer", heard.likely),
                ("not", heard.ruled_out),
            )
            for one in meanings
        ]
        + [
            {
                "phrase": text,
                "words": named.name,
                "as": {"measurement": named.sure},
                "score": round(100 * named.candidates[0][1], 1),
                "probability": named.candidates[0][1],
                "mark": "sure",
            }
            for text, named in reading.named
        ],
        "not_understood": [
            {"phrase": words, "nearest": [f"{m.id}: {m.answer}" for m in heard.nearest]}
            for heard in reading.heard
            for words in heard.missed
        ],
        "warnings": warnings(session, reading),
        "notes": [{"about": part, "says": says} for part, says in note.items()],
        "stability": asdict(session.stability()),
    }


def _about(session: Session) -> dict[str, Any]:
    """Return what the reject is and what its ticket says; what is not known is None."""
    reject = session.reject
    ticket = {name: getattr(reject.ticket, name) or None for name in ENTRIES}
    return {
        "name": reject.name,
        "metal": reject.metal,
        "process": reject.process,
        "section_mm": reject.section,
        **ticket,
        "of": reject.ticket.of,
    }


def as_text(session: Session, reading: FileRead) -> str:
    """Return what was understood and the ranking, in plain lines."""
    ranking = _ranking(session) if anything(session) else []
    return "\n".join([*_understood(session, reading), *ranking, ""])


def as_table(worked: Sequence[tuple[str, Session]]) -> str:
    """Return several rejects in one table: file and name, the likeliest fault and cause."""
    rows = []
    for file, session in worked:
        name = one_line(session.reject.name)
        known = anything(session)
        defect, cause = session.defects()[0], session.causes()[0]
        rows.append(
            (
                Path(file).name if file != "-" else file,
                name,
                f"{defect.name} ({percent(defect.probability)})" if known else "nothing understood",
                f"{cause_name(session.desk, cause.id)} ({percent(cause.probability)})"
                if known
                else "",
            )
        )
    lines = [f"{len(rows)} reject{'' if len(rows) == 1 else 's'}"]
    for file, name, fault, root in rows:
        lines.append(f"  {file}{f': {name}' if name else ''}")
        lines += wrap(f"{fault}; {root}" if root else fault, WIDTH, initial_indent="    ",
                      subsequent_indent="    ")  # fmt: skip
    return "\n".join([*lines, ""])


def _understood(session: Session, reading: FileRead) -> list[str]:
    lines = []
    for heard in reading.heard:
        for verb, meanings in (
            ("Heard", heard.taken), ("Likely", heard.likely), ("Ruled out", heard.ruled_out),
        ):  # fmt: skip
            lines += [
                f"{verb}: “{one.words}” as {match_in_words(session, one)}"
                + (f" ({100 * one.probability:.0f} %)" if verb == "Likely" else "")
                for one in meanings
            ]
        for words in heard.missed:
            lines.append(f"Not understood: “{words}”. Left out.")
            near = "; ".join(match_in_words(session, one) for one in heard.nearest[:NEAREST])
            lines += [f"  The nearest: {near}."] if near else []
    lines += [
        f"Heard: “{text}” as {session.book.measurements[named.sure].name}"
        for text, named in reading.named
    ]
    lines += [f"Mind: {warning}" for warning in warnings(session, reading)]
    return [*lines, ""] if lines else lines


def warnings(session: Session, reading: FileRead) -> list[str]:
    """Return everything that should make one careful; that nothing was understood comes first."""
    nothing = [] if anything(session) else [NOTHING]
    return [*nothing, *reading.assumed, *reading.left_out, *session.warnings()]


def match_in_words(session: Session, meaning: Meaning) -> str:
    """Say what a phrase was taken for."""
    return found_text(session.desk, session.found_by(meaning, ""))


def _ranking(session: Session) -> list[str]:
    lines = ["Likely causes"]
    for cause in session.causes()[:MOST_CAUSES]:
        bar = "#" * round(BAR * cause.probability)
        area = f" ({session.book.areas[cause.area].name})" if cause.area else ""
        lines.append(f"  {100 * cause.probability:5.1f} %  {bar:<{BAR}}  {cause.name}{area}")
    lines.append("Likely faults")
    lines += [
        f"  {100 * defect.probability:5.1f} %  {'':<{BAR}}  {defect.name}"
        for defect in session.defects()[:3]
    ]
    stability = session.stability()
    first = cause_name(session.desk, session.causes()[0].id)
    lines.append(
        f"With every figure of the book shaken {stability.runs} times, “{first}” stays first in "
        f"{100 * stability.share:.0f} % of them."
    )
    return lines
