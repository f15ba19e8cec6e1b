"""A reject worked from a file, as text for people and as data for machines."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from diagnose.asking import cause_name
from diagnose.reasons import found_text
from diagnose.rejectfile import Reading
from diagnose.session import Session

if TYPE_CHECKING:
    from diagnose.rulebase.words import Match

MOST_CAUSES = 6
BAR = 20


def as_data(session: Session, reading: Reading) -> dict[str, Any]:
    """Return everything that was worked out, with probabilities unrounded."""
    from diagnose.notes.compose import compose

    note = asdict(compose(session))
    return {
        "causes": [asdict(cause) for cause in session.causes()],
        "defects": [asdict(defect) for defect in session.defects()],
        "accounts": [
            {"path": list(account.path), "probability": account.probability}
            for account in session.accounts(limit=None)
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
        "understood": [
            {
                "phrase": understood.phrase,
                "words": match.words,
                "as": {match.kind: match.id} | ({verb: match.answer} if match.answer else {}),
                "score": match.score,
            }
            for understood in reading.understood
            for verb, matches in (("answer", understood.matches), ("not", understood.denied))
            for match in matches
        ],
        "not_understood": [
            {"phrase": words, "nearest": [f"{m.id}: {m.answer}" for m in candidates]}
            for understood in reading.understood
            for words, candidates in (
                *((unclear.words, unclear.candidates) for unclear in understood.unclear),
                *((missed.words, missed.nearest) for missed in understood.missed),
            )
        ],
        "warnings": [*reading.assumed, *session.warnings()],
        "notes": [{"about": part, "says": says} for part, says in note.items()],
        "stability": asdict(session.stability()),
    }


def as_text(session: Session, reading: Reading) -> str:
    """Return what was understood and the ranking, in plain lines."""
    return "\n".join([*_understood(session, reading), *_ranking(session), ""])


def _understood(session: Session, reading: Reading) -> list[str]:
    lines = [
        f"Taken down: “{match.words}” as {match_in_words(session, match)}"
        for understood in reading.understood
        for match in understood.matches
    ]
    for understood in reading.understood:
        lines += [
            f"Ruled out: “{match.words}” as {match_in_words(session, match)}"
            for match in understood.denied
        ]
        for unclear in understood.unclear:
            ways = " or ".join(match_in_words(session, match) for match in unclear.candidates)
            lines.append(f"Unclear: “{unclear.words}” could mean {ways}. Left out.")
        lines += [f"Not understood: “{missed.words}”. Left out." for missed in understood.missed]
    lines += [f"Mind: {warning}" for warning in (*reading.assumed, *session.warnings())]
    return [*lines, ""] if lines else lines


def match_in_words(session: Session, match: Match) -> str:
    """Say what a phrase was taken for."""
    return found_text(session.desk, session.found_by(match, ""))


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
