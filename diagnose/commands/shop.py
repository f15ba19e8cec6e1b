"""``diagnose shop``: the shop's own windows beside those of the book."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Any

import click

from diagnose.basics.errors import Fault, Problem
from diagnose.basics.layout import WIDTH
from diagnose.basics.letters import harmless
from diagnose.commands.options import json_option, knowledge_option, print_json

if TYPE_CHECKING:
    from diagnose.rulebase.book import Book, Scope
    from diagnose.session.windows.beside import Beside, Own
    from diagnose.session.windows.file import ShopFile

SAME = "much the same"
"""Said of a window that differs by no more than a repeated test does."""


@click.group()
def shop() -> None:
    """Show and check the shop's own windows."""


@shop.command()
@json_option
@knowledge_option
@click.pass_context
def check(ctx: click.Context, as_json: bool, knowledge: Path | None) -> None:
    """Say which shop file is used, and hold each of its windows beside those of the book.

    Every fault is listed with line and column; the exit status is then 1.
    """
    from diagnose.rulebase.load import load
    from diagnose.session.windows.file import ShopFile, shop_path
    from diagnose.session.windows.read import read_shop

    book = load(knowledge)
    path = shop_path()
    faults: tuple[Problem, ...] = ()
    said = ShopFile()
    try:
        said = read_shop(path, book) if path is not None else said
    except Fault as fault:
        faults = fault.problems
    if as_json:
        data = _as_data(book, path, said, faults)
        print_json(data)
    else:
        for line in _as_lines(book, path, said, faults):
            click.echo(line)
    ctx.exit(1 if faults else 0)


def _as_lines(
    book: Book, path: Path | None, said: ShopFile, faults: Iterable[Problem]
) -> Iterator[str]:
    from diagnose.session.windows.file import places

    named = f" ({said.name})" if said.name else ""
    yield (
        harmless(f"Shop file: {path}{named}") if path else "No shop file: the book's windows hold."
    )
    if not places():
        yield "  Looked for: none, as DIAGNOSE_SHOP says"
    for place in places():
        use = "used" if place == path else "there, not used"
        yield f"  Looked for: {place} ({use if os.path.lexists(place) else 'not there'})"
    if faults := tuple(faults):
        yield from [
            "",
            *map(str, faults),
            "",
            f"{len(faults)} fault{'s' if len(faults) > 1 else ''}",
        ]
        return
    if path is not None:
        yield from _made(said)
        yield from _windows(book, said)
        yield from _scatter(book, said)


def _made(said: ShopFile) -> Iterator[str]:
    kinds = [kind for kind in (said.metal, said.process) if kind]
    if kinds:
        yield f"  Made unless a reject says otherwise: {', '.join(kinds)}"


def _windows(book: Book, said: ShopFile) -> Iterator[str]:
    from diagnose.notes.figures_in_words import window
    from diagnose.session.windows.beside import beside_the_book

    shown = ""
    for own in beside_the_book(book, said):
        measurement = book.measurements[own.measurement]
        if own.measurement != shown:
            yield from ["", measurement.name]
        shown, several = own.measurement, len(said.windows[own.measurement]) > 1
        band = window(own.window.low, own.window.high, measurement.unit)
        where = _sections(own.window.scope, "any other section" if several else "any section")
        yield from _wrapped(f"{where}: {band}, {own.window.source[0]}")
        for beside in own.beside:
            theirs = window(beside.window.low, beside.window.high, measurement.unit)
            where = _sections(beside.window.scope)
            told = _difference(own, beside, measurement.unit)
            yield from _wrapped(f"the book, {where}: {theirs}; {told}", "    ")
        if not own.beside:
            yield from _wrapped("the book has no window for these castings", "    ")


def _sections(scope: Scope | None, without: str = "any section") -> str:
    from diagnose.notes.figures_in_words import window

    section = None if scope is None else scope.section
    return without if section is None else f"section {window(*section, 'mm')}"


def _difference(own: Own, beside: Beside, unit: str) -> str:
    told = []
    for side in beside.telling:
        if (off := beside.off.get(side)) is not None:
            told.append(f"{side} is {abs(off):g} {unit} {'higher' if off > 0 else 'lower'} here")
        else:
            here = getattr(own.window, side) is not None
            told.append(f"only {'the shop' if here else 'the book'} has a {side}")
    return ", ".join(told) or SAME


def _scatter(book: Book, said: ShopFile) -> Iterator[str]:
    if said.repeatability:
        yield from ["", "repeated tests (one standard deviation)"]
    for name, value in said.repeatability.items():
        measurement = book.measurements[name]
        unit = measurement.unit
        theirs = f"the book {measurement.repeatability:g} {unit}"
        yield from _wrapped(f"{measurement.name}: {value:g} {unit}, {theirs}")


def _wrapped(text: str, left: str = "  ") -> list[str]:
    return wrap(text, WIDTH, initial_indent=left, subsequent_indent=f"{left}  ")


def _as_data(
    book: Book, path: Path | None, said: ShopFile, faults: Iterable[Problem]
) -> dict[str, Any]:
    from diagnose.session.windows.beside import beside_the_book
    from diagnose.session.windows.file import places

    return {
        "file": None if path is None else str(path),
        "looked_for": [{"path": str(place), "there": os.path.lexists(place)} for place in places()],
        "shop": said.name,
        "metal": said.metal,
        "process": said.process,
        "windows": [_own_as_data(book, own) for own in beside_the_book(book, said)],
        "repeatability": [
            {
                "measurement": name,
                "unit": book.measurements[name].unit,
                "shop": value,
                "book": book.measurements[name].repeatability,
            }
            for name, value in said.repeatability.items()
        ],
        "faults": [
            asdict(problem.place) | {"what": problem.what, "instead": problem.instead}
            for problem in faults
        ],
    }


def _own_as_data(book: Book, own: Own) -> dict[str, Any]:
    measurement = book.measurements[own.measurement]
    return {
        "measurement": own.measurement,
        "name": measurement.name,
        "unit": measurement.unit,
        **asdict(own.window),
        "book": [
            {**asdict(beside.window), "off": beside.off, "telling": list(beside.telling)}
            for beside in own.beside
        ],
    }
