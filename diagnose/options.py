"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])


def knowledge_option(command: Command) -> Command:
    """Add ``--knowledge``."""
    option = click.option(
        "--knowledge",
        metavar="DIR",
        type=click.Path(path_type=Path),
        help="Folder of the rule base, instead of the one that came with the program.",
    )
    return option(command)


def json_option(command: Command) -> Command:
    """Add ``--json``."""
    return click.option("--json", "as_json", is_flag=True, help="Print JSON for machines.")(command)
