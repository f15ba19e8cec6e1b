"""Measure how long the program takes to start: ``python -m tests.bench.startup``.

Each command runs in a process of its own, in turn with a bare interpreter that does nothing, so
that a busy machine slows all of them alike. The last line is JSON: the medians in seconds.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
REJECT = ROOT / "knowledge" / "worked" / "cover-0412.yaml"
COMMANDS = {
    "version_s": ["-m", "diagnose", "--version"],
    "reject_s": ["-m", "diagnose", "reject", str(REJECT)],
    "bare_s": ["-c", "pass"],
}
RUNS = 15


def seconds(arguments: list[str], home: str) -> float:
    """Return the wall time of one run of the interpreter."""
    kept = {"DIAGNOSE_CACHE": f"{home}/cache", "DIAGNOSE_REJECTS": f"{home}/rejects"}
    begin = time.perf_counter()
    subprocess.run(
        [sys.executable, *arguments],
        cwd=ROOT, env=os.environ | kept, stdout=subprocess.DEVNULL, check=True,
    )  # fmt: skip
    return time.perf_counter() - begin


def medians(runs: int = RUNS) -> dict[str, float]:
    """Return the median wall time of every command, once the cache is warm."""
    with tempfile.TemporaryDirectory() as home:
        for arguments in COMMANDS.values():
            seconds(arguments, home)
        rounds = [
            {name: seconds(arguments, home) for name, arguments in COMMANDS.items()}
            for _ in range(runs)
        ]
    return {name: statistics.median(one[name] for one in rounds) for name in COMMANDS}


def main() -> None:
    """Print how much longer than a bare interpreter each command takes, then the medians."""
    found = medians()
    for name, arguments in COMMANDS.items():
        beside = found[name] - found["bare_s"]
        shown = " ".join(arguments).replace(f"{ROOT}/", "")
        print(f"{found[name]:.3f} s, {beside:+.3f} s beside a bare interpreter: {shown}")
    print(json.dumps({name: round(value, 4) for name, value in found.items()}))


if __name__ == "__main__":
    main()
