"""``diagnose reject``: rejects written down in files, each worked to its note."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagnose.basics.errors import Fault
from diagnose.basics.letters import harmless
from diagnose.commands.options import json_option, knowledge_option, print_json

if TYPE_CHECKING:
    from diagnose.session.rejectfile import FileRead
    from diagnose.session.session import Session

TABLES = (".csv", ".tsv", ".xlsx", ".xls", ".ods")
WRITES = ("--html", "--pdf", "--md", "--markdown", "--txt", "--text", "--output", "--out", "-o")
"""Options that people try for the note in a file."""


class RejectCommand(click.Command):
    """Leads whoever tries an option for a file of the note to the one that writes it."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Take the arguments apart; an option for the note in a file names ``--write``."""
        try:
            return super().parse_args(ctx, args)
        except click.NoSuchOption as wrong:
            if wrong.option_name not in WRITES:
                raise
            raise click.UsageError(
                f"There is no {wrong.option_name}. --write DIR writes the note there as text, "
                "Markdown and HTML; print the HTML for paper or PDF.",
                ctx,
            ) from None


@click.command(cls=RejectCommand)
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@json_option
@click.option(
    "--accounts",
    metavar="N",
    type=click.IntRange(min=0),
    default=50,
    show_default=True,
    help="With --json: causal paths to print, the likeliest first.",
)
@click.option(
    "--write",
    "folder",
    metavar="DIR",
    type=click.Path(path_type=Path, file_okay=False),
    help="Also write the note there as text, Markdown and HTML.",
)
@click.option(
    "--one-page",
    "one_page",
    is_flag=True,
    help="Leave out the second page of the note: findings, doubts and sources.",
)
@knowledge_option
def reject(
    files: tuple[str, ...],
    as_json: bool,
    accounts: int,
    folder: Path | None,
    one_page: bool,
    knowledge: Path | None,
) -> None:
    """Work a reject written down in FILE (YAML; - for standard input) and print the note.

    Several files give a table of all of them and a note each; one with faults keeps none of the
    others back. The exit status is 0 when all were worked and 1 when a file has faults, all of
    which are listed with line and column.
    """
    from diagnose.session.session import open_session

    fresh = open_session(folder=knowledge)
    worked, faults = _all_worked(files, fresh)
    if faults and len(files) == 1:
        raise faults[0]
    if as_json:
        from diagnose.notes.report import as_data

        data = [as_data(session, reading, accounts) for _, session, reading in worked]
        names = [name for name, *_ in worked]
        several = [{"file": name} | one for name, one in zip(names, data, strict=True)]
        print_json(data[0] if len(files) == 1 else several)
    else:
        _print(worked, table=len(files) > 1, second=not one_page)
    if folder is not None:
        from diagnose.notes.render import write_all

        sessions = [session for _, session, _ in worked]
        for path in write_all(sessions, folder, second=not one_page):
            click.echo(harmless(f"Written: {path}"), err=True)
    if faults:
        raise Fault(*(problem for fault in faults for problem in fault.problems))


Worked = tuple[str, "Session", "FileRead"]


def _worked(file: str, fresh: Session) -> Worked:
    from diagnose.session.rejectfile import read_reject

    session = fresh.another()
    return file, session, read_reject(file, session)


def _all_worked(files: tuple[str, ...], fresh: Session) -> tuple[list[Worked], list[Fault]]:
    """Return what could be worked, and what is wrong with the other files."""
    worked: list[Worked] = []
    faults: list[Fault] = []
    for file in files:
        try:
            worked.append(_worked(file, fresh))
        except Fault as fault:
            faults.append(fault)
    return worked, faults


def _print(worked: list[Worked], *, table: bool, second: bool) -> None:
    from diagnose.notes.render import render, showable
    from diagnose.notes.report import as_table, as_text

    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"

    def echo(text: str) -> None:
        click.echo(showable(text, encoding))

    if table and worked:
        echo(as_table([(file, session) for file, session, _ in worked]))
    for _, session, reading in worked:
        echo(as_text(session, reading))
        click.echo(render(session, "txt", encoding, second=second))


def is_file(word: str) -> bool:
    """Tell whether a word that is no command is a reject in a file; raise Fault for a table.

    >>> is_file("cover.yaml"), is_file("rejct")
    (True, False)
    """
    if word.lower().endswith(TABLES):
        raise Fault(
            f"{word} is a table. A sheet of scrap is worked by 'diagnose batch {word}'; the "
            f"readings of one reject are taken from it by 'diagnose sheet {word}'."
        )
    return word.lower().endswith((".yaml", ".yml")) or (word != "-" and Path(word).is_file())
