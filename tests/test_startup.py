"""What is imported at start: time is spent on what a command needs and on nothing else.

How long it takes is measured by ``python -m tests.bench.startup``.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.startup import COMMANDS, REJECT, medians
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
    assert diagnose("reject", str(REJECT)).returncode == 0


def test_the_version_needs_next_to_nothing() -> None:
    modules = imported("--version")
    assert "click" in modules
    assert not modules & {"numpy", "yaml", "textual", "jinja2", "networkx", "rapidfuzz", "pydantic"}


@pytest.mark.parametrize("arguments", [(), ("--json",)], ids=["text", "json"])
def test_a_reject_needs_no_screen_and_no_heavy_library(
    warm: None, arguments: tuple[str, ...]
) -> None:
    modules = imported("reject", str(REJECT), *arguments)
    assert {"numpy", "yaml", "diagnose"} <= modules
    assert not modules & {
        "asyncio", "networkx", "pandas", "pgmpy", "pydantic", "scipy", "textual", "unittest",
        "duckdb", "ibis", "openpyxl", "pyarrow", "statsmodels", "weasyprint",
    }  # fmt: skip
    assert ("jinja2" in modules) == ("--json" not in arguments)


def test_the_cache_is_warm_after_the_first_run(warm: None, tmp_path: Path) -> None:
    """Cold, the rule base is checked by its schema, which takes pydantic."""
    cold = python("-c", IMPORTED, "reject", str(REJECT), DIAGNOSE_CACHE=str(tmp_path / "cache"))
    assert "pydantic" in cold.stderr.splitlines()[-1].split()


def test_the_benchmark_measures_every_command() -> None:
    found = medians(runs=1)
    assert found.keys() == COMMANDS.keys()
    assert 0 < found["bare_s"] < found["reject_s"]
