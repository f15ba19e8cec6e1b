"""``diagnose work``: the sums of the foundry by themselves."""

from __future__ import annotations

import sys
from dataclasses import asdict
from textwrap import wrap
from typing import Any

import click

from diagnose.basics.errors import Fault
from diagnose.basics.layout import WIDTH, Section
from diagnose.commands.options import json_option, print_json
from diagnose.shop.calculation import Calculation, Value

TIED = "\N{NO-BREAK SPACE}"
"""Holds a name and its unit together on one line."""


@click.command()
@click.argument("words", nargs=-1, metavar="[NAME] [KEY=VALUE]...")
@json_option
def work(words: tuple[str, ...], as_json: bool) -> None:
    """Work the sum NAME and show the working and its source.

    With no NAME, all sums are listed with what they need; with a matter, such as sand, those of
    that matter. Values carry their units, such as height=50.8mm; a table is written
    retained=50:21.4,70:42.0. What is missing is asked for.
    """
    from diagnose.shop.work import inputs_from, named
    from diagnose.shop.work import work as work_it
    from diagnose.shop.workings import matters_named, working

    at = next((number for number, word in enumerate(words) if "=" in word), len(words))
    name, pairs = " ".join(words[:at]), words[at:]
    if pairs and not name:
        raise Fault("Name the sum before its values: diagnose work moisture moist=50g dry=48.3g.")
    if not pairs and (chosen := matters_named(name)):
        _print_all(chosen, as_json)
        return
    calculation = named(name)
    asking = not as_json and sys.stdin is not None and sys.stdin.isatty()
    given = inputs_from(calculation, pairs, whole=not asking)
    if asking:
        _ask_for_missing(calculation, given)
    worked = work_it(calculation, given)
    if as_json:
        print_json(asdict(worked))
    else:
        _print(working(calculation, given, worked))


def _ask_for_missing(calculation: Calculation, given: dict[str, Value]) -> None:
    from diagnose.shop.work import form, missing, value_of

    for each in missing(calculation, given):
        how = f", such as {form(each).partition('=')[2]}" if each.table else ""
        while each.name not in given:
            text = click.prompt(f"{each.words} ({each.what}), {each.range}{how}", err=True)
            try:
                given[each.name] = value_of(each, text)
            except Fault as fault:
                click.echo(str(fault), err=True)


def _print(section: Section) -> None:
    _say(section.title, "")
    for line in section.lines:
        _say(line.text, line.left)


def _say(text: str, left: str) -> None:
    beside = f"{left}  "
    lines = wrap(text, WIDTH, initial_indent=left, subsequent_indent=beside, break_on_hyphens=False)
    click.echo("\n".join(lines).replace(TIED, " "))


def _print_all(chosen: dict[str, list[Calculation]], as_json: bool) -> None:
    if as_json:
        told = [_as_data(matter, each) for matter, sums in chosen.items() for each in sums]
        print_json(told)
        return
    from diagnose.shop.workings import in_unit, inputs_in_words

    _say("Each sum with what it gives and what it takes. What has a = may be left out.", "")
    for matter, sums in chosen.items():
        click.echo(f"\n{matter.upper()}")
        for each in sums:
            _say(f"{each.name}: {in_unit(each.title, each.unit)}", "  ")
            _say(", ".join(one.replace(" ", TIED) for one in inputs_in_words(each.inputs)), "    ")


def _as_data(matter: str, each: Calculation) -> dict[str, Any]:
    return {
        "name": each.name,
        "matter": matter,
        "title": each.title,
        "unit": each.unit,
        "source": each.source,
        "inputs": [
            {
                "name": one.name,
                "what": one.what,
                "unit": one.unit,
                "range": one.range,
                "default": one.default,
                "table": one.table,
                "choices": list(one.choices),
            }
            for one in each.inputs
        ],
    }
