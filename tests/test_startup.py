"""What is imported at start: time is spent on what a command needs and on nothing else.

How long it takes is measured by ``python -m tests.bench.startup``.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.startup import EXACT, PHRASES, medians
from tests.program import diagnose, python

IMPORTED = """
import sys
from diagnose.commands.main import main
try:
    main(sys.argv[1:])
except SystemExit as end:
    assert not end.code, end.code
print(*{name.partition(".")[0] for name in sys.modules}, file=sys.stderr)
"""


def imported(*arguments: str) -> set[str]:
    done = python("-c", IMPORTED, *arguments)
    assert done.returncode == 0, done.stderr
    return set(done.stderr.splitlines()[-1].split())


@pytest.fixture(scope="module")
def warm() -> None:
    """The rule base is in the cache."""
    assert diagnose("reject", str(PHRASES)).returncode == 0


def test_the_version_needs_next_to_nothing() -> None:
    modules = imported("--version")
    assert "click" in modules
    assert not modules & {"numpy", "yaml", "textual", "jinja2", "networkx", "rapidfuzz", "pydantic"}


@pytest.mark.parametrize("arguments", [(), ("--json",)], ids=["text", "json"])
def test_a_reject_needs_no_screen_and_no_heavy_library(
    warm: None, arguments: tuple[str, ...]
) -> None:
    modules = imported("reject", str(PHRASES), *arguments)
    assert {"numpy", "yaml", "diagnose"} <= modules
    assert not modules & {
        "asyncio", "networkx", "pandas", "pgmpy", "pydantic", "rapidfuzz", "scipy", "textual",
        "unittest", "duckdb", "ibis", "openpyxl", "pyarrow", "statsmodels", "weasyprint",
    }  # fmt: skip
    assert ("jinja2" in modules) == ("--json" not in arguments)


def test_the_cache_is_warm_after_the_first_run(warm: None, tmp_path: Path) -> None:
    """Cold, the rule base is checked by its schema, which takes pydantic."""
    cold = python("-c", IMPORTED, "reject", str(PHRASES), DIAGNOSE_CACHE=str(tmp_path / "cache"))
    assert "pydantic" in cold.stderr.splitlines()[-1].split()


def test_the_benchmark_measures_every_command() -> None:
    found = medians(runs=1, names=("bare_s", "version_s", "reject_exact_s"))
    assert 0 < found["bare_s"] < found["version_s"] < found["reject_exact_s"]
    assert 0 < found["bare_peak_mb"] <= found["reject_exact_peak_mb"]
    assert found["reject_exact_ratio"] > found["version_ratio"] > 1


def test_the_first_screen_waits_for_no_rule_base() -> None:
    """The rule base and numpy are read once the first screen stands."""
    code = "import sys; import diagnose.terminal.screens.app; print(*sys.modules)"
    modules = set(python("-c", code).stdout.split())
    assert "textual.app" in modules
    assert not modules & {"numpy", "yaml", "diagnose.rulebase.book", "diagnose.session.session"}


def test_a_reject_of_exact_answers_does_without_the_reader_of_words(
    warm: None, tmp_path: Path
) -> None:
    exact = tmp_path / "exact.yaml"
    exact.write_text(EXACT, encoding="utf-8")
    code = IMPORTED.replace('name.partition(".")[0]', "name")
    done = python("-c", code, "reject", str(exact), "--json")
    assert done.returncode == 0, done.stderr
    modules = set(done.stderr.splitlines()[-1].split())
    assert "diagnose.reasoning.reasons" in modules
    unwanted = {"diagnose.words.encoder", "diagnose.reasoning.layout", "numpy.random"}
    assert modules & unwanted == set()
