"""Measure how long the program takes to start: ``python -m tests.bench.startup``.

Each command runs in a process of its own, in turn with a bare interpreter that does nothing, so
that a busy machine slows all of them alike; the times between screens and of ranking are taken
inside one process each round. Bytecode is kept between runs, as it is where the program was
installed. Everything is a median of ``RUNS`` rounds with a warm cache. The last line is JSON.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PHRASES = ROOT / "knowledge" / "worked" / "pump-body-07.yaml"
"""A reject with two phrases, which load the reader of words, and eleven exact findings."""
EXACT = """\
reject: pump-body-07
metal: grey iron
process: green sand
section: 10 mm
seen:
  - {look: cavity-wall, answer: smooth}
  - {look: beside-core, answer: at-a-core}
  - {look: cavity-trail, answer: trail-to-core}
  - {look: height-in-mould, answer: cope}
  - {look: vents-at-pour, answer: little-flame}
  - {look: runs-with, answer: one-core-batch}
checked:
  - {check: core-vent-open, answer: blocked}
  - {check: core-vent-made, answer: made}
  - {check: core-baked-through, answer: through}
measured:
  moulding sand moisture: 3.8 %
  core loss on re-baking: 0.3 %
unsure: [cavity-contents]
"""
"""The same reject (made up) with every finding exact."""
FIRST_SCREEN = """
import asyncio, os, time
from diagnose.session.shelf import shelf
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.opening import Opening

def opened():
    from diagnose.session.session import open_session
    return open_session()

async def work():
    app = DiagnoseApp(Opening(opened), shelf())
    async with app.run_test(size=(100, 30)):
        strips = app.screen._compositor.render_strips()
        assert any("a new reject" in "".join(part.text for part in strip) for strip in strips)
        print(time.perf_counter(), flush=True)
        os._exit(0)

asyncio.run(work())
"""
"""Up to the first screen."""
TEXTUAL = """
import os, time
import textual.app
print(time.perf_counter(), flush=True)
os._exit(0)
"""
INSIDE = """
import asyncio, json, sys, time
from diagnose.session.session import open_session
from diagnose.session.shelf import shelf
from diagnose.terminal.screens.app import DiagnoseApp

took = {}

async def work():
    app = DiagnoseApp(open_session(), shelf())
    async with app.run_test(size=(100, 30)) as pilot:
        async def step(name, do):
            begin, worked = time.perf_counter(), time.process_time()
            do()
            await pilot.pause()
            took[f"{name}_s"] = time.perf_counter() - begin
            took[f"{name}_processor_s"] = time.process_time() - worked

        await pilot.press("1")
        session = app.bench.session
        session.about("pump-body-07", "grey iron", "green sand", "10 mm")
        await step("job_to_seen", lambda: app.action_step("see"))
        await step("hearing_first", lambda: session.see("smooth flat hole over the core"))
        await step("seen_to_questions", lambda: app.action_step("ask"))
        await step("back_to_job", lambda: app.action_step("about"))

asyncio.run(work())

session = open_session()
session.about("pump-body-07", "grey iron", "green sand", "10 mm")
session.desk, session.causes()
rankings = []
for look, answer in (
    ("cavity-wall", "smooth"), ("beside-core", "at-a-core"), ("height-in-mould", "cope"),
    ("runs-with", "one-core-batch"),
):
    session.answer(look, answer)
    session.check("core-vent-open", "blocked")
    session.probabilities
    begin, worked = time.perf_counter(), time.process_time()
    session.prospects
    rankings.append((time.perf_counter() - begin, time.process_time() - worked))
took["ranking_first_s"], took["ranking_first_processor_s"] = rankings[0]
for name, taken in zip(("ranking_later_s", "ranking_later_processor_s"), zip(*rankings[1:])):
    took[name] = sorted(taken)[1]
print(json.dumps(took))
"""
"""Between screens, and ranking all open questions at the shipped size, in one process."""
RUNS = 15
BESIDE = {"first_screen_s": "textual_s"}
"""What a command is held beside, where that is not the bare interpreter."""


@dataclass(frozen=True, slots=True)
class Run:
    """One run of the interpreter: wall time, processor time, peak memory and what it printed."""

    wall_s: float
    processor_s: float
    peak_mb: float
    printed: str


def commands(home: Path) -> dict[str, list[str]]:
    """Return what is run, by name."""
    exact = home / "exact.yaml"
    exact.write_text(EXACT, encoding="utf-8")
    return {
        "bare_s": ["-c", "pass"],
        "version_s": ["-m", "diagnose", "--version"],
        "numpy_s": ["-c", "import numpy"],
        "reject_phrases_s": ["-m", "diagnose", "reject", str(PHRASES), "--json"],
        "reject_exact_s": ["-m", "diagnose", "reject", str(exact), "--json"],
        "textual_s": ["-c", TEXTUAL],
        "first_screen_s": ["-c", FIRST_SCREEN],
    }


def run(arguments: list[str], home: Path) -> Run:
    """Run the interpreter in a home of its own."""
    kept = {
        "DIAGNOSE_CACHE": str(home / "cache"),
        "DIAGNOSE_REJECTS": str(home / "rejects"),
        "PYTHONPYCACHEPREFIX": str(home / "bytecode"),
        "OPENBLAS_NUM_THREADS": "1",
    }
    given = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    out = home / "printed"
    with out.open("wb") as file:
        begin = time.perf_counter()
        child = subprocess.Popen(
            [sys.executable, *arguments], cwd=ROOT, env=given | kept, stdout=file
        )
        _, status, used = os.wait4(child.pid, 0)
        wall = time.perf_counter() - begin
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise SystemExit(f"{arguments} ended with {child.returncode}")
    printed = out.read_text(encoding="utf-8")
    if arguments[1] in (FIRST_SCREEN, TEXTUAL):  # until it says so; one clock for all processes
        wall = float(printed) - begin
    return Run(wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, printed)


def medians(runs: int = RUNS, names: Sequence[str] = ()) -> dict[str, float]:
    """Return the median of everything, once the cache is warm.

    ``names``: of commands, where not all are to be run; the rounds inside one process are left out.
    """
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        chosen = {name: c for name, c in commands(home).items() if not names or name in names}
        inside = [] if names else [["-c", INSIDE]]
        for arguments in (*chosen.values(), *inside):
            run(arguments, home)
        rounds, insides = [], []
        for _ in range(runs):
            rounds.append({name: run(given, home) for name, given in chosen.items()})
            insides += [json.loads(run(given, home).printed) for given in inside]
    found = {name: _median(one[name].wall_s for one in rounds) for name in chosen}
    for name in chosen:
        short = name.removesuffix("_s")
        found[f"{short}_processor_s"] = _median(one[name].processor_s for one in rounds)
        found[f"{short}_peak_mb"] = _median(one[name].peak_mb for one in rounds)
        against = BESIDE.get(name, "bare_s")
        if against in chosen:
            ratios = (one[name].wall_s / one[against].wall_s for one in rounds)
            found[f"{short}_ratio"] = _median(ratios)
    for name in insides[0] if insides else ():
        found[name] = _median(one[name] for one in insides)
    if "reject_phrases_s" in chosen:
        found["json_kb"] = len(rounds[0]["reject_phrases_s"].printed) / 1000
    return found


def _median(values: Iterable[float]) -> float:
    return statistics.median(values)


def main() -> None:
    """Print everything beside a bare interpreter, then the medians."""
    found = medians()
    print(f"{'':20}{'wall, ms':>10}{'processor':>11}{'peak, MB':>10}{'ratio':>8}")
    for name in [name for name in found if f"{name.removesuffix('_s')}_peak_mb" in found]:
        short = name.removesuffix("_s")
        beside = " beside import textual.app" if short == "first_screen" else ""
        print(
            f"{short:20}{1e3 * found[name]:10.0f}{1e3 * found[f'{short}_processor_s']:11.0f}"
            f"{found[f'{short}_peak_mb']:10.0f}{found[f'{short}_ratio']:8.1f}{beside}"
        )
    for name in (
        "job_to_seen", "hearing_first", "seen_to_questions", "back_to_job",
        "ranking_first", "ranking_later",
    ):  # fmt: skip
        wall, worked = found[f"{name}_s"], found[f"{name}_processor_s"]
        print(f"{name:20}{1e3 * wall:10.0f}{1e3 * worked:11.0f}")
    print(f"JSON of reject --json: {found['json_kb']:.0f} kB. Ratios: of each round, the median.")
    print(json.dumps({name: round(value, 4) for name, value in found.items()}))


if __name__ == "__main__":
    main()
