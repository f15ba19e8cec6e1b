"""The commands: parse, call, print."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from diagnose import __version__
from diagnose.basics.errors import Fault
from diagnose.basics.letters import harmless
from diagnose.commands.options import knowledge_option
from diagnose.terminal.can_draw import can_draw

if TYPE_CHECKING:
    from diagnose.session.session import Session

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
"""Our matrices are small: numpy takes longer to start threads than they would save."""

LATER = {
    "batch": "diagnose.commands.batch:batch",
    "book": "diagnose.commands.book:book",
    "hear": "diagnose.commands.hear:hear",
    "reject": "diagnose.commands.reject:reject",
    "sheet": "diagnose.commands.sheet:sheet",
    "shop": "diagnose.commands.shop:shop",
    "work": "diagnose.commands.work:work",
}
"""Commands whose module is imported only when they are called."""


class Commands(click.Group):
    """Imports a command when it is called, and prints faults as lines, not as a traceback."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of all commands."""
        return sorted([*super().list_commands(ctx), *LATER])

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return a command, imported now if need be."""
        if cmd_name in LATER:
            module, name = LATER[cmd_name].split(":")
            command: click.Command = getattr(importlib.import_module(module), name)
            return command
        return super().get_command(ctx, cmd_name)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the command that is meant; a file in its place is a reject to be worked."""
        if args and args[0] not in self.list_commands(ctx):
            from diagnose.commands.reject import is_file, reject

            if is_file(args[0]):
                return "reject", reject, args
        return super().resolve_command(ctx, args)

    def main(self, *args: Any, **extra: Any) -> Any:
        """Run a command; what goes wrong ends with its lines and status 1."""
        try:
            return super().main(*args, **extra)
        except Fault as fault:
            for problem in fault.problems:
                click.echo(str(problem), err=True)
        except OSError as error:
            why = harmless(error.strerror or str(error))
            click.echo(f"This could not be finished: {why}.", err=True)
            print_no_more()
        sys.exit(1)

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; that nobody reads on is no failure."""
        try:
            return super().invoke(ctx)
        except click.ClickException as wrong:
            vars(wrong)["message"] = harmless(wrong.message)  # it names what was typed
            raise
        except BrokenPipeError:
            print_no_more()
            ctx.exit(0)


@click.group(cls=Commands, invoke_without_command=True)
@click.version_option(__version__, message="%(version)s")
@click.option("--plain", is_flag=True, help="Ask line by line, for pipes and screen readers.")
@knowledge_option
@click.pass_context
def main(ctx: click.Context, plain: bool, knowledge: Path | None) -> None:
    """Find out why a casting was scrapped, and what to do about it.

    With no command, a reject is worked question by question in the terminal. With the FILE of a
    reject in place of a command, that is worked: diagnose cover.yaml.
    """
    show_any_symbol()
    gc.disable()  # nearly all that is made at start stays; looking for garbage is wasted time
    ctx.obj = knowledge
    if ctx.invoked_subcommand is not None:
        return
    from diagnose.session.shelf import shelf

    def opened() -> Session:
        from diagnose.session.session import open_session

        session = open_session(folder=knowledge)
        gc.freeze()
        gc.enable()
        return session

    if plain or not can_draw(sys.stdin, sys.stderr, os.environ):
        from diagnose.terminal.plain.conversation import run as run_plain

        if not run_plain(opened(), shelf(), sys.stdin, sys.stdout):
            ctx.exit(1)
    else:
        from diagnose.terminal.screens.app import run

        if not run(opened, shelf()):
            ctx.exit(1)


@main.command("help")
@click.argument("words", nargs=-1, metavar="[COMMAND]...")
@click.pass_context
def help_(ctx: click.Context, words: tuple[str, ...]) -> None:
    """Show what COMMAND does, or all commands."""
    at = ctx.parent
    command: click.Command = main
    for word in words:
        if not isinstance(command, click.Group) or at is None:
            break
        name, found, _ = command.resolve_command(at, [word])
        command = found or command
        at = click.Context(command, info_name=name, parent=at)
    if at is not None:
        click.echo(command.get_help(at))


def print_no_more() -> None:
    """Drop what is still to be printed, also at the very end of the program."""
    sys.stdout = open(os.devnull, "w")  # noqa: SIM115 - open as long as the program runs


def show_any_symbol() -> None:
    """Let no sign stop the program: one that cannot be shown or read is made do with."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    if hasattr(sys.stdin, "reconfigure"):
        sys.stdin.reconfigure(errors="surrogateescape")


if __name__ == "__main__":
    main()
