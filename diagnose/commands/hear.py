"""``diagnose hear``: what is heard in phrases, for people and for machines."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from diagnose.basics.letters import readable
from diagnose.commands.options import json_option, knowledge_option

if TYPE_CHECKING:
    from diagnose.session.session import Session
    from diagnose.words.heard import Heard, Meaning

TOGETHER = 64
"""Phrases that are read at a time, so that a long list is printed as it goes."""


@click.command()
@click.argument("phrases", nargs=-1, metavar="[PHRASE]...")
@json_option
@click.option("--metal", help="Only what can be said of this metal.")
@click.option("--process", help="Only what can be said of this process.")
@knowledge_option
def hear(
    phrases: tuple[str, ...],
    as_json: bool,
    metal: str | None,
    process: str | None,
    knowledge: Path | None,
) -> None:
    """Show what is heard in each PHRASE, or in each line of standard input."""
    from diagnose.session.session import open_session

    session = open_session(folder=knowledge)
    session.about(metal=metal, process=process)
    narrowed = metal is not None or process is not None
    told: Iterable[str] = phrases or (readable(line.rstrip("\n")) for line in sys.stdin or ())
    for heard in _heard(session, (p for p in told if p.strip()), narrowed=narrowed):
        if as_json:
            click.echo(json.dumps(as_data(session, heard)))
        else:
            click.echo("\n".join(as_lines(session, heard)))


def _heard(session: Session, phrases: Iterable[str], *, narrowed: bool) -> Iterator[Heard]:
    asked = {*session.desk.looks, *session.desk.findings} if narrowed else None
    todo = iter(phrases)
    while some := list(islice(todo, TOGETHER)):
        yield from session.reader.hear(some, asked)


def as_data(session: Session, heard: Heard) -> dict[str, Any]:
    """Return what was heard in a phrase as plain data; names of faults stand by themselves."""

    def answers(meanings: Iterable[Meaning]) -> list[dict[str, Any]]:
        return [
            {"id": m.id, "answer": m.answer, "probability": m.probability, "words": m.words}
            for m in meanings
            if m.answer
        ]

    names = [m for m in (*heard.taken, *heard.likely) if not m.answer]
    return {
        "phrase": heard.phrase,
        "taken": answers(heard.taken),
        "likely": answers(heard.likely),
        "ruled_out": answers(heard.ruled_out),
        "nearest": answers(heard.nearest),
        "called": [{"id": m.id, "probability": m.probability, "words": m.words} for m in names],
        "readings": [
            {"id": one.id, "value": value, "unit": session.book.measurements[one.id].unit}
            for one in heard.amounts
            for value in session.amount(one)
        ],
    }


def as_lines(session: Session, heard: Heard) -> list[str]:
    """Return what was heard in a phrase as lines for people."""
    from diagnose.reasoning.reasons import found_text

    lines = [f"“{heard.phrase}”"]

    def meaning_in_words(one: Meaning) -> str:
        text = found_text(session.desk, session.found_by(one, ""))
        return f"{100 * one.probability:3.0f} %  {text}"

    for sign, meanings in (
        ("+ heard    ", heard.taken),
        ("? likely   ", heard.likely),
        ("x ruled out", heard.ruled_out),
    ):
        lines += [f"  {sign}  {meaning_in_words(m)}   “{m.words}”" for m in meanings]
    for one in heard.amounts:
        name = session.book.measurements[one.id].name
        lines.append(f"  + reading    {100 * one.probability:3.0f} %  {name}: {one.text}")
    lines += [f"  - unknown           “{words}”" for words in heard.missed]
    if not heard.anything:
        lines += [f"    nearest    {meaning_in_words(m)}" for m in heard.nearest]
    return lines
