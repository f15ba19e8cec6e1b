"""Imports run one way, downwards, and the engine can be used without anything around it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import ROOT
from tests.program import python

ENGINE = sorted(path.stem for path in (ROOT / "diagnose" / "engine").glob("[a-z]*.py"))


def test_the_contracts_of_the_layers_hold() -> None:
    """Those that ``lint-imports`` checks: see [tool.importlinter] in pyproject.toml."""
    linter = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [linter, "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout
    assert " 0 broken" in done.stdout


@pytest.mark.parametrize("start", ["diagnose.engine.posterior", "diagnose.engine.ask"])
def test_the_engine_reads_no_file_and_draws_no_screen(start: str) -> None:
    done = python("-c", f"import sys, {start}; print(*sys.modules)")
    modules = set(done.stdout.split())
    assert not modules & {"yaml", "textual", "click", "jinja2", "rapidfuzz", "diagnose.rulebase"}
    ours = {name for name in modules if name.startswith("diagnose.")}
    assert ours <= {"diagnose.engine", *(f"diagnose.engine.{name}" for name in ENGINE)}
