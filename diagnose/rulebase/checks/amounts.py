"""A worked amount that cannot be said, or that disagrees with the words of its action.

Passes: ``{change: sand-temperature, to: 40, way: down, least: 1, say: "cool by {amount}", ...}``
beside ``how much: Below 40 degC at the bench``.
Fails:  neither or both of ``by`` and ``change``; a ``say`` without ``{amount}``; a ``change``
without a ``way``, or to an end that no window has; a ``least`` or ``at once`` of nothing; steps
without a word for them; no ``care`` beside an action that carries a caution; an aim outside all
that the action's own ``how much`` says; a largest step that these words do not name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.bands import written
from diagnose.rulebase.book import Action, Amount
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps

AIMS = ("target", "limit", "residual", "cooled", "mould", "addition", "share")
"""Inputs of the sums for which a fixed value is what the action aims at."""
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_SAID = {
    "nothing": 0, "half": 0.5, "a third": 1 / 3, "a quarter": 0.25, "three quarters": 0.75,
    "two thirds": 2 / 3, "three fifths": 0.6, "four fifths": 0.8, "nine tenths": 0.9, "one": 1,
    "a fifth": 0.2, "a tenth": 0.1, "the wall's own": 1, "two": 2, "three": 3, "four": 4,
    "five": 5, "seven": 7, "eight": 8,
}  # fmt: skip


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every amount that cannot be meant."""
    for name, action in draft.book.actions.items():
        for number, amount in enumerate(action.worked):
            steps: Steps = ("actions", name, "worked", number)
            yield from _form(draft, steps, amount)
            yield from _change(draft, steps, amount)
            yield from _words(draft, steps, amount, action)


def _form(draft: Draft, at: Steps, amount: Amount) -> Iterator[Problem]:
    if bool(amount.by) == bool(amount.change):
        what = "An amount is worked by a sum, or as the change of a reading."
        yield draft.problem(at, what, "Write one of 'by' and 'change'.")
    if "{amount}" not in amount.say:
        what = "The advice has no place for the amount."
        yield draft.problem((*at, "say"), what, "Write {amount} where it belongs.")
    if amount.least <= 0:
        yield draft.problem((*at, "least"), "Less than nothing is weighed.", "Write what can be.")
    if amount.at_once is not None and (amount.at_once <= 0 or not amount.rounds):
        what = "The largest step is nothing, or there is no word for the steps."
        instead = "Write a figure above 0, and 'rounds': batches, weeks, heats, steps."
        yield draft.problem((*at, "at once"), what, instead)


def _change(draft: Draft, at: Steps, amount: Amount) -> Iterator[Problem]:
    if not amount.change:
        return
    if amount.way not in ("up", "down"):
        yield draft.problem((*at, "way"), "A change goes up or down.", "Write 'way: up' or 'down'.")
    if amount.times not in ("", "direct", "inverse"):
        what = f"{amount.times!r} is no way in which a reading goes with what is changed."
        yield draft.problem((*at, "times"), what, "Write 'direct' or 'inverse', or leave it out.")
    try:
        part = written(amount.to)
    except ValueError:
        what = f"{amount.to!r} is nothing to change to."
        yield draft.problem((*at, "to"), what, "Write a number, low, high, or a part: 0.9 high.")
        return
    reading = draft.book.measurements.get(amount.change)
    if amount.to is None:
        yield draft.problem(at, "The change leads nowhere.", "Write 'to' and a figure.")
    elif part and reading and all(getattr(w, part[1]) is None for w in reading.windows):
        what = f"No window of {amount.change!r} has a {part[1]}."
        yield draft.problem((*at, "to"), what, "Write a number.")


def _words(draft: Draft, at: Steps, amount: Amount, action: Action) -> Iterator[Problem]:
    if action.caution and not amount.care:
        what = "The action can hurt somebody, and the amount has no safety rule beside it."
        yield draft.problem(at, what, "Add 'care' with the one rule that matters most.")
    said = figures_in(action.how_much)
    aims = [amount.to] if isinstance(amount.to, int | float) else []
    aims += [x for n, x in amount.given.items() if n in AIMS and not isinstance(x, str)]
    for aim in aims:
        if not said or not min(said) <= aim <= max(said):
            what = f"The amount aims at {aim:g}, which the action's 'how much' does not say."
            yield draft.problem(at, what, "Let the words and the amount agree.")
    step = amount.at_once
    if step is not None and not any(abs(step_of(x, amount) - step) < 1e-6 for x in said):
        what = f"The largest step, {step:g}, does not stand in the action's 'how much'."
        yield draft.problem((*at, "at once"), what, "Let the words and the amount agree.")


def figures_in(text: str) -> list[float]:
    """Return the figures that a text names, in numbers or in a few words.

    >>> figures_in("A tenth at a time, to 0.8 to 1.0 %.")
    [0.8, 1.0, 0.1]
    """
    found = [float(number) for number in _NUMBER.findall(text)]
    plain = f" {re.sub(r'[^a-z ]', ' ', text.lower())} "
    return found + [value for words, value in _SAID.items() if f" {words} " in plain]


def step_of(said: float, amount: Amount) -> float:
    """Return a step as the amount holds it: a factor where it is a number of times."""
    if not amount.times and not (amount.by and amount.way):
        return said
    return 1.0 + said if amount.way == "up" else 1.0 - said
