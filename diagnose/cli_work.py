"""``diagnose work``: the sums of the foundry by themselves."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict

import click

from diagnose.errors import Fault
from diagnose.shop.calculation import Calculation, Value, Worked, figure


@click.command()
@click.argument("name", required=False)
@click.argument("values", nargs=-1, metavar="[KEY=VALUE]...")
@click.option("--json", "as_json", is_flag=True, help="Print JSON for machines.")
def work(name: str | None, values: tuple[str, ...], as_json: bool) -> None:
    """Work the sum NAME and show the working and its source.

    With no name, all sums are listed with what they need. Values carry their units, such as
    height=50.8mm; a table is written retained=50:21.4,70:42.0. What is missing is asked for.
    """
    from diagnose.work import inputs_from, named
    from diagnose.work import work as work_it

    if name is None:
        _print_all(as_json)
        return
    calculation = named(name)
    given = inputs_from(calculation, values)
    if sys.stdin.isatty() and not as_json:
        given = _ask_for_missing(calculation, given)
    worked = work_it(calculation, given)
    if as_json:
        click.echo(json.dumps(asdict(worked), ensure_ascii=False, indent=1))
    else:
        _print(calculation, worked)


def _ask_for_missing(calculation: Calculation, given: dict[str, Value]) -> dict[str, Value]:
    from diagnose.work import missing, value_of

    for each in missing(calculation, given):
        while each.name not in given:
            text = click.prompt(f"{each.words} ({each.what}), {each.range}", err=True)
            try:
                given[each.name] = value_of(each, text)
            except Fault as fault:
                click.echo(str(fault), err=True)
    return given


def _print(calculation: Calculation, worked: Worked) -> None:
    click.echo(f"{calculation.title}: {figure(worked.value)} {worked.unit}".rstrip())
    for line in worked.working:
        click.echo(f"  {line}")
    for warning in worked.warnings:
        click.echo(f"  Mind: {warning}")
    click.echo(f"  Source: {worked.source}")


def _print_all(as_json: bool) -> None:
    from diagnose.shop.catalogue import calculations

    known = calculations().values()
    if as_json:
        sums = [
            {
                "name": each.name,
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
            for each in known
        ]
        click.echo(json.dumps(sums, ensure_ascii=False, indent=1))
        return
    for each in known:
        click.echo(f"{each.name}: {each.title}{f', in {each.unit}' if each.unit else ''}")
        needs = (f"{one.name}{f' [{one.unit}]' if one.unit else ''}" for one in each.inputs)
        click.echo(f"    {' '.join(needs)}")
