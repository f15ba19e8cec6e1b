"""``diagnose hear``: one object a phrase, one start for many phrases."""

from __future__ import annotations

import json
from typing import Any

import pytest
from click.testing import CliRunner

from diagnose.commands.main import main
from diagnose.rulebase.load import load
from tests.program import diagnose

KEYS = {"phrase", "taken", "likely", "ruled_out", "nearest", "called", "readings"}


def heard(*arguments: str, told: str | None = None) -> list[dict[str, Any]]:
    done = CliRunner().invoke(main, ["hear", "--json", *arguments], input=told)
    assert done.exit_code == 0, done.output
    return [json.loads(line) for line in done.output.splitlines()]


def test_a_phrase_is_taken_apart() -> None:
    (one,) = heard("jagged hole, next to the core")
    assert one.keys() == KEYS
    taken = {(m["id"], m["answer"]): m for m in one["taken"]}
    assert {("cavity-wall", "jagged"), ("beside-core", "at-a-core")} <= taken.keys()
    assert taken["beside-core", "at-a-core"]["words"] == "next to the core"
    assert all(0 < m["probability"] <= 1 for m in (*one["taken"], *one["likely"]))
    assert len(one["nearest"]) <= 5


def test_every_line_of_standard_input_is_a_phrase() -> None:
    found = heard(told="smooth holes\n\nburnt on\r\nno sand in the holes\n")
    assert [one["phrase"] for one in found] == ["smooth holes", "burnt on", "no sand in the holes"]
    assert {"id": "cavity-contents", "answer": "sand"}.items() <= found[2]["ruled_out"][0].items()


def test_readings_come_with_value_and_unit() -> None:
    (one,) = heard("blows in the cope, moisture 5.8 %")
    assert one["readings"] == [{"id": "sand-moisture", "value": 5.8, "unit": "%"}]


def test_names_of_faults_stand_by_themselves() -> None:
    (one,) = heard("misrun")
    assert [name["id"] for name in one["called"]] == ["misrun"]
    assert all(m["answer"] for m in one["taken"])


def test_metal_and_process_leave_out_what_the_job_cannot_have() -> None:
    book = load()
    only = [
        (name, answer.words[0])
        for name, look in book.looks.items()
        if look.scope and look.scope.metal and "grey iron" not in look.scope.metal
        for answer in look.answers.values()
        if answer.words
    ]
    phrases = [phrase for _, phrase in only]
    anywhere = heard(*phrases)
    here = heard(*phrases, "--metal", "grey iron", "--process", "green sand")

    def named(one: dict[str, Any]) -> set[str]:
        return {m["id"] for m in (*one["taken"], *one["likely"], *one["nearest"])}

    assert only
    assert sum(name in named(one) for (name, _), one in zip(only, anywhere, strict=True)) > 0
    assert not any(name in named(one) for (name, _), one in zip(only, here, strict=True))


def test_an_unknown_metal_is_a_fault() -> None:
    done = diagnose("hear", "--metal", "unobtainium", "hole")
    assert done.returncode == 1
    assert "unobtainium" in done.stderr


def test_lines_for_people_mark_how_sure_they_are() -> None:
    done = CliRunner().invoke(main, ["hear", "jagged hole, next to the core", "asdf qwer zxcv"])
    assert "+ heard" in done.output
    assert "- unknown" in done.output
    assert "nearest" in done.output


def test_a_season_of_scrap_tags_goes_in_at_one_start() -> None:
    """How long 2,000 take: ``python -m tests.bench.hearing``."""
    phrases = [f"smooth hole number {n} in the top face next to the core" for n in range(300)]
    found = heard(told="\n".join(phrases))
    assert [one["phrase"] for one in found] == phrases


@pytest.mark.parametrize("told", ["", "   \n\n"])
def test_nothing_said_is_nothing_heard(told: str) -> None:
    assert heard(told=told) == []
