"""How much to correct by: worked, rounded, with its doubt and in safe steps.

``amounts.yaml`` says for each figure where it comes from.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import product
from math import isclose
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from diagnose.notes.amounts import amounts, figured_of, in_a_sentence, known_values
from diagnose.notes.rounding import weighable
from diagnose.reasoning.derived import Known
from diagnose.rulebase.book import Action, Amount, Book
from diagnose.rulebase.load import load
from diagnose.session.session import Session

ROWS: list[dict[str, Any]] = yaml.safe_load(
    (Path(__file__).parent / "amounts.yaml").read_text(encoding="utf-8")
)


@pytest.fixture(scope="module")
def book() -> Book:
    return load()


def worked(start: Callable[..., Session], row: dict[str, Any]) -> Session:
    session = start()
    job = {key: row[key] for key in ("metal", "process", "section") if key in row}
    session.about(**job)
    for name, text in row["readings"].items():
        session.measure(name, text)
    return session


@pytest.mark.parametrize("row", ROWS, ids=[f"{r['action']}-{k}" for k, r in enumerate(ROWS)])
def test_the_amount_is_the_one_that_was_published_or_is_practice(
    start: Callable[..., Session], row: dict[str, Any]
) -> None:
    session = worked(start, row)
    told = [*amounts(session, session.book.actions[row["action"]])][row.get("number", 0) :]
    if row.get("number") and not told:  # the first could not be worked, so the second stands first
        told = [*amounts(session, session.book.actions[row["action"]])]
    assert re.search(rf"(?<![\d.]){re.escape(row['says'])}(?!\w)", told[0])
    assert ("not at once" in told[0]) == ("steps" in row)
    assert row.get("steps", "") in told[0]
    assert row["source"]
    assert isinstance(row["read"], bool)


def test_many_actions_work_an_amount_out(book: Book) -> None:
    """At least forty-five, and each with where its rule comes from."""
    told = [action for action in book.actions.values() if action.worked]
    assert len(told) >= 45
    for action in told:
        assert all(amount.source for amount in action.worked)
        assert not action.worked[0].otherwise
    checked = {row["action"] for row in ROWS}
    assert checked <= {name for name, action in book.actions.items() if action.worked}
    assert len(checked) >= 34


def test_a_safety_rule_stands_beside_each_amount_that_can_hurt(book: Book) -> None:
    for action in book.actions.values():
        for amount in action.worked:
            assert bool(amount.care) or not action.caution


def test_no_reading_no_amount(session: Session) -> None:
    for action in session.book.actions.values():
        assert [*amounts(session, action)] == []


def test_a_reading_on_the_other_side_asks_for_nothing(session: Session) -> None:
    session.about(section=20)
    for name, text in (
        ("sand-moisture", "3.9 %"), ("sand-live-clay", "9 %"), ("pouring-temperature", "1500 degC"),
        ("weight-over-lift", "2"), ("residual-magnesium", "0.06 %"), ("base-sulphur", "0.01 %"),
        ("riser-modulus-ratio", "1.3"),
    ):  # fmt: skip
        session.measure(name, text)
    for name in ("add-live-clay", "tap-hotter", "weight-by-the-sum", "enlarge-riser"):
        assert [*amounts(session, session.book.actions[name])] == []
    (cut,) = amounts(session, session.book.actions["cut-the-treatment"])
    assert "0.75 times" in cut


def test_the_doubt_of_the_readings_is_carried_through(start: Callable[..., Session]) -> None:
    """Two readings of one sand are surer than one."""
    widths = []
    for text in ("5.2 %", "5.2, 5.2, 5.2, 5.2 %"):
        session = start()
        session.measure("sand-live-clay", text)
        session.measure("sand-moisture", "4 %")
        (told,) = amounts(session, session.book.actions["add-live-clay"])
        low, high = re.findall(r"between ([\d.]+) and ([\d.]+) kg", told)[0]
        assert float(low) < 1.9 < float(high)
        widths.append(float(high) - float(low))
    assert widths[1] < 0.7 * widths[0]


def test_more_than_does_good_is_not_advised(session: Session) -> None:
    session.about(section=5)
    for name, text in (("tapping-temperature", "1410 degC"), ("tap-to-pour", "6 min")):
        session.measure(name, text)
    (told,) = amounts(session, session.book.actions["tap-hotter"])
    assert "more than 1500 degC does harm" in told
    assert "tap at" not in told


def test_what_is_not_to_be_overdone_is_named(session: Session) -> None:
    """0.9 kg of what? Ferrosilicon takes more than does good to make up half a per cent."""
    session.about(metal="grey iron", section=7)
    for name, text in (("carbon", "3.15 %"), ("silicon", "1.75 %"), ("phosphorus", "0.08 %")):
        session.measure(name, text)
    _, silicon = amounts(session, session.book.actions["raise-carbon-equivalent"])
    assert "2.2 kg of 75 % ferrosilicon" in silicon
    assert "more than 0.9 kg does harm" in silicon


def test_the_second_way_stands_in_for_the_first(session: Session) -> None:
    session.measure("weight-over-lift", "0.8")
    (ratio,) = amounts(session, session.book.actions["weight-by-the-sum"])
    assert "1.9 times" in ratio
    session.measure("mould-face-area", "2000 cm2")
    session.measure("sprue-head", "260 mm")
    (by_sum,) = amounts(session, session.book.actions["weight-by-the-sum"])
    assert "560 kg" in by_sum


def test_hazards_are_said_once(session: Session) -> None:
    session.about(section=7)
    session.measure("carbon-equivalent", "3.7 %")
    for told in amounts(session, session.book.actions["raise-carbon-equivalent"]):
        assert told.count("Safety: ") == 1
        assert "Mind: " not in told


@given(st.floats(0.02, 5e4), st.sampled_from([0.005, 0.01, 0.05, 0.1, 0.5, 1.0, 5.0]))
def test_rounding_keeps_two_figures_and_what_can_be_weighed(value: float, least: float) -> None:
    rounded = weighable(value, least)
    assert isclose(rounded / least, round(rounded / least), abs_tol=1e-4)
    assert abs(rounded - value) <= max(0.5 * least, 0.051 * value) * 1.0001


@given(st.floats(0.05, 40.0), st.sampled_from([0.3, 0.5, 1.0, 2.5]))
def test_no_step_is_more_than_is_safe_and_they_add_up(value: float, at_once: float) -> None:
    from diagnose.notes.amounts import Figured

    wanted = Amount(
        say="{amount} of it", least=0.1, source=("ours",), at_once=at_once, rounds="batches"
    )
    told = in_a_sentence(wanted, Figured(value, 0.0, "kg", "by hand"))
    amount = weighable(value, 0.1)
    steps = re.search(r"in (\d+) batches of ([\d.]+) kg", told)
    if steps is None:
        assert amount <= at_once * 1.0001
        return
    count, each = int(steps[1]), float(steps[2])
    assert each <= at_once
    assert count * each == pytest.approx(amount, rel=0.06)


def test_every_amount_says_something_for_some_reading(book: Book, first: Session) -> None:
    """Sweep each reading over what is possible: every amount is worked for some of it."""
    for name, action in book.actions.items():
        for number, amount in enumerate(action.worked):
            assert any(_told(first, action, amount)), (name, number)


SPOTS = (0.0005, 0.01, 0.06, 0.25, 0.64)
"""Where readings are put in what is possible, as shares of it."""


def _told(first: Session, action: Action, amount: Amount) -> Iterator[bool]:
    entries = sorted({*amount.takes.values(), *([amount.change] if amount.change else [])})
    for metal in ("grey iron", "ductile iron", "steel", "copper alloy", "aluminium"):
        session = first.another()
        session.about(metal=metal, section=15)
        known = known_values(session)
        choices = [_values(session, entry) for entry in entries]
        for values in product(*choices):
            known |= {n: Known(v, 0.0) for n, v in zip(entries, values, strict=True)}
            figured = figured_of(session, amount, known)
            yield figured is not None and in_a_sentence(amount, figured) != ""


def _values(session: Session, entry: str) -> list[float]:
    """Return values just outside the window, and others spread over what is possible."""
    measurement = session.book.measurements[entry]
    window = session.desk.window(measurement)
    least, most = measurement.possible
    ends = [] if window is None else [window.low, window.high]
    near = [end * by for end, by in zip(ends, (0.85, 1.25), strict=False) if end is not None]
    return near + [least + spot * (most - least) for spot in SPOTS]
