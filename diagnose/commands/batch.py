"""``diagnose batch``: a scrap sheet, from what matters to an agreed action."""

from __future__ import annotations

import json
import os
import sys
from datetime import date
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Any

import click

from diagnose.basics.errors import Fault
from diagnose.basics.layout import WIDTH
from diagnose.basics.letters import harmless
from diagnose.commands.options import json_option, knowledge_option

if TYPE_CHECKING:
    from diagnose.batch.actions import Action
    from diagnose.batch.reading.data import BatchData
    from diagnose.batch.reading.given import Ask, Given, Progress, Question
    from diagnose.batch.result import Batch
    from diagnose.rulebase.job import Job
    from diagnose.session.session import Session

COMPARE = "compare"
_FILE = click.Path(path_type=Path, dir_okay=False)


@click.command()
@click.argument("sheets", nargs=-1, required=True, metavar="SHEET... | compare BEFORE AFTER")
@click.option("--poured", type=_FILE, multiple=True, help="Sheet of the castings poured.")
@click.option("--readings", type=_FILE, help="Sheet of the shop's readings.")
@click.option(
    "--pack", type=click.Path(path_type=Path, file_okay=False), metavar="DIR",
    help="Write the page, its PDF and the tables there.",
)  # fmt: skip
@click.option("--plain", is_flag=True, help="Print it line by line, for pipes and screen readers.")
@click.option(
    "--column", multiple=True, metavar="HEADING=NAME[, UNIT]",
    help="What a column holds; HEADING=- to leave it out.",
)  # fmt: skip
@click.option("--sheet", "titles", multiple=True, help="Name of a sheet of a workbook to take.")
@click.option("--order", type=click.Choice(["dmy", "mdy", "ymd"]), help="Order within a date.")
@click.option("--decimal", type=click.Choice(["point", "comma"]), help="What parts decimals.")
@click.option("--carry/--no-carry", default=None, help="An empty date is that of the row above.")
@click.option(
    "--duplicates", type=click.Choice(["keep", "aside"]), help="Rows the same in every cell."
)
@click.option("--teach", multiple=True, metavar="WORD=FAULT", help="What a word of the shop means.")
@json_option
@knowledge_option
def batch(sheets: tuple[str, ...], **options: Any) -> None:
    """Show what SHEETs of scrap come to: what matters, what is chance, and what it comes from.

    In a terminal the meeting walks through it by keys. 'compare BEFORE AFTER' says whether an
    action worked; --poured is then given twice, before and after. A sheet that is itself called
    compare is written ./compare.
    """
    from diagnose.session.session import open_session

    session = open_session(folder=options["knowledge"])
    _teach(session, options["teach"])
    if sheets[0] == COMPARE:
        _compare(session, sheets[1:], options)
    else:
        _walk(session, [Path(sheet) for sheet in sheets], options)


def _walk(session: Session, sheets: list[Path], options: dict[str, Any]) -> None:
    """Read the sheets, and show, print or write what they come to."""
    from diagnose.batch.actions import path_beside, read_actions
    from diagnose.batch.analyse import made_of, needed

    if len(options["poured"]) > 1:
        raise Fault("--poured is given once; only 'batch compare' takes two.")
    poured = next(iter(options["poured"]), None)
    today = date.today()
    actions = read_actions(path_beside(sheets[0]))
    data = _read(session, sheets, poured, options["readings"], options)
    with needed():
        made = made_of(data, session.library, _job(session), _progress(options))
    _clear()
    if options["as_json"]:
        from diagnose.batch.report import as_data

        click.echo(json.dumps(as_data(made), ensure_ascii=False, indent=1, allow_nan=False))
    elif options["plain"] or not _can_draw():
        from diagnose.terminal.plain.batch import tell_batch

        tell_batch(made, actions, today, sys.stdout)
    else:
        _meet(session, sheets[0], made, data, options["pack"])
        actions = read_actions(path_beside(sheets[0]))
    if options["pack"] is not None:
        _pack(made, actions, options["pack"], today)


def _read(
    session: Session,
    sheets: list[Path],
    poured: Path | None,
    readings: Path | None,
    options: dict[str, Any],
) -> BatchData:
    from diagnose.batch.analyse import read

    return read(
        sheets, session.library, poured=poured, readings=readings, given=_given(options),
        ask=_ask(options), progress=_progress(options), knowledge=options["knowledge"],
    )  # fmt: skip


def _meet(session: Session, sheet: Path, made: Batch, data: BatchData, folder: Path | None) -> None:
    """Walk the meeting through; a casting that is opened is worked, and then the walk goes on."""
    from functools import partial

    from diagnose.batch.actions import path_beside
    from diagnose.batch.analyse import reject_for
    from diagnose.batch.walk import Walk
    from diagnose.session.shelf import shelf
    from diagnose.terminal.screens.app import run
    from diagnose.terminal.screens.batch import run_batch

    pack = folder or sheet.with_name(f"{sheet.stem}-pack")
    walk = Walk(made, path_beside(sheet), pack, date.today())
    while (opened := run_batch(walk)) is not None:
        click.echo("One moment: the reject is being opened.", err=True)
        reject = reject_for(data, session.library, _job(session), opened)
        run(partial(session.another, reject), shelf())


def _job(session: Session) -> Job:
    from diagnose.rulebase.job import Job

    fresh = session.fresh
    return Job(fresh.metal or None, fresh.process or None, fresh.section)


def _pack(made: Batch, actions: list[Action], folder: Path, today: date) -> None:
    from diagnose.batch.pack.write import write_pack

    written = write_pack(made, actions, folder, today)
    for path in written.paths:
        click.echo(harmless(f"Written: {path}"), err=True)
    for line in written.lacking:
        click.echo(line, err=True)


def _compare(session: Session, sheets: tuple[str, ...], options: dict[str, Any]) -> None:
    """Print whether the rate fell from one sheet to the other."""
    from diagnose.basics.layout import plain_text
    from diagnose.batch.analyse import needed
    from diagnose.batch.comparing import as_data, compare, told
    from diagnose.notes.render import showable

    poured = [*options["poured"]] or [None, None]
    if len(sheets) != 2 or len(poured) != 2:
        raise Fault(
            "Two sheets are compared: diagnose batch compare before.csv after.csv "
            "--poured poured-before.csv --poured poured-after.csv"
        )
    two = [
        _read(session, [Path(sheet)], each, None, options)
        for sheet, each in zip(sheets, poured, strict=True)
    ]
    with needed():
        found = compare(two[0], two[1], session.book)
    _clear()
    if options["as_json"]:
        click.echo(json.dumps(as_data(found), ensure_ascii=False, indent=1, allow_nan=False))
    else:
        encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
        click.echo(showable(plain_text(told(found), WIDTH), encoding))


def _teach(session: Session, pairs: tuple[str, ...]) -> None:
    """Write down what words of the shop mean."""
    if not pairs:
        return
    from diagnose.basics.nearest import kind_named
    from diagnose.batch.reading.shopwords import teach, words_path

    path, defects = words_path(), session.book.defects
    if path is None:
        raise Fault("DIAGNOSE_WORDS says that no words of the shop are kept: nothing was taught.")
    faults = {name: (entry.name,) for name, entry in defects.items()}
    for pair in pairs:
        word, equals, fault = (part.strip() for part in pair.rpartition("="))
        if not equals or not word:
            raise Fault(f"{pair!r} is not of the form WORD=FAULT, such as --teach BL7=misrun.")
        known = kind_named(fault, faults, "fault")
        teach(path, session.book, word, {known: 1.0})
        click.echo(f"Taught: {word} is {defects[known].name}.", err=True)


def _given(options: dict[str, Any]) -> Given:
    """Return what the options say of the sheets."""
    from diagnose.batch.reading.given import Given

    columns = []
    for text in options["column"]:
        heading, equals, meaning = text.rpartition("=")
        if not equals or not heading.strip():
            raise Fault(
                f"{text!r} is not of the form HEADING=NAME, such as --column 'Grund=fault word'."
            )
        columns.append((" ".join(heading.split()), meaning.strip()))
    return Given(
        columns=tuple(columns),
        order=options["order"] or "",
        decimal={"point": ".", "comma": ","}.get(options["decimal"] or "", ""),
        carry=options["carry"],
        sheets=tuple(options["titles"]),
        duplicates=options["duplicates"] or "",
    )


def _can_draw() -> bool:
    from diagnose.terminal.can_draw import can_draw

    seen = sys.stdout is not None and sys.stdout.isatty()
    return seen and can_draw(sys.stdin, sys.stderr, os.environ)


def _ask(options: dict[str, Any]) -> Ask | None:
    """Return who answers what is in doubt; nobody where no terminal is there."""
    there = sys.stdin is not None and sys.stdin.isatty() and sys.stdout.isatty()
    return None if options["as_json"] or not there else _choose


def _choose(question: Question) -> str:
    """Ask one thing about a sheet in the terminal."""
    _clear()
    parts = [question.say]
    if question.about == "headings":
        file, _, taken = question.say.partition(": ")
        parts = [f"{file}:", *(f"  {one}" for one in taken.split("; "))]
    for part in parts:
        click.echo(fill(part, WIDTH, subsequent_indent="    "))
    for number, way in enumerate(question.ways, 1):
        click.echo(f"{number:>3}  {way.words}")
    which = click.IntRange(1, len(question.ways))
    number = click.prompt("Which", type=which, default=1 if question.about == "headings" else None)
    return question.ways[number - 1].answer


def _progress(options: dict[str, Any]) -> Progress:
    """Return a line that says how far it is, where somebody can see it."""
    shown = not options["as_json"] and sys.stderr is not None and sys.stderr.isatty()

    def tell(share: float, what: str) -> None:
        if shown:
            done = round(20 * share)
            bar = f"{'#' * done}{'.' * (20 - done)}"
            click.echo(f"\r{bar} {100 * share:3.0f} %  {what[:40]:<40}", nl=False, err=True)

    return tell


def _clear() -> None:
    """Take the line of the progress away."""
    if sys.stderr is not None and sys.stderr.isatty():
        click.echo(f"\r{'':<76}\r", nl=False, err=True)
