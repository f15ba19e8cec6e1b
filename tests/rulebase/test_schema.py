from __future__ import annotations

import json
from pathlib import Path

import pytest

from diagnose.rulebase import schema

KNOWLEDGE = Path(__file__).parents[2] / "knowledge"


def test_the_written_schema_is_that_of_the_classes() -> None:
    """If this fails: python -m diagnose.rulebase.schema"""
    written = json.loads((KNOWLEDGE / schema.NAME).read_text(encoding="utf-8"))
    assert written == schema.schema()


def test_the_schema_is_written_beside_the_rules(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DIAGNOSE_KNOWLEDGE", str(tmp_path))
    schema.main()
    assert (tmp_path / "schema.json").read_text(encoding="utf-8") == schema.text()


def test_a_file_may_hold_any_sections_and_no_others() -> None:
    made = schema.schema()
    assert "required" not in made
    assert made["additionalProperties"] is False
    assert {"scale", "conditions", "looks"} <= made["properties"].keys()


def test_keys_are_spelt_as_in_yaml() -> None:
    for name, part in schema.schema()["$defs"].items():
        assert not [key for key in part["properties"] if "_" in key], name
