"""What somebody says of a reject, held against the rule base before it is taken down."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from diagnose.basics.errors import Fault
from diagnose.basics.nearest import did_you_mean
from diagnose.basics.quantity import read_quantity
from diagnose.basics.shorthand import read_jotted
from diagnose.reject.found import (
    CHECK,
    LOOK,
    MEASUREMENT,
    Called,
    Checked,
    Looked,
    Measured,
    RuledOut,
)
from diagnose.reject.reject import one_line
from diagnose.rulebase.book import Book
from diagnose.rulebase.measured import measurement_names, name_folded

AGE = re.compile(r"(.*)\(([^()]*)\bold\)\s*", re.DOTALL | re.IGNORECASE)
"""A reading with the age of its sample behind it, in brackets."""


def look_found(book: Book, look: str, answer: str, said: str = "") -> Looked:
    """Return the finding for a look's answer; raise Fault where there is no such answer."""
    if look not in book.looks:
        raise _unknown(book, LOOK, look)
    return Looked(look, _answer(look, answer, book.looks[look].answers), said)


def ruled_out_found(book: Book, look: str, answers: Iterable[str], said: str = "") -> RuledOut:
    """Return the finding that answers of a look are not so."""
    ruled_out = tuple(look_found(book, look, answer).answer for answer in answers)
    if not ruled_out:
        raise Fault(f"{look!r}: no answer is named that is not so. Name one.")
    return RuledOut(look, ruled_out, said)


def check_found(book: Book, check: str, answer: str, said: str = "") -> Checked:
    """Return the finding for a check's answer; raise Fault where there is no such answer."""
    if check not in book.checks:
        raise _unknown(book, CHECK, check)
    return Checked(check, _answer(check, answer, book.checks[check].answers), said)


def named_found(book: Book, defect: str, said: str = "") -> Called:
    """Return the finding that somebody called the fault by a defect's name."""
    if defect not in book.defects:
        raise _unknown(book, "defect", defect)
    return Called(defect, said)


def measurement_found(book: Book, name: str, text: str) -> Measured:
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
    return Measured(entry, values, one_line(text), age)


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
