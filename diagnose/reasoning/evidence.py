"""What was found on a reject, held against the rule base: checked, and turned into evidence."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from diagnose.basics.errors import Fault
from diagnose.basics.nearest import did_you_mean
from diagnose.basics.quantity import read_quantity
from diagnose.basics.shorthand import read_jotted
from diagnose.engine.findings import Weights, bands, check_weights, reading_weights
from diagnose.engine.posterior import Evidence, log_looks, normalised
from diagnose.reasoning.derived import mean_of, turned, work_sum
from diagnose.reasoning.graded import heard_checks, heard_looks
from diagnose.reasoning.setup import CALLED, Desk, answer_numbers
from diagnose.reasoning.sighted import shown_by, sight_of
from diagnose.reject.reject import CALLED as NAMED
from diagnose.reject.reject import (
    CHECK,
    LOOK,
    MEASUREMENT,
    RULED_OUT,
    SURE,
    Found,
    Reject,
    one_line,
)
from diagnose.rulebase.book import Book, Measurement, Window
from diagnose.rulebase.measured import measurement_names, name_folded
from diagnose.rulebase.sights import sights

OWN = "the shop's own"
"""With this begins the source of a window that the shop set itself."""
AGE = re.compile(r"(.*)\(([^()]*)\bold\)\s*", re.DOTALL | re.IGNORECASE)
"""A reading with the age of its sample behind it, in brackets."""
CLEARLY = 0.8
"""Chance from which a reading is called below or above its window, without "probably"."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A measurement held against its window.

    ``low`` and ``high``: the window, None where it is open or where there is none. ``chances``:
    of the true value lying below, within, above it. ``speaks_for``: names of the conditions on
    the side on which it probably lies. ``working``: how it follows from other readings; empty
    for one that was measured. ``replaces``: readings that are in it and say nothing besides.
    ``fresh``: the share of its say that is left after the age of the sample. ``error``: standard
    deviation of the mean of ``values``.
    """

    id: str
    name: str
    values: tuple[float, ...]
    unit: str
    low: float | None
    high: float | None
    chances: tuple[float, float, float]
    words: str
    speaks_for: tuple[str, ...]
    working: tuple[str, ...] = ()
    replaces: tuple[str, ...] = ()
    fresh: float = 1.0
    error: float = 0.0


def look_found(book: Book, look: str, answer: str, said: str = "") -> Found:
    """Return the finding for a look's answer; raise Fault where there is no such answer."""
    if look not in book.looks:
        raise _unknown(book, LOOK, look)
    return Found(LOOK, look, _answer(look, answer, book.looks[look].answers), said=said)


def ruled_out_found(book: Book, look: str, answer: str, said: str = "") -> Found:
    """Return the finding that answers of a look, parted by spaces, are not so."""
    ruled_out = [look_found(book, look, one, said) for one in answer.split()]
    if not ruled_out:
        raise Fault(f"{look!r}: no answer is named that is not so. Name one.")
    return replace(ruled_out[0], kind=RULED_OUT, answer=" ".join(f.answer for f in ruled_out))


def check_found(book: Book, check: str, answer: str, said: str = "") -> Found:
    """Return the finding for a check's answer; raise Fault where there is no such answer."""
    if check not in book.checks:
        raise _unknown(book, CHECK, check)
    return Found(CHECK, check, _answer(check, answer, book.checks[check].answers), said=said)


def named_found(book: Book, defect: str, said: str = "") -> Found:
    """Return the finding that somebody called the fault by a defect's name."""
    if defect not in book.defects:
        raise _unknown(book, "defect", defect)
    return Found(NAMED, defect, said=said)


def measurement_found(book: Book, name: str, text: str) -> Found:
    """Return the finding for a reading written with its unit.

    ``name`` may be the id, the name or another name of the measurement. ``text`` may end with the
    age of the sample at pouring: "4.6 % (6 h old)". Raises Fault for an unknown measurement, a
    missing or unfitting unit, or a reading that cannot be.
    """
    entry = measurement_named(book, name)
    measurement = book.measurements[entry]
    reading, old = _with_age(text)
    values = read_jotted(reading, measurement.unit, measurement.name, measurement.possible)
    age = read_quantity(old, "h", f"{measurement.name}, age of the sample")[0] if old else 0.0
    if age < 0.0:
        raise Fault(f"{measurement.name}: a sample cannot be {age:g} h old. Write how long before.")
    least, most = measurement.possible
    for value in values:
        if not least <= value <= most:
            raise Fault(
                f"{measurement.name}: {value:g} {measurement.unit} cannot be. It lies between "
                f"{least:g} and {most:g} {measurement.unit}; look at the sheet again."
            )
    return Found(MEASUREMENT, entry, readings=values, said=one_line(text), age=age)


def _with_age(text: str) -> tuple[str, str]:
    """Part a reading from the age of its sample; the age is empty where it is not said.

    >>> _with_age("4.6 % (6 h old)"), _with_age("4.6 %")
    (('4.6 % ', '6 h '), ('4.6 %', ''))
    """
    match = AGE.fullmatch(text)
    return (match[1], match[2]) if match else (text, "")


def measurement_named(book: Book, name: str) -> str:
    """Return the id of the measurement that a name means; raise Fault with the nearest one."""
    names = measurement_names(book)
    if (entry := names.get(name_folded(name))) is not None:
        return entry
    spellings = [spelling for spelling in names if "-" not in spelling]
    way_out = did_you_mean(name_folded(name), spellings, "name")
    raise Fault(f"There is no measurement called {name!r}. {way_out}")


def _unknown(book: Book, kind: str, name: str) -> Fault:
    """Return what to say of a name that is not known among the entries of its kind."""
    entries: dict[str, Iterable[str]] = {
        LOOK: book.looks, CHECK: book.checks, "defect": book.defects,
        MEASUREMENT: book.measurements,
    }  # fmt: skip
    way_out = did_you_mean(name, entries[kind], kind)
    for other, names in entries.items():
        if name in names:
            way_out = f"It is a {other}; take it down as one."
    return Fault(f"There is no {kind} called {name!r}. {way_out}")


def _answer(entry: str, answer: str, answers: Mapping[str, object]) -> str:
    if answer not in answers:
        raise Fault(f"{entry!r} has no answer {answer!r}. It takes {' or '.join(answers)}.")
    return answer


def known_answers(book: Book, reject: Reject, *, heard: bool = False) -> dict[str, frozenset[str]]:
    """Return, for every look of which something is known, the answers that it may have.

    ``heard``: what words surely say counts as an answer, as it does for what is worth asking.

    An answer given to a look that makes sense only under certain answers of another look says
    so much about that other one, unless it was answered itself or others say the contrary. An
    answer that was ruled out leaves the others.
    """
    told = [f for f in reject.findings if f.chance >= SURE] if heard else reject.found
    given = {f.id: f.answer for f in told if f.kind == LOOK}
    implied: dict[str, set[str]] = {}
    for found in told:
        if found.kind == RULED_OUT and found.id not in given:
            implied[found.id] = {*book.looks[found.id].answers} - {*found.answer.split()}
    for look in given:
        for other, allowed in _called_for(book, look).items():
            if other not in given:
                implied[other] = implied.get(other, allowed) & allowed
    known = {look: frozenset([answer]) for look, answer in given.items()}
    return known | {look: frozenset(answers) for look, answers in implied.items() if answers}


def excluding(book: Book, reject: Reject) -> list[tuple[Found, Found]]:
    """Return the pairs of answered looks that cannot both be right.

    A look makes sense only under certain answers of another one; two answers exclude each other
    where they call for different answers of the same look.
    """
    said = [found for found in reject.found if found.kind == LOOK]
    fitting = [{found.id: {found.answer}} | _called_for(book, found.id) for found in said]
    return [
        (earlier, later)
        for k, later in enumerate(said)
        for n, earlier in enumerate(said[:k])
        if any(not fitting[k][look] & fitting[n][look] for look in fitting[k].keys() & fitting[n])
    ]


def _called_for(book: Book, look: str) -> dict[str, set[str]]:
    """Return look -> answers under which ``look`` makes sense at all."""
    fitting: dict[str, set[str]] = {}
    todo = [look] if look in book.looks else []
    while todo:
        for other, allowed in book.looks[todo.pop()].only_if.items():
            fitting[other] = fitting.get(other, {*allowed}) & {*allowed}
            todo.append(other)
    return fitting


def evidence_of(desk: Desk, reject: Reject) -> Evidence:
    """Turn everything found on a reject, and heard of it, into evidence for the engine."""
    looks = {
        desk.looks[look]: answer_numbers(desk, look, sorted(answers))
        for look, answers in known_answers(desk.book, reject).items()
        if look in desk.looks and len(answers) < len(desk.book.looks[look].answers)
    }
    named = [f.id for f in reject.found if f.kind == NAMED]
    if named:
        looks[desk.looks[CALLED]] = answer_numbers(desk, CALLED, named)
    answered = {f.id for f in reject.found if f.kind != RULED_OUT}
    answered |= {CALLED} if named else set()
    graded = heard_looks(desk, reject.heard, answered) | _measured_sights(desk, reject)
    for look in graded.keys() & looks.keys():  # answers that were ruled out, or follow from others
        may = looks.pop(look)
        graded[look] = tuple(x if k in may else 0.0 for k, x in enumerate(graded[look]))
    findings = heard_checks(desk, reject.heard, answered) | _findings(desk, reject)
    return Evidence(*_once_a_sight(desk, looks, findings, graded))


def _measured_sights(desk: Desk, reject: Reject) -> dict[int, tuple[float, ...]]:
    """Return the likelihoods of the readings taken on the casting, under each of their bands."""
    return {
        desk.looks[found.id]: sight_of(
            measurement,
            desk.window(measurement),
            found.readings,
            measurement.repeatability,
        )
        for found in reject.found
        if found.kind == MEASUREMENT and found.id in desk.looks
        for measurement in [desk.book.measurements[found.id]]
    }


def _findings(desk: Desk, reject: Reject) -> dict[int, Weights]:
    """Return the weights of the checks that were answered and of the readings."""
    scale = desk.book.scale
    findings = {}
    for found in reject.found:
        if found.kind == CHECK and found.id in desk.findings:
            check = desk.book.checks[found.id]
            weights = check_weights(found.answer == check.bad, desk.book.figure(check.false_alarm))
            findings[desk.findings[found.id]] = weights
    readings = readings_of(desk, reject)
    replaced = {name for reading in readings for name in reading.replaces}
    for reading in readings:
        if reading.id in desk.findings and reading.id not in replaced:
            sides = (reading.low is not None, reading.high is not None)
            odd = 1.0 - (1.0 - scale.odd_sample) * reading.fresh
            weights = reading_weights(reading.chances, sides, scale.stray_reading, odd)
            findings[desk.findings[reading.id]] = weights
    return findings


def _once_a_sight(
    desk: Desk,
    looks: dict[int, tuple[int, ...]],
    findings: dict[int, Weights],
    graded: dict[int, tuple[float, ...]],
) -> tuple[dict[int, tuple[int, ...]], dict[int, Weights], dict[int, tuple[float, ...]]]:
    """Let looks that ask after one fact count once: what was answered or measured before words.

    Of several such, what says most counts.

    A look that makes sense only under some answers of another one refines it, so both count. What
    each says is measured over the accounts as they stand before anything is known.
    """
    for group in {frozenset(g) for g in sights(desk.book).values() if len(g) > 1}:
        told = [n for n in sorted(group) if n in desk.looks]
        told = [n for n in told if desk.looks[n] in looks or desk.looks[n] in graded]
        if len(told) < 2:
            continue
        ranks = {n: _rank(desk, looks, graded, desk.looks[n]) for n in told}
        best = max(told, key=ranks.__getitem__)
        for name in told:
            refined = {*_called_for(desk.book, name), name}
            refines = {*_called_for(desk.book, best), best}
            if best not in refined and name not in refines:
                looks.pop(desk.looks[name], None)
                graded.pop(desk.looks[name], None)
    return looks, findings, graded


def _rank(
    desk: Desk,
    looks: Mapping[int, tuple[int, ...]],
    graded: Mapping[int, tuple[float, ...]],
    number: int,
) -> tuple[bool, bool, float]:
    """Return how a look ranks among those that ask after the same fact."""
    measured = list(desk.looks)[number] in desk.book.measurements
    answered = measured or len(looks.get(number, ())) == 1
    return answered, measured or number in looks, _says(desk, looks, graded, number)


def _says(
    desk: Desk,
    looks: Mapping[int, tuple[int, ...]],
    graded: Mapping[int, tuple[float, ...]],
    number: int,
) -> float:
    """Return how much what is known of a look says, in natural units."""
    one = Evidence(
        {number: looks[number]} if number in looks else {},
        {},
        {number: graded[number]} if number in graded else {},
    )
    model = desk.model
    before = np.exp(model.log_prior)
    after = normalised(model.log_prior + log_looks(model, one))
    ratio = np.log(np.maximum(after, 1e-300)) - model.log_prior
    return float((after * ratio * (before > 0.0)).sum())


def readings_of(desk: Desk, reject: Reject) -> list[Reading]:
    """Return every reading of a reject against its window, then what follows from them."""
    measured = [found for found in reject.found if found.kind == MEASUREMENT]
    return [*(reading_of(desk, found) for found in measured), *_worked_out(desk, measured)]


def _worked_out(desk: Desk, measured: Sequence[Found]) -> Iterator[Reading]:
    """Yield the quantities that follow from what was measured and were not measured themselves."""
    book = desk.book
    known = {f.id: mean_of(book.measurements[f.id], f.readings) for f in measured}
    fresh = {f.id: fresh_share(book.measurements[f.id], f.age) for f in measured}
    for name, measurement in book.measurements.items():
        wanted = measurement.worked_out
        if wanted is None or name in known or not known.keys() & set(wanted.takes.values()):
            continue
        result = work_sum(book, wanted, known, {})
        if result is not None:
            worked, error = result
            value = turned(worked.value, worked.unit, measurement.unit)
            error = abs(turned(worked.value + error, worked.unit, measurement.unit) - value)
            reading = _against_window(desk, name, (value,), error)
            yield replace(
                reading,
                working=tuple(worked.working),
                replaces=wanted.replaces,
                fresh=min(fresh[taken] for taken in wanted.takes.values() if taken in fresh),
            )


def fresh_share(measurement: Measurement, age: float) -> float:
    """Return how much of its say a reading has left when its sample is ``age`` hours old."""
    return 1.0 if measurement.keeps is None else 0.5 ** (age / measurement.keeps)


def reading_of(desk: Desk, found: Found) -> Reading:
    """Hold a measurement against the window that this job calls for."""
    measurement = desk.book.measurements[found.id]
    reading = _against_window(desk, found.id, found.readings, measurement.repeatability)
    fresh = fresh_share(measurement, found.age)
    if fresh == 1.0:
        return reading
    words = f"{reading.words}; {found.age:g} h old, so it counts {fresh:.0%} of a fresh one"
    return replace(reading, words=words, fresh=fresh)


def _against_window(desk: Desk, name: str, values: tuple[float, ...], error: float) -> Reading:
    measurement = desk.book.measurements[name]
    window = desk.window(measurement)
    low, high = (None, None) if window is None else (window.low, window.high)
    chances = bands(values, low, high, error)
    return Reading(
        name,
        measurement.name,
        values,
        measurement.unit,
        low,
        high,
        chances,
        _standing(chances, window),
        _speaks_for(desk, name, values, chances),
        error=error / sqrt(len(values)),
    )


def is_own(window: Window | None) -> bool:
    """Tell whether a window is one that the shop set itself, and not the book's."""
    return window is not None and any(source.startswith(OWN) for source in window.source)


def _standing(chances: tuple[float, float, float], window: Window | None) -> str:
    if window is None or (window.low is None and window.high is None):
        return "no window is known for this job"
    best = max(range(3), key=chances.__getitem__)
    side = ("below", "within", "above")[best]
    words = f"{side} {OWN if is_own(window) else 'its'} window"
    return words if chances[best] >= CLEARLY else f"probably {words}"


def _speaks_for(
    desk: Desk, name: str, values: tuple[float, ...], chances: tuple[float, float, float]
) -> tuple[str, ...]:
    """Return the names of the conditions, or of a reading on the casting the faults, it tells."""
    book, measurement = desk.book, desk.book.measurements[name]
    if name in desk.looks:
        return tuple(book.defects[one].name for one in shown_by(desk, name, values))
    best = max(range(3), key=chances.__getitem__)
    sides = (tuple(measurement.low_speaks_for), (), tuple(measurement.high_speaks_for))
    return tuple(book.conditions[name].name for name in sides[best])
