"""Anything that people do to a reject, drawn at random from the rule base."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from diagnose.basics.errors import Fault
from diagnose.basics.quantity import STEP, convert, convert_step, fitting_units
from diagnose.reject.found import Found, Hearing
from diagnose.reject.reject import Reject
from diagnose.session.session import Session
from tests import shipped

BOOK = shipped.book()
Action = tuple[str, tuple[Any, ...], dict[str, Any]]

PHRASES = (
    "smooth round holes just under the top skin",
    "big hole with crystals in it, deep inside",
    "a seam in the thin wall, lips rounded",
    "the ladle was not skimmed",
    "no core in it",
    "a fold or maybe a crack",
    "sand or slag in the holes",
    "rough inside, the holes",
    "no slag in the hole",
    "moisture 4.6 %",
    "like the moon through a wet window",
    "Lunker an der Nabe",
    "it isn't blown",
    "cold",
)


def session(reject: Reject | None = None) -> Session:
    """A reject at work with the rule base that comes with the program."""
    return shipped.first().another(reject)


def answered(section: str, method: str) -> SearchStrategy[Action]:
    """An answer to a look or a check."""
    entries = getattr(BOOK, section)
    return st.sampled_from(
        [
            (method, (name, answer), {})
            for name, entry in entries.items()
            for answer in entry.answers
        ]
    )


@st.composite
def reading(draw: st.DrawFn, most: int = 3) -> Action:
    """One to three readings that can be, in any unit that fits, under any of its names."""
    entry = draw(st.sampled_from(sorted(BOOK.measurements)))
    measurement = BOOK.measurements[entry]
    unit = draw(st.sampled_from(fitting_units(measurement.unit)))
    least, greatest = measurement.possible
    margin = (greatest - least) * 1e-9
    values = draw(st.lists(st.floats(least + margin, greatest - margin), min_size=1, max_size=most))
    turned = convert_step if measurement.unit == STEP else convert
    text = "; ".join(repr(turned(value, measurement.unit, unit)) for value in values)
    name = draw(st.sampled_from([entry, measurement.name, *measurement.also]))
    return "measure", (name, f"{text} {unit}"), {}


NAMED = st.sampled_from([("call_it", (name,), {}) for name in BOOK.defects])
UNSURE = st.sampled_from(
    [("unsure", (name,), {}) for name in (*BOOK.looks, *BOOK.checks, *BOOK.measurements)]
)
KINDS = st.one_of(
    st.sampled_from([("about", (), {"metal": name}) for name in BOOK.metals]),
    st.sampled_from([("about", (), {"process": name}) for name in BOOK.processes]),
    st.sampled_from(["8 mm", "12.7 mm", "1/3 in", "5 cm"]).map(
        lambda size: ("about", (), {"section": size})
    ),
)
NAME = st.text(max_size=60).map(lambda name: ("about", (), {"name": name}))
SAID = st.one_of(st.sampled_from(PHRASES), st.text(max_size=60)).map(
    lambda phrase: ("see", (phrase,), {})
)
FINDINGS = st.one_of(
    answered("looks", "answer"), answered("checks", "check"), reading(), NAMED, UNSURE
)
ACTIONS = st.lists(st.one_of(FINDINGS, FINDINGS, KINDS, NAME, SAID), max_size=10)


def act(worked: Session, actions: list[Action]) -> Session:
    """Do all of it; a reading that has no meaning is refused and changes nothing."""
    for method, given, named in actions:
        with suppress(Fault):
            getattr(worked, method)(*given, **named)
    return worked


def in_any_order(reject: Reject) -> list[Hearing]:
    """What was heard, in an order that does not tell which came first."""
    return sorted(reject.heard, key=lambda one: (one.kind, one.id, one.answer, one.words))


def everything_about(reject: Reject) -> set[str]:
    """Return every entry of which something was found or heard."""
    return {found.id for found in reject.found} | {one.id for one in reject.heard}


def by_kind(reject: Reject) -> list[Found]:
    """Findings in an order that does not tell which came first."""
    return sorted(reject.found, key=lambda found: (found.kind, found.id, repr(found)))
