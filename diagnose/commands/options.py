"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])


def _or_before(ctx: click.Context, _option: click.Parameter, given: Path | None) -> Path | None:
    """Return the folder given here, or else the one given before the command."""
    before: Path | None = ctx.obj
    return given or before


def knowledge_option(command: Command) -> Command:
    """Add ``--knowledge``; given before a command it holds for that command."""
    option = click.option(
        "--knowledge",
        metavar="DIR",
        type=click.Path(path_type=Path),
        callback=_or_before,
        help="Folder of the rule base, instead of the one that came with the program.",
    )
    return option(command)


def print_json(data: object) -> None:
    """Print data for machines, the same way for every command; plain ASCII, for any pipe."""
    import json

    click.echo(json.dumps(data, indent=1))


def json_option(command: Command) -> Command:
    """Add ``--json``."""
    return click.option("--json", "as_json", is_flag=True, help="Print JSON for machines.")(command)
