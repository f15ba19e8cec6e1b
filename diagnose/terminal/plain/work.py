"""The word ``work`` of the line-by-line session: a sum, with the readings of the reject put in."""

from __future__ import annotations

import shlex

from diagnose.basics.errors import Fault
from diagnose.session.autosave import Bench
from diagnose.session.sum_inputs import offered
from diagnose.shop.calculation import Calculation, Value
from diagnose.shop.work import (
    form,
    inputs_from,
    matching,
    missing,
    named,
    value_of,
    with_unit,
    work,
)
from diagnose.shop.workings import in_unit, matters_named, working
from diagnose.terminal.plain.console import Talk


def is_asked_for(text: str) -> bool:
    """Tell whether what stands behind the word asks for a sum, and is not a phrase."""
    return not text or "=" in text or bool(matters_named(text) or matching(text))


def work_out(bench: Bench, talk: Talk, text: str) -> None:
    """List the sums, or work the one that is named; what is lacking is asked for."""
    words = _parted(text)
    at = next((number for number, word in enumerate(words) if "=" in word), len(words))
    name, pairs = " ".join(words[:at]), words[at:]
    if not pairs and (not name or matters_named(name)):
        _list(talk, name)
        return
    try:
        calculation = named(name)
        given = inputs_from(calculation, pairs)
        _take_over(bench, talk, calculation, given)
        if _ask_for_missing(talk, calculation, given):
            talk.tell([working(calculation, given, work(calculation, given))])
    except Fault as fault:
        talk.say(str(fault))


def _parted(text: str) -> list[str]:
    try:
        return shlex.split(text)
    except ValueError:
        return text.split()


def _list(talk: Talk, name: str) -> None:
    if not name:
        talk.say(f"work and a matter lists its sums. The matters: {', '.join(matters_named(''))}.")
    for sums in matters_named(name).values() if name else ():
        for each in sums:
            talk.say(in_unit(each.title, each.unit), f"{each.name}: ")
    talk.say("Work one like this: work moisture moist=50g dry=48.3g")


def _take_over(bench: Bench, talk: Talk, calculation: Calculation, given: dict[str, Value]) -> None:
    """Put in the readings of the reject where nothing else was said."""
    for each in calculation.inputs:
        text = offered(bench.session, calculation).get(each.name)
        if text is not None and each.name not in given:
            talk.say(f"{each.words} {text}", "From the readings: ")
            given[each.name] = value_of(each, text)


def _ask_for_missing(talk: Talk, calculation: Calculation, given: dict[str, Value]) -> bool:
    """Ask for what is lacking; return whether all of it was given."""
    lacking = missing(calculation, given)
    if lacking:
        talk.say("An empty line leaves the sum.")
    for each in lacking:
        how = f", such as {form(each).partition('=')[2]}" if each.table else ""
        talk.say(f"{each.words}: {each.what}, {each.range}{how}")
        while each.name not in given:
            text = talk.read(each.words)
            if not text:
                return False
            try:
                given[each.name] = value_of(each, with_unit(each, text))
            except Fault as fault:
                talk.say(str(fault))
    return True
