"""A measurement without a window, or with one that makes no sense.

Passes: ``possible: [0, 20]`` and a window ``{low: 3.0, high: 4.5}``; no window for a reading that
only goes into a sum.
Fails:  no window; a window without low and high; low not below high; a window outside what is
possible; ``possible`` the wrong way round; ``keeps`` not above nothing; a ``speaks for`` on a side
on which no window ends.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.book import Measurement, Window
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every missing or senseless window."""
    taken = draft.book.taken_by_sums()
    for name, reading in draft.book.measurements.items():
        at: Steps = ("measurements", name)
        low, high = reading.possible
        if low >= high:
            what = f"Possible readings from {low:g} to {high:g} are none."
            yield draft.problem((*at, "possible"), what, "Write [lowest, highest].")
        if reading.keeps is not None and reading.keeps <= 0:
            what = f"A reading cannot keep for {reading.keeps:g} hours."
            instead = "Write the hours in which it loses half its say, or leave it out."
            yield draft.problem((*at, "keeps"), what, instead)
        if not reading.windows and name not in taken:
            what = "There is no window."
            yield draft.problem((*at, "windows"), what, "Say what the shop should aim at.")
        for number, window in enumerate(reading.windows):
            yield from _window(draft, (*at, "windows", number), window, reading)
        yield from _sides(draft, at, reading)


def _window(draft: Draft, steps: Steps, window: Window, reading: Measurement) -> Iterator[Problem]:
    if window.low is None and window.high is None:
        what = "The window has neither low nor high."
        yield draft.problem(steps, what, "Give it one of them at least.")
        return
    if window.low is not None and window.high is not None and window.low >= window.high:
        what = f"The window runs from {window.low:g} to {window.high:g}."
        yield draft.problem((*steps, "low"), what, "Low must be below high.")
    least, most = reading.possible
    for side in ("low", "high"):
        value = getattr(window, side)
        if value is not None and not least <= value <= most:
            what = (
                f"The window's {side}, {value:g}, is no possible reading ({least:g} to {most:g})."
            )
            yield draft.problem((*steps, side), what, "Change the one or the other.")


def _sides(draft: Draft, at: Steps, reading: Measurement) -> Iterator[Problem]:
    for side, other in (("low", "below"), ("high", "above")):
        speaks = getattr(reading, f"{side}_speaks_for")
        if speaks and reading.windows and all(getattr(w, side) is None for w in reading.windows):
            what = f"No reading can lie {other} a window without a {side}."
            instead = f"Give the window a {side}, or take out '{side} speaks for'."
            yield draft.problem((*at, f"{side} speaks for"), what, instead, key=True)
