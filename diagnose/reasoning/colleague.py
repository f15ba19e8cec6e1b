"""A cause explained as a colleague would: how it comes, what speaks for it, what does not fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.basics.quantity import unit_shown
from diagnose.engine.cliquetree import Floats
from diagnose.reasoning.asking import cause_name
from diagnose.reasoning.ranking import likeliest
from diagnose.reasoning.readings import Reading, readings_of
from diagnose.reasoning.reasons import Push, Reasons, found_text
from diagnose.reject.found import MEASUREMENT

CLEAR = 1.5
"""Decibans from which a finding is worth a word."""
MOST_FOR, MOST_AGAINST = 3, 2


@dataclass(frozen=True, slots=True)
class Told:
    """Three sentences on one cause.

    ``how``: how it comes about here. ``speaks_for``: what speaks for it. ``otherwise``: what does
    not fit, and what would change the verdict.
    """

    how: str
    speaks_for: str
    otherwise: str


def told_of(reasons: Reasons, probabilities: Floats, cause: str) -> Told:
    """Explain one cause, from what was found."""
    pushes = reasons.pushes(cause)
    return Told(
        _how(reasons, probabilities, cause),
        _speaks_for(reasons, cause, pushes),
        _otherwise(reasons, cause, pushes),
    )


def _how(reasons: Reasons, probabilities: Floats, cause: str) -> str:
    desk = reasons.desk
    best = likeliest(desk, probabilities, cause)
    name = cause_name(desk, cause)
    if best is None:
        return f"{_capital(name)}: the book holds no way from it to this fault."
    because = [_small(link.because.strip().rstrip(".")) for link in best.links]
    fault = desk.book.defects[best.defect].name
    return f"{_capital(name)} leads to {fault} here: {'; then '.join(because)}."


def _speaks_for(reasons: Reasons, cause: str, pushes: Sequence[Push]) -> str:
    desk = reasons.desk
    readings = {one.id: one for one in readings_of(desk, reasons.reject)}
    told = [
        _with_window(readings[push.entry]) if push.entry in readings else _found(reasons, push)
        for push in pushes
        if push.decibans >= CLEAR
    ][:MOST_FOR]
    mine = {n for a in desk.accounts if a.root == cause for n in a.path}
    named = {desk.book.conditions[n].name for n in mine}
    told += [
        _with_window(one)
        for one in readings.values()
        if one.working and named & {*one.speaks_for} and max(one.chances[0], one.chances[2]) > 0.5
    ]
    if not told:
        return "Nothing that was found speaks for it more than for the others."
    return f"For it: {_listed(list(dict.fromkeys(told)))}."


def _otherwise(reasons: Reasons, cause: str, pushes: Sequence[Push]) -> str:
    against = [
        _found(reasons, push) for push in pushes if push.decibans <= -CLEAR and not push.besides
    ][:MOST_AGAINST]
    fits = f"Does not fit: {_listed(against)}" if against else "Nothing found speaks against it"
    mine = cause_name(reasons.desk, cause)
    first = cause_name(reasons.desk, reasons.desk.roots[reasons.first])
    changes = [
        change
        for change in reasons.would_change(limit=100)
        if (change.leads_to == mine) != (mine == first)
    ][:1]
    if not changes:
        return f"{fits}; no single finding would change the verdict."
    change = changes[0]
    leads = f"“{change.leads_to}” first" if mine == first else "it first"
    return f"{fits}; it would put {leads} if you found {change.text}."


def _found(reasons: Reasons, push: Push) -> str:
    found = reasons.reject.about(push.entry)
    if found is not None and found.kind != MEASUREMENT:
        return found_text(reasons.desk, found)
    return push.text


def _with_window(reading: Reading) -> str:
    """Say a reading with its window.

    A derived figure is named as one that was worked out.
    """
    unit = unit_shown(reading.unit)
    form = ".4g" if reading.working else "g"
    values = ", ".join(f"{value:{form}}" for value in reading.values)
    worked = ", worked out" if reading.working else ""
    text = f"{reading.name} {values} {unit}".rstrip()
    return f"{text}{worked} ({_window(reading, unit)})"


def _window(reading: Reading, unit: str) -> str:
    low, high = reading.low, reading.high
    if low is not None and high is not None:
        return f"window {low:g} to {high:g} {unit}".rstrip()
    if high is not None:
        return f"at most {high:g} {unit}".rstrip()
    return f"at least {low:g} {unit}".rstrip() if low is not None else "no window known"


def _listed(parts: Sequence[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{'; '.join(parts[:-1])}; and {parts[-1]}"


def _small(text: str) -> str:
    """Return a sentence as it goes on after another; "CO2 ..." stays."""
    return text if text[1:2].isupper() else text[:1].lower() + text[1:]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
