"""Read ``shop.yaml`` with every fault at once, each with its place and what would be right."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from diagnose.basics.nearest import did_you_mean, kind_named, nearest
from diagnose.basics.quantity import (
    BARE,
    STEP,
    UNITS,
    convert,
    convert_step,
    fitting_units,
    read_quantity,
    unit_named,
)
from diagnose.reasoning.readings import OWN
from diagnose.reasoning.taking import measurement_named
from diagnose.reject.reject import one_line
from diagnose.rulebase.book import Book, Measurement, Scope, Window
from diagnose.rulebase.faults import FaultsOf
from diagnose.rulebase.yamlread import Steps, read
from diagnose.session.windows.file import ShopFile

LIMIT = 100_000
"""Bytes; nobody writes more about one shop."""
HEADINGS = ("shop", "metal", "process", "windows", "repeatability")
SIDES = ("low", "high")
KEYS = ("section", *SIDES, "unit", "why")
NAMES = "Write 'name: value' lines under it."

T = TypeVar("T")


def read_shop(path: Path, book: Book) -> ShopFile:
    """Read a shop file; raise Fault with every fault of it, each with line and column."""
    reader = _Reader(read(path, str(path), LIMIT), book)
    shop = reader.shop()
    reader.raise_any()
    return shop


@dataclass(slots=True)
class _Reader(FaultsOf):
    """Makes the parts of a shop file, and notes what is wrong with each of them."""

    book: Book

    def shop(self) -> ShopFile:
        """Return all that the file says."""
        data = self.document.data
        if not isinstance(data, dict):
            self.fault((), "This is no shop file.", f"It has the headings {', '.join(HEADINGS)}.")
            return ShopFile()
        self.unknown((), data, HEADINGS)
        metal = self.kind("metal", self.book.metals)
        process = self.kind("process", self.book.processes)
        scope = Scope(
            metal=(metal,) if metal else tuple(self.book.metals),
            process=(process,) if process else tuple(self.book.processes),
        )
        windows = {
            name: self.windows(steps, value, self.book.measurements[name], scope)
            for name, steps, value in self.by_measurement("windows")
        }
        scatter = {
            name: self.scatter(steps, value, self.book.measurements[name])
            for name, steps, value in self.by_measurement("repeatability")
        }
        return ShopFile(self.text(("shop",), data.get("shop")), metal, process, windows, scatter)

    def unknown(self, steps: Steps, data: Mapping[str, Any], known: Collection[str]) -> set[str]:
        """Note the keys that are not known; return the known ones that seem to be meant."""
        strange = [key for key in data if key not in known]
        for key in strange:
            what = f"No heading is called {key!r} here."
            self.fault((*steps, key), what, did_you_mean(key, known, "heading"), key=True)
        return {meant for key in strange for meant in nearest(key, known)}

    def text(self, steps: Steps, value: Any) -> str:
        """Return words on one line; nothing is an empty text."""
        if isinstance(value, dict | list):
            self.fault(steps, f"{steps[-1]!r} takes one value, not several.", "Put it in quotes.")
            return ""
        return one_line("" if value is None else self.document.written.get(steps, str(value)))

    def kind(self, heading: str, known: dict[str, tuple[str, ...]]) -> str:
        """Return the metal or process by the name that the book has for it."""
        text = self.text((heading,), self.document.data.get(heading))
        found = self.tried((heading,), lambda: kind_named(text, known, heading)) if text else ""
        return found or ""

    def by_measurement(self, heading: str) -> Iterator[tuple[str, Steps, Any]]:
        """Yield what stands under the name of a measurement: its id, the steps, the value."""
        data = self.document.data.get(heading)
        if data is None:
            return
        if not isinstance(data, dict):
            self.fault((heading,), f"{heading!r} must hold names of measurements.", NAMES)
            return
        first: dict[str, str] = {}
        for spelling, value in data.items():
            steps = (heading, spelling)
            name = self.tried(steps, partial(measurement_named, self.book, spelling), key=True)
            if name in first:
                what = f"{spelling!r} and {first[name]!r} are the same measurement."
                self.fault(steps, what, "Put all of it under one of them.", key=True)
            elif name is not None:
                first[name] = spelling
                yield name, steps, value

    def windows(
        self, steps: Steps, value: Any, measurement: Measurement, scope: Scope
    ) -> tuple[Window, ...]:
        """Return the windows of one measurement: one, or a list of them."""
        parts = {(*steps, n): one for n, one in enumerate(value)} if isinstance(value, list) else {}
        found: list[Window] = []
        for at, part in (parts or {steps: value}).items():
            if not isinstance(part, dict):
                what = f"This is no window of the {measurement.name}."
                self.fault(at, what, f"Write {{low: ..., high: ..., unit: {measurement.unit!r}}}.")
                continue
            faults = len(self.problems)
            window = self.window(at, part, measurement, scope)
            if faults == len(self.problems) and any(_overlap(window, other) for other in found):
                what = "Another window above holds for some of the same sections."
                self.fault(at, what, "Let one end where the next begins, or keep one of them.")
            found.append(window)
        return tuple(found)

    def window(
        self, steps: Steps, data: dict[str, Any], measurement: Measurement, scope: Scope
    ) -> Window:
        """Return one window in the measurement's own unit."""
        meant = self.unknown(steps, data, KEYS)
        ends = {side: self.number((*steps, side), data.get(side)) for side in SIDES}
        if not any(data.get(side) is not None or side in meant for side in SIDES):
            self.fault(steps, "The window has neither low nor high.", "Give it one at least.")
        low, high = ends.values()
        if low is not None and high is not None and low >= high:
            what = f"The window runs from {low:g} to {high:g}."
            self.fault((*steps, "low"), what, "Low must be below high.")
        unit = self.unit(steps, data, measurement, "unit" in meant)
        why = self.text((*steps, "why"), data.get("why"))
        section = self.section((*steps, "section"), data.get("section"))
        return Window(
            source=(f"{OWN}: {why}" if why else OWN,),
            low=self.turned((*steps, "low"), low, unit, measurement),
            high=self.turned((*steps, "high"), high, unit, measurement),
            scope=Scope(metal=scope.metal, process=scope.process, section=section),
        )

    def number(self, steps: Steps, value: Any) -> float | None:
        """Return a number; None where there is none."""
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | float):
            what = f"{str(steps[-1])!r} must be a number, not {_called(value)}."
            self.fault(steps, what, "Write it with a point, and its unit under 'unit'.")
            return None
        return float(value)

    def unit(
        self, steps: Steps, data: dict[str, Any], measurement: Measurement, misspelt: bool
    ) -> str:
        """Return the unit that a window is given in; empty where it cannot be told."""
        fits = f"It takes {' or '.join(fitting_units(measurement.unit))}."
        text = self.text((*steps, "unit"), data.get("unit"))
        if not text and measurement.unit in BARE:
            return measurement.unit
        if not text:
            if not misspelt:
                self.fault(steps, "The window has no 'unit'.", fits)
            return ""
        unit = unit_named(text)
        if unit is not None and unit in fitting_units(measurement.unit):
            return unit
        what = "is not a unit known here" if unit is None else f"does not fit {measurement.name}"
        self.fault((*steps, "unit"), f"{text!r} {what}.", fits)
        return ""

    def turned(
        self, steps: Steps, value: float | None, unit: str, measurement: Measurement
    ) -> float | None:
        """Return one end of a window in the measurement's unit; note one that cannot be."""
        if value is None or not unit:
            return None
        wanted = measurement.unit
        turn = convert_step if wanted == STEP else convert
        found = round(turn(value, unit, wanted), 9)
        least, most = measurement.possible
        if not least <= found <= most:
            what = f"{str(steps[-1])!r} is {found:g} {wanted}, which {measurement.name} cannot be."
            self.fault(steps, what, f"It lies between {least:g} and {most:g} {wanted}.")
        return found

    def section(self, steps: Steps, value: Any) -> tuple[float | None, float | None] | None:
        """Return a range of ruling section in mm; None where it is not said."""
        if value is None:
            return None
        ends = value if isinstance(value, list) else []
        plain = [end for end in ends if end is None or type(end) in (int, float)]
        told = [end for end in plain if end is not None]
        if len(ends) != 2 or plain != ends or not told:
            what = "'section' must be a range of ruling section."
            self.fault(steps, what, "Write [from, to] in mm; null leaves an end open.")
            return None
        if told[0] < 0 or told != sorted(set(told)):
            what = "No ruling section lies in this range."
            self.fault(steps, what, "Write [from, to] in mm, the smaller one first.")
        return plain[0], plain[1]

    def scatter(self, steps: Steps, value: Any, measurement: Measurement) -> float:
        """Return a repeatability in the measurement's unit: a difference, not a reading."""
        unit = measurement.unit
        wanted = STEP if UNITS[unit].kind == UNITS[STEP].kind else unit
        faults = len(self.problems)
        text = self.text(steps, value)
        if faults < len(self.problems):
            return measurement.repeatability
        found = self.tried(steps, lambda: read_quantity(text, wanted, measurement.name))
        if found is None:
            return measurement.repeatability
        least, most = measurement.possible
        one = round(convert_step(found[0], wanted, unit), 9)
        if len(found) > 1 or not 0 < one < (most - least) / 2:
            what = f"{text!r} cannot be the repeatability of the {measurement.name}."
            way_out = f"The book has {measurement.repeatability:g} {unit}; a repeated test tells."
            self.fault(steps, what, way_out)
        return one


def _called(value: Any) -> str:
    names = {dict: "a mapping", list: "a list", bool: "true or false"}
    return names.get(type(value), f"{value!r}")


def _overlap(one: Window, other: Window) -> bool:
    """Tell whether two windows of one measurement leave open which of them holds."""
    ranges = [window.scope.section if window.scope else None for window in (one, other)]
    if None in ranges:
        return ranges == [None, None]
    (a, b), (c, d) = (r for r in ranges if r is not None)
    low, high = max(a or 0.0, c or 0.0), min(b or float("inf"), d or float("inf"))
    return low < high
