"""``diagnose sheet``: the readings of one reject out of the shop's own tables."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from diagnose.basics.errors import Fault
from diagnose.basics.letters import harmless
from diagnose.commands.options import json_option, knowledge_option, print_json

if TYPE_CHECKING:
    from diagnose.reject.found import Found
    from diagnose.sheets.given import Doubt, Given
    from diagnose.sheets.into import Outcome
    from diagnose.sheets.reading import Sheet

PICKS = {
    "date": "Rows of this day, such as 2026-03-14.",
    "heat": "Rows of this heat; of this ladle where there is no column of heats.",
    "ladle": "Rows of this ladle.",
    "shift": "Rows of this shift.",
    "pattern": "Rows of this pattern.",
    "poured": "When the mould was poured, such as '2026-03-14 15:30': says how old each reading is "
    "and, by itself, takes the one nearest before.",
}  # fmt: skip


def picking(command: Any) -> Any:
    """Add the options that say which rows are meant."""
    for name, words in reversed(PICKS.items()):
        command = click.option(f"--{name}", default="", help=words)(command)
    return command


@click.command()
@click.argument("file")
@picking
@click.option("--row", type=int, multiple=True, help="This row, by its number.")
@click.option(
    "--column", multiple=True, metavar="HEADING=NAME[, UNIT]",
    help="What a column holds; 'column C=...' for one by its letter, HEADING=- to leave it out.",
)  # fmt: skip
@click.option("--unit", multiple=True, help="Unit of columns that have none, where it fits.")
@click.option("--sheet", "title", default="", help="Name of the sheet of a workbook.")
@click.option("--header", type=int, default=0, help="Number of the row of headings.")
@click.option("--order", type=click.Choice(["dmy", "mdy", "ymd"]), help="Order within a date.")
@click.option("--decimal", type=click.Choice(["point", "comma"]), help="What parts decimals.")
@click.option("--carry/--no-carry", default=None, help="An empty date is that of the row above.")
@click.option("--into", type=click.Path(path_type=Path), help="Write them into this reject file.")
@click.option("--replace", "over", is_flag=True, help="Also over readings that it has already.")
@click.option("--yes", is_flag=True, help="Ask nothing; what is in doubt is left out.")
@json_option
@knowledge_option
def sheet(file: str, **options: Any) -> None:
    """Take the readings of one reject from FILE, a table: CSV, XLSX, XLS or ODS.

    Shows which column is taken for what, in which unit, and the readings in the rows that are
    meant. What could be read in several ways is asked, or left out; it is never guessed.
    """
    from diagnose.session.session import open_session
    from diagnose.sheets.opened import open_tables
    from diagnose.sheets.reading import read_sheet, settled

    session = open_session(folder=options["knowledge"])
    given = _given(options)
    tables = open_tables(file)
    asking = not (options["yes"] or options["as_json"]) and _somebody_is_there()
    read = (
        settled(tables, session.book, given, _choose)
        if asking
        else read_sheet(tables, session.book, given)
    )
    if not options["as_json"]:
        _print(read)
    if asking and read.taken:
        _confirm(options["into"])
    outcome = _written(session, read, options, sure=asking or options["yes"])
    if options["as_json"]:
        _print_json(read, outcome)


def _somebody_is_there() -> bool:
    return sys.stdin is not None and sys.stdin.isatty() and sys.stdout.isatty()


def _given(options: dict[str, Any]) -> Given:
    """Return what the options say of the sheet."""
    from diagnose.sheets.dates import moment_of
    from diagnose.sheets.given import Given
    from diagnose.sheets.heading import unit_of
    from diagnose.sheets.rows import PICKED_BY

    columns = []
    for text in options["column"]:
        heading, equals, meaning = text.rpartition("=")
        if not equals or not heading.strip():
            example = "--column 'Feuchte=moulding sand moisture, %'"
            raise Fault(f"{text!r} is not of the form HEADING=NAME, such as {example}.")
        columns.append((" ".join(heading.split()), meaning.strip()))
    for unit in options["unit"]:
        if not unit_of(unit):
            raise Fault(f"{unit!r} is not a unit known here.")
    return Given(
        sheet=options["title"],
        header=options["header"],
        columns=tuple(columns),
        units=tuple(map(unit_of, options["unit"])),
        order=options["order"] or "",
        decimal={"point": ".", "comma": ","}.get(options["decimal"] or "", ""),
        carry=options["carry"],
        day=moment_of(options["date"], "--date").day if options["date"] else None,
        keys=tuple((key, options[key]) for key in PICKED_BY if options[key]),
        rows=options["row"],
        poured=moment_of(options["poured"], "--poured") if options["poured"] else None,
    )


def _choose(doubt: Doubt) -> Given | None:
    """Ask about a doubt; none of the ways leaves out what it is about."""
    click.echo(doubt.say)
    for number, choice in enumerate(doubt.choices, 1):
        click.echo(f"{number:>3}  {choice.words}")
    click.echo("  0  leave it open")
    number = click.prompt("Which", type=click.IntRange(0, len(doubt.choices)))
    return doubt.choices[number - 1].given if number else None


def _print(read: Sheet) -> None:
    from diagnose.basics.layout import WIDTH, plain_text
    from diagnose.sheets.in_words import sheet_in_words

    click.echo(plain_text(sheet_in_words(read), WIDTH))


def _confirm(into: Path | None) -> None:
    where = f" Write the readings into {into}?" if into else ""
    if not click.confirm(f"Are the columns and the readings right?{where}"):
        raise Fault("Nothing was written. Say what a column holds with --column HEADING=NAME.")


def _written(session: Any, read: Sheet, options: dict[str, Any], *, sure: bool) -> Outcome | None:
    """Write the readings into the reject file, if one is named."""
    into = options["into"]
    if into is None:
        return None
    if str(into) == "-":
        raise Fault("--into takes the name of a reject file; it writes to no stream.")
    from diagnose.session.amend import put_readings
    from diagnose.session.rejectfile import read_reject
    from diagnose.sheets.into import found_on, outcome_in_words, take_down

    if not read.taken:
        raise Fault("Nothing was written: no reading was taken from the sheet.")
    if not sure:
        raise Fault("Nothing was written, as nobody confirmed it. If all is right, add --yes.")
    read_reject(into, session, begun=True)
    outcome = take_down(session, found_on(read), over=options["over"])
    if outcome.added:
        put_readings(into, outcome.added, lambda *read: session.measurement_named(*read).sure)
    if not options["as_json"]:
        for line in outcome_in_words(session, outcome):
            click.echo(line)
        if outcome.kept:
            click.echo("To put the sheet's readings over them, add --replace.")
        if outcome.added:
            click.echo(harmless(f"Written: {into}"))
    return outcome


def _readings(found: Found) -> list[float]:
    from diagnose.reject.found import Measured

    return list(found.readings) if isinstance(found, Measured) else []


def _print_json(read: Sheet, outcome: Outcome | None) -> None:
    from diagnose.sheets.in_words import as_data

    data = as_data(read)
    if outcome is not None:
        data["written"] = [one.id for one in outcome.added]
        data["same"] = [one.id for one in outcome.same]
        data["kept"] = [
            {"id": new.id, "reject": _readings(old), "sheet": _readings(new)}
            for old, new in outcome.kept
        ]
    print_json(data)
