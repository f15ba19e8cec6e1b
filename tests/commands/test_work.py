"""``diagnose work``: what it prints, what it asks, and the exit status."""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys
from typing import Any

import pytest
from click.testing import CliRunner, Result

from diagnose.commands.main import main
from diagnose.shop.calculation import Calculation, Value
from diagnose.shop.catalogue import calculations
from diagnose.shop.matters import MATTERS, by_matter
from tests import work_manual
from tests.conftest import ROOT
from tests.program import diagnose
from tests.sums import typed, workable

CASES = {each.name: (each, inputs) for each, inputs in workable()}


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["work", *words])


def faults(*words: str) -> list[str]:
    """What is printed where a sum cannot be worked."""
    done = diagnose("work", *words)
    assert done.returncode == 1
    assert done.stdout == ""
    assert "Traceback" not in done.stderr
    return done.stderr.splitlines()


# one sum


def test_elements_go_by_their_chemical_symbols() -> None:
    """3.4 + (2 + 0.1) / 3 = 4.1, a common form of the carbon equivalent."""
    short = run("carbon-equivalent", "c=3.4%", "Si=2.0%", "p=0.1%")
    long = run("carbon-equivalent", "carbon=3.4%", "silicon=2.0%", "phosphorus=0.1%")
    assert (short.exit_code, short.output) == (0, long.output)
    assert short.output.startswith("Carbon equivalent: 4.1 %")


def test_a_symbol_of_an_element_that_a_sum_does_not_take_is_told() -> None:
    (told, *_) = faults("carbon-equivalent", "mn=0.6%", "c=3.4%", "si=2%")
    assert told.startswith("carbon-equivalent takes no 'mn'.")


def test_a_sum_with_its_working_and_its_source() -> None:
    """50 g of sand that weigh 48.35 g when dry hold 3.3 % water: 1.65 / 50."""
    result = run("moisture", "moist=50g", "dry=0.04835 kg")
    assert result.exit_code == 0
    lines = result.output.splitlines()
    assert lines[:4] == [
        "Moisture of sand: 3.3 %",
        "  moisture = water / moist sand x 100",
        "  = (50 - 48.35) / 50 x 100",
        "  = 3.3 %",
    ]
    assert any(line.startswith("  Source: ") for line in lines)
    assert any(line.startswith("  Mind: ") for line in lines)


@pytest.mark.parametrize(("each", "inputs"), CASES.values(), ids=CASES)
def test_every_sum_can_be_worked_from_the_command_line(
    each: Calculation, inputs: dict[str, Value]
) -> None:
    expected = each.run(**inputs)
    pairs = typed(each, inputs, 1)
    shown = run(each.name, *pairs)
    assert shown.exit_code == 0, shown.output
    assert shown.output.startswith(each.title)
    assert max(map(len, shown.output.splitlines())) <= 80
    data = json.loads(run(each.name, "--json", *pairs).output)
    assert list(data) == ["value", "unit", "working", "source", "warnings"]
    assert data["value"] == pytest.approx(expected.value, rel=1e-9, abs=1e-9)
    assert (data["unit"], data["source"]) == (expected.unit, expected.source)
    assert data["warnings"] == list(expected.warnings)
    assert data["working"]


def test_what_was_taken_for_granted_is_said() -> None:
    output = run("liquidus", "carbon=3.4%", "silicon=2%").output
    assert "  Not given, so taken: phosphorus 0 % (" in output
    assert "Not given, so taken: carbon" not in output


@pytest.mark.parametrize(
    "words",
    [
        ("casting", "yield", "casting=12kg", "poured=20kg"),
        ("Casting-Yield", "CASTING=12 kg", "poured=20kg"),
        ("casting-yield", "casting=26.455471462 lb", "poured=20000g"),
    ],
)
def test_ways_to_type_it(words: tuple[str, ...]) -> None:
    assert json.loads(run(*words, "--json").output)["value"] == pytest.approx(60.0)


def test_one_unit_for_a_whole_table() -> None:
    """Eight hours count: (40 x 2 + 120 x 3) / 8 = 55 micrograms."""
    output = run("silica-exposure", "levels=mill:40,x:120 ug/m3", "hours=mill:2,x:3 h").output
    assert output.startswith("Respirable silica over a shift: 55 ug/m3\n")


# what is wrong


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["casting-yield"], [
            "casting is missing: castings of one mould, fettled, from 0.01 to 50000 kg. Write "
            "casting=...kg.",
            "poured is missing: all that was poured into it, from 0.01 to 50000 kg. Write "
            "poured=...kg.",
        ]),
        (["casting-yield", "casting=12kg", "poured=nan kg"], [
            "poured: 'nan kg' is not a number with a unit. Write it like this: 12 kg.",
        ]),
        (["casting-yield", "casting=12mm", "poured=1e400 kg"], [
            "casting: 'mm' does not fit mass. It takes kg or g or lb.",
            "poured: inf is not a reading. Write it like this: 12 kg.",
        ]),
        (["casting-yield", "casting=-12kg", "poured=12000000kg"], [
            "casting: -12 kg cannot be used (castings of one mould, fettled); right would be from "
            "0.01 to 50000 kg.",
            "poured: 12000000 kg cannot be used (all that was poured into it); right would be from "
            "0.01 to 50000 kg.",
        ]),
        (["casting-yield", "casting=1kg", "casting=1kg", "poured=2kg"], [
            "'casting' is given twice. Keep the right one.",
        ]),
        (["casting-yeild", "casting=1kg"], [
            "There is no sum called 'casting-yeild'. Did you mean casting-yield? 'diagnose work' "
            "lists them all.",
        ]),
        (["moist=50g"], [
            "Name the sum before its values: diagnose work moisture moist=50g dry=48.3g.",
        ]),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_in_lines_and_nothing_is_worked(
    words: list[str], told: list[str]
) -> None:
    assert faults(*words) == told


def test_a_matter_has_no_values() -> None:
    (line,) = faults("sand", "moist=50g")
    assert line.startswith("There is no sum called 'sand'. Did you mean ")


def test_for_machines_a_fault_is_a_fault_too() -> None:
    assert len(faults("casting-yield", "--json")) == 2


# asking on a terminal


def on_a_terminal(words: list[str], typed_in: str) -> tuple[str, int]:
    """Run it with a terminal as standard input; return what it printed, and the exit status."""
    master, slave = pty.openpty()
    os.write(master, typed_in.encode())
    program = subprocess.run(
        [sys.executable, "-m", "diagnose", "work", *words],
        stdin=slave, capture_output=True, text=True, cwd=ROOT, timeout=60, check=False,
    )  # fmt: skip
    os.close(slave)
    os.close(master)
    return program.stdout + program.stderr, program.returncode


def test_what_is_missing_is_asked_for_until_it_can_be_used() -> None:
    printed, status = on_a_terminal(
        ["casting-yield", "casting=12kg"], "20\nmuch kg\n-3 kg\n20 kg\n"
    )
    assert status == 0
    assert printed.startswith("Yield of a mould: 60 %\n")
    assert "poured (all that was poured into it), from 0.01 to 50000 kg: " in printed
    assert "poured: 20 has no unit." in printed
    assert "poured: 'much kg' is not a number with a unit." in printed
    assert "poured: -3 kg cannot be used" in printed
    assert printed.count("all that was poured into it), from") == 4


def test_a_table_is_asked_for_with_its_form() -> None:
    printed, status = on_a_terminal(["silica-exposure", "levels=mill:40ug/m3"], "2 h\nmill:2 h\n")
    assert status == 0
    assert "from 0 to 24 h, such as first:...,second:...h: " in printed
    assert "Respirable silica over a shift: 10 ug/m3" in printed


def test_what_was_typed_wrongly_is_said_before_anything_is_asked() -> None:
    printed, status = on_a_terminal(["casting-yield", "casting=12mm"], "20 kg\n")
    assert status == 1
    assert printed == "casting: 'mm' does not fit mass. It takes kg or g or lb.\n"


def test_the_end_of_input_ends_the_asking() -> None:
    printed, status = on_a_terminal(["casting-yield", "casting=12kg"], "\x04")
    assert status == 1
    assert "Aborted!" in printed
    assert "Traceback" not in printed


def test_for_machines_nothing_is_asked() -> None:
    printed, status = on_a_terminal(["casting-yield", "casting=12kg", "--json"], "20 kg\n")
    assert (printed.split(":")[0], status) == ("poured is missing", 1)


# the list


def test_all_sums_are_listed_by_matter_within_eighty_columns() -> None:
    result = run()
    assert result.exit_code == 0
    lines = result.output.splitlines()
    assert max(map(len, lines)) <= 80
    headings = [line for line in lines if line.isupper() and not line.startswith(" ")]
    assert headings == [matter.upper() for matter in MATTERS]
    for each in calculations().values():
        assert sum(line.startswith(f"  {each.name}: ") for line in lines) == 1
    assert "    moist [g], dry [g]" in lines
    assert "    burette [ml], bentonite [g] = 0.5, calibration [ml], sample [g] = 5" in lines


@pytest.mark.parametrize(("name", "matter"), [("sand", "sand"), ("Moulds", "cores and moulds")])
def test_the_sums_of_one_matter(name: str, matter: str) -> None:
    lines = run(name).output.splitlines()
    listed = [line.strip().partition(":")[0] for line in lines if line[:3].strip() and ":" in line]
    assert listed == [each.name for each in by_matter()[matter]]


def test_the_list_for_machines() -> None:
    data: list[dict[str, Any]] = json.loads(run("--json").output)
    assert sorted(each["name"] for each in data) == list(calculations())
    for each in data:
        calculation = calculations()[each["name"]]
        assert (each["title"], each["unit"]) == (calculation.title, calculation.unit)
        assert [one["name"] for one in each["inputs"]] == [one.name for one in calculation.inputs]
        assert each["matter"] in MATTERS
        assert each["source"]


def test_the_list_in_the_manual_is_the_list_of_the_program() -> None:
    """Where it is not: ``python -m tests.work_manual``."""
    assert work_manual.renewed() == work_manual.MANUAL.read_text(encoding="utf-8")


def test_the_examples_of_the_manual() -> None:
    text = work_manual.MANUAL.read_text(encoding="utf-8")
    examples = work_manual.examples(text)
    assert len(examples) >= 3
    for command, printed in examples:
        done = CliRunner().invoke(main, command)
        assert done.exit_code == 0, done.output
        assert done.output.splitlines() == printed
