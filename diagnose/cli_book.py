"""``diagnose book``: check, show and search the rule base."""

from __future__ import annotations

from pathlib import Path

import click


@click.group()
def book() -> None:
    """Check, show and search the rule base."""


@book.command()
@click.option("--knowledge", type=click.Path(path_type=Path), help="Folder of the rule base.")
def check(knowledge: Path | None) -> None:
    """List every fault of the rule base, each with file, line and column, then count it."""
    from diagnose.errors import Fault
    from diagnose.rulebase.checks.run import run
    from diagnose.rulebase.load import draft

    try:
        made = draft(knowledge)
    except Fault as fault:
        raise click.ClickException(str(fault)) from None
    problems = run(made)
    for problem in problems:
        click.echo(problem)
    click.echo(f"{len(problems)} faults.")
    raise SystemExit(1 if problems else 0)


if __name__ == "__main__":
    book()
