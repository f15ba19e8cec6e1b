"""Inputs of the sums as people type them: every unit, every table, everything that is wrong."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.shop.calculation import Calculation, Input, Value
from diagnose.shop.catalogue import calculations
from diagnose.shop.matters import MATTERS, by_matter
from diagnose.shop.work import (
    assumed,
    default_of,
    form,
    inputs_from,
    missing,
    named,
    value_of,
    work,
)
from tests.sums import typed, workable

CASES = list(workable())
IDS = [f"{each.name}-{number}" for number, (each, _) in enumerate(CASES)]
YIELD = calculations()["casting-yield"]
HOURS = Input("hours", "hours at each task", "h", 0, 24, table=True)
SIEVES = Input("retained", "what each sieve kept", "g or %", 0, 1000, table=True)


def number(unit: str, low: float = -1e9, high: float = 1e9) -> Input:
    return Input("reading", "some reading", unit, low, high)


# every sum of the catalogue


def test_every_sum_is_worked_here() -> None:
    assert {each.name for each, _ in CASES} == set(calculations())


@pytest.mark.parametrize(("each", "inputs"), CASES, ids=IDS)
def test_every_sum_gives_the_same_in_whatever_units_it_is_typed(
    each: Calculation, inputs: dict[str, Value]
) -> None:
    """Published inputs where there are any, turned into other units and typed."""
    expected = each.run(**inputs)
    for turn in range(4):
        given = inputs_from(each, typed(each, inputs, turn), whole=True)
        worked = work(each, given)
        assert worked.value == pytest.approx(expected.value, rel=1e-9, abs=1e-9)
        assert (worked.unit, worked.source) == (expected.unit, expected.source)


@pytest.mark.parametrize("each", calculations().values(), ids=lambda each: each.name)
def test_all_that_is_missing_is_said_with_its_range_and_how_to_write_it(each: Calculation) -> None:
    with pytest.raises(Fault) as fault:
        inputs_from(each, [], whole=True)
    told = [problem.what for problem in fault.value.problems]
    lacking = [one for one in each.inputs if one.default is None]
    assert len(told) == len(lacking)
    for one, line in zip(lacking, told, strict=True):
        assert line.startswith(
            f"{one.words} is missing: {one.what}, {one.range}. Write {one.name}="
        )
    assert missing(each, {}) == lacking
    assert len(assumed(each, {})) == len(each.inputs) - len(lacking)


@pytest.mark.parametrize("each", calculations().values(), ids=lambda each: each.name)
def test_every_input_refuses_what_is_no_reading(each: Calculation) -> None:
    for one in each.inputs:
        bad = ["", "?", "nan", "inf", "-inf", "1e999", "two", "1 furlong", "1; 2", "--5", "9" * 600]
        for text in [*bad, *(f"first:{text}" for text in bad)]:
            with pytest.raises(Fault) as fault:
                value_of(one, text)
            assert str(fault.value).startswith(one.words), (one.name, text)


# numbers and tables


@pytest.mark.parametrize(
    ("unit", "text", "value"),
    [
        ("mm", "2 in", 50.8),
        ("mm", '2"', 50.8),
        ("inch", "28 in", 28.0),
        ("inch", "711.2 mm", 28.0),
        ("kPa", "10 psi", 68.94757293168361),
        ("degC", "2550 F", 1398.888888888889),
        ("K", "90 degF", 50.0),
        ("K", "50 degC", 50.0),
        ("K", "50 K", 50.0),
        ("% points", "0.2 % points", 0.2),
        ("% points", "0.2%", 0.2),
        ("% points", "-0.1 % point", -0.1),
        ("", "1.5", 1.5),
        ("", "1,5", 1.5),
        ("g or %", "100", 100.0),
        ("g or %", "100 %", 100.0),
        ("g or %", "0.1 kg", 100.0),
        ("g or %", "1e2", 100.0),
        ("cm3", "2 l", 2000.0),
        ("cm³", "2 litres", 2000.0),
        ("Pa s", "0.005 Pa s", 0.005),
        ("s/mm2", "92 s/cm2", 0.92),
        ("ug/m3", "0.05 mg/m³", 50.0),
        ("kg/m3", "7.2 g/cm3", 7200.0),
    ],
)
def test_numbers_in_units_that_fit(unit: str, text: str, value: float) -> None:
    assert value_of(number(unit), text) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "table"),
    [
        ("mill:2,shakeout:3 h", {"mill": 2.0, "shakeout": 3.0}),
        ("mill:120,shakeout:180 min", {"mill": 2.0, "shakeout": 3.0}),
        ("mill:2 h, shakeout:180 min", {"mill": 2.0, "shakeout": 3.0}),
        ("mill: 1,5; shakeout: 2,25 h;", {"mill": 1.5, "shakeout": 2.25}),
        ("mill:1,5,shakeout:2 h", {"mill": 1.5, "shakeout": 2.0}),
        ("core shop: 2 h", {"core shop": 2.0}),
    ],
)
def test_one_unit_on_the_last_number_serves_all(text: str, table: dict[str, float]) -> None:
    assert value_of(HOURS, text) == table


@pytest.mark.parametrize("text", ["50:21.4,70:42.0", "50:21.4,70:42 g", "50:0.0214,70:0.042 kg"])
def test_sieves_in_grams_or_bare(text: str) -> None:
    assert value_of(SIEVES, text) == pytest.approx({"50": 21.4, "70": 42.0})


@pytest.mark.parametrize(
    ("wanted", "text", "says"),
    [
        (HOURS, "mill:2,shakeout:3", "hours: 2 has no unit. Say which: s or min or h or d."),
        (HOURS, "2 h", "hours: '2 h' is not of the form label:number, such as hours=first:..."),
        (HOURS, "mill: h", "hours: 'h' is not a number with a unit."),
        (HOURS, ":2 h", "hours: ':2 h' is not of the form label:number"),
        (HOURS, "mill:2,mill:3 h", "hours: 'mill' stands twice. Keep the right one."),
        (HOURS, "mill:2 kg", "hours: 'kg' does not fit time. It takes s or min or h or d."),
        (HOURS, "mill:1 and 2,x:3 h", "has more numbers than labels."),
        (HOURS, "mill:25 h", "hours, mill: 25 h cannot be used"),
        (SIEVES, "50:21.4 g,70:42 %", "retained: '21.4 g; 42 %' cannot be read. Give all of it"),
        (SIEVES, "50:21.4 mm", "Give all of it in g, or all in %."),
        (number("mm"), "4, 5 mm", "reading: '4, 5 mm' is more than one number. Give one."),
        (number(""), "85 %", "reading: '%' does not fit ratio. It is a plain number"),
        (number("% points"), "0.2", "reading: 0.2 has no unit. Say which: % or ppm."),
        (number("mm", 0, 10), "11 mm", "reading: 11 mm cannot be used (some reading); right would"),
        (number("mm", 0, 10), "-1 mm", "right would be from 0 to 10 mm."),
        (number("mm", 0, 10), "1e30 m", "right would be from 0 to 10 mm."),
        (Input("way", "way of moulding", "", choices=("hand", "machine")), "feet", "one of hand, "),
    ],
)
def test_what_cannot_be_read_says_what_would_be_right(wanted: Input, text: str, says: str) -> None:
    with pytest.raises(Fault) as fault:
        value_of(wanted, text)
    assert says in str(fault.value)


@pytest.mark.parametrize("text", ["high-pressure", "High Pressure", " HIGH_PRESSURE "])
def test_choices_in_any_spelling(text: str) -> None:
    way = Input("way", "way of moulding", "", choices=("hand", "high-pressure"))
    assert value_of(way, text) == "high-pressure"


@given(st.sampled_from([one for each in calculations().values() for one in each.inputs]), st.text())
def test_any_text_is_read_or_refused(one: Input, text: str) -> None:
    with suppress(Fault):
        assert not list(one.problems(value_of(one, text)))


# pairs


def test_everything_wrong_is_said_at_once() -> None:
    with pytest.raises(Fault) as fault:
        inputs_from(YIELD, ["castin=3kg", "casting=-3kg", "casting=4kg", "kg"], whole=True)
    assert [problem.what for problem in fault.value.problems] == [
        "casting-yield takes no 'castin'. Did you mean 'casting'?",
        "casting: -3 kg cannot be used (castings of one mould, fettled); right would be from 0.01 "
        "to 50000 kg.",
        "'casting' is given twice. Keep the right one.",
        "'kg' is not of the form name=value, such as height=50.8mm. Leave no space in it, or put "
        "it in quotes.",
        "poured is missing: all that was poured into it, from 0.01 to 50000 kg. Write "
        "poured=...kg.",
    ]


def test_what_was_given_wrongly_is_not_missing_as_well() -> None:
    with pytest.raises(Fault) as fault:
        inputs_from(YIELD, ["casting=3", "poured=5kg"], whole=True)
    assert len(fault.value.problems) == 1


@pytest.mark.parametrize("key", ["full_strength", "full-strength", "Full Strength "])
def test_names_in_any_spelling(key: str) -> None:
    mulling = calculations()["mulling-efficiency"]
    assert inputs_from(mulling, [f"{key}=100 kPa"]) == {"full_strength": 100.0}


def test_readings_that_do_not_go_together_are_a_fault() -> None:
    given = inputs_from(YIELD, ["casting=30kg", "poured=20kg"])
    with pytest.raises(Fault) as fault:
        work(YIELD, given)
    assert fault.value.problems


@pytest.mark.parametrize(
    ("one", "written"),
    [
        (Input("poured", "iron", "kg"), "poured=...kg"),
        (Input("gain", "gain", "% points"), 'gain="...% points"'),
        (Input("vents", "number", ""), "vents=..."),
        (Input("way", "way", "", choices=("hand", "machine")), "way=hand"),
        (SIEVES, "retained=first:...,second:..."),
        (HOURS, "hours=first:...,second:...h"),
    ],
)
def test_how_an_input_is_written(one: Input, written: str) -> None:
    assert form(one) == written


def test_defaults_in_words() -> None:
    assert default_of(Input("sample", "sand", "g", default=5)) == "5 g"
    assert default_of(Input("none", "nothing", "%", default=0)) == "0 %"
    assert default_of(Input("way", "way", "", choices=("net",), default="net")) == "net"


# names


@pytest.mark.parametrize("name", ["casting-yield", "Casting Yield", "casting_yield"])
def test_sums_by_name(name: str) -> None:
    assert named(name) is YIELD


@pytest.mark.parametrize(
    ("name", "near"),
    [("casting-yeild", "casting-yield"), ("yield", "casting-yield"), ("liqudus", "liquidus")],
)
def test_the_nearest_sum(name: str, near: str) -> None:
    with pytest.raises(Fault, match=f"Did you mean .*{near}"):
        named(name)


@pytest.mark.parametrize("name", ["qqqq", "", "=", "../x"])
def test_no_such_sum(name: str) -> None:
    with pytest.raises(Fault, match=r"There is no sum called .* 'diagnose work' lists them all"):
        named(name)


def test_every_sum_belongs_to_one_matter() -> None:
    modules = [module for of_it in MATTERS.values() for module in of_it]
    assert len(modules) == len(set(modules))
    listed = [each.name for sums in by_matter().values() for each in sums]
    assert sorted(listed) == list(calculations())
    used = {each.work.__module__.rpartition(".")[2] for each in calculations().values()}
    assert set(modules) == used
