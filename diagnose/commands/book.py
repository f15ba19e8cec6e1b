"""``diagnose book``: check, show and search the rule base."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from diagnose.basics.errors import Fault, Problem
from diagnose.commands.options import json_option, knowledge_option, print_json

if TYPE_CHECKING:
    from diagnose.reasoning.setup import Desk


class BookGroup(click.Group):
    """Prints a Fault as lines instead of a traceback, and ends with status 1."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command of the group."""
        try:
            return super().invoke(ctx)
        except Fault as fault:
            for problem in fault.problems:
                click.echo(problem, err=True)
            ctx.exit(1)


@click.group(cls=BookGroup)
def book() -> None:
    """Check, show and search the rule base."""


@book.command()
@json_option
@knowledge_option
def check(as_json: bool, knowledge: Path | None) -> None:
    """List every fault of the rule base, each with file, line and column; then count it.

    The exit status is 1 where there is a fault.
    """
    from diagnose.rulebase.checks.run import run
    from diagnose.rulebase.counts import counts
    from diagnose.rulebase.reading import draft

    made = draft(knowledge)
    problems = run(made)
    counted = counts(made.book)
    if as_json:
        faults = [_as_data(problem) for problem in problems]
        _print_json({"faults": faults, "counts": counted, "aliases": made.book.renamed})
    else:
        for problem in problems:
            click.echo(problem)
        if problems:
            click.echo()
        click.echo(f"{len(problems)} fault{'' if len(problems) == 1 else 's'}")
        for name, count in counted.items():
            click.echo(f"{name}: {_in_percent(count) if isinstance(count, dict) else count}")
    raise SystemExit(1 if problems else 0)


@book.command()
@click.argument("name", nargs=-1, required=True)
@json_option
@knowledge_option
def show(name: tuple[str, ...], as_json: bool, knowledge: Path | None) -> None:
    """Show an entry, by its id, name or synonym, with everything linked to it."""
    from diagnose.rulebase.find import lookup
    from diagnose.rulebase.load import load
    from diagnose.rulebase.show import entry_json, entry_lines

    loaded = load(knowledge)
    found = lookup(loaded, " ".join(name))
    if as_json:
        _print_json([entry_json(loaded, section, entry) for section, entry in found])
        return
    width = min(shutil.get_terminal_size().columns, 100)
    for number, (section, entry) in enumerate(found):
        if number:
            click.echo()
        for line in entry_lines(loaded, section, entry, width):
            click.echo(line)


@book.command()
@click.argument("words", nargs=-1, required=True)
@json_option
@knowledge_option
def find(words: tuple[str, ...], as_json: bool, knowledge: Path | None) -> None:
    """Find entries whose names, synonyms or everyday words are like WORDS."""
    from diagnose.rulebase.find import SINGULAR
    from diagnose.rulebase.find import find as search
    from diagnose.rulebase.load import load

    wanted = " ".join(words)
    matches = search(load(knowledge), wanted)
    if as_json:
        keys = ("score", "id", "words")
        _print_json(
            [
                {"kind": SINGULAR[match.section], **{key: getattr(match, key) for key in keys}}
                for match in matches
            ]
        )
        return
    for match in matches:
        click.echo(f"{SINGULAR[match.section]:12} {match.id:28} {match.words}")
    if not matches:
        click.echo(f"Nothing in the book is like {wanted!r}. Try fewer or other words.")


@book.command()
@click.argument("name", nargs=-1, required=True)
@click.option("--svg", "folder", type=click.Path(path_type=Path), help="Write SVG files there.")
@knowledge_option
def draw(name: tuple[str, ...], folder: Path | None, knowledge: Path | None) -> None:
    """Draw a defect, or the answers of a look: with letters, or as SVG files."""
    from diagnose.drawing.vector import svg
    from diagnose.rulebase.find import lookup
    from diagnose.rulebase.load import load
    from diagnose.rulebase.panels import in_letters, panels

    loaded = load(knowledge)
    wanted = " ".join(name)
    drawn = {entry: panels(loaded, entry) for _, entry in lookup(loaded, wanted)}
    if not any(drawn.values()):
        raise Fault(f"There is no drawing of {wanted!r}; defects and looks have drawings.")
    for entry, shown in drawn.items():
        if folder is None:
            for line in in_letters(shown, shutil.get_terminal_size().columns):
                click.echo(line)
            continue
        for number, panel in enumerate(shown, 1):
            path = folder / f"{entry}-{number}.svg"
            _write(path, svg(panel.scene, panel.marks))
            click.echo(path)


@book.command()
@click.argument("name", nargs=-1)
@click.option("--metal", help="Only what is cast in this metal.")
@click.option("--process", help="Only what is moulded in this way.")
@json_option
@knowledge_option
def shares(
    name: tuple[str, ...],
    metal: str | None,
    process: str | None,
    as_json: bool,
    knowledge: Path | None,
) -> None:
    """Print how the rejects of each defect are shared among its causes, before anything is known.

    With NAME only that defect. An engineer should find these figures right; where they are not,
    base rates and strengths want mending.
    """
    from diagnose.reasoning.prior import shares_of_causes
    from diagnose.rulebase.find import lookup

    desk = _desk(knowledge, metal, process)
    loaded, found = desk.book, shares_of_causes(desk)
    if name:
        only = {entry for _, entry in lookup(loaded, " ".join(name))}
        found = {defect: causes for defect, causes in found.items() if defect in only}
        if not found:
            raise Fault(f"{' '.join(name)!r} is no defect.")
    if as_json:
        _print_json(found)
        return
    for defect, causes in found.items():
        click.echo(f"{sum(causes.values()):7.2%}  {loaded.defects[defect].name}")
        whole = sum(causes.values())
        for cause, share in causes.items():
            click.echo(f"{share / whole:15.1%}  {loaded.conditions[cause].name}")


@book.command()
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@knowledge_option
def faults(folder: Path, knowledge: Path | None) -> None:
    """Write a page of all faults with their pictures, look-alikes and causes into FOLDER."""
    from diagnose.notes.faultpages import PAGE, files

    for path, text in files(_desk(knowledge)).items():
        _write(folder / path, text)
    click.echo(folder / PAGE)


@book.command()
@json_option
@knowledge_option
def links(as_json: bool, knowledge: Path | None) -> None:
    """Print every causal path from a root condition to a defect, the likeliest first.

    The figure is how often it is the cause of a reject of which nothing is known yet.
    """
    import math

    from diagnose.rulebase.graph import sources

    desk = _desk(knowledge)
    loaded = desk.book
    chances = map(math.exp, desk.model.log_prior)
    ranked = sorted(zip(chances, desk.accounts, strict=False), key=lambda pair: -pair[0])
    if not as_json:
        for prior, account in ranked:
            click.echo(f"{prior:8.3%}  {' > '.join((*account.path, account.defect))}")
        return
    _print_json(
        [
            {
                "root": {
                    "id": account.root,
                    "name": loaded.conditions[account.root].name,
                    "area": loaded.conditions[account.root].area,
                },
                "path": list(account.path),
                "defect": {"id": account.defect, "name": loaded.defects[account.defect].name},
                "prior": prior,
                "sources": sources(loaded, account),
            }
            for prior, account in ranked
        ]
    )


def _desk(knowledge: Path | None, metal: str | None = None, process: str | None = None) -> Desk:
    """Return the book made ready for a metal and a process, or for whichever."""
    from functools import partial

    from diagnose.basics.nearest import kind_named
    from diagnose.reasoning.setup import set_up
    from diagnose.rulebase.cache import cached_arrays, load_compiled
    from diagnose.rulebase.job import Job

    loaded, key = load_compiled(knowledge)
    job = Job(
        metal and kind_named(metal, loaded.metals, "metal"),
        process and kind_named(process, loaded.processes, "process"),
    )
    return set_up(loaded, job, partial(cached_arrays, key))


def _write(path: Path, text: str) -> None:
    from diagnose.basics.atomic_write import write_whole

    try:
        write_whole(path, text.encode())
    except OSError as error:
        reason = error.strerror or str(error)
        raise Fault(f"{path} cannot be written: {reason}. Name another folder.") from None


def _as_data(problem: Problem) -> dict[str, str | int]:
    place = problem.place
    return {
        "file": place.file,
        "line": place.line,
        "column": place.column,
        "what": problem.what,
        "instead": problem.instead,
    }


def _in_percent(shares: dict[str, float]) -> str:
    return ", ".join(f"{name} {share:.0%}" for name, share in shares.items())


def _print_json(data: Any) -> None:
    print_json(data)


if __name__ == "__main__":
    book()
