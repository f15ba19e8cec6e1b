"""Run the program as its users do: in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.conftest import ROOT

Done = subprocess.CompletedProcess[str]


def python(
    *arguments: str,
    stdin: str | bytes = "",
    cwd: Path = ROOT,
    paths: str | Path = ROOT,
    **environment: str | None,
) -> Done:
    """Run the interpreter; a variable of the environment that is None is left out."""
    given = os.environ | {"PYTHONPATH": str(paths)} | environment
    done = subprocess.run(
        [sys.executable, *arguments],
        input=stdin.encode() if isinstance(stdin, str) else stdin,
        capture_output=True,
        cwd=cwd,
        env={name: value for name, value in given.items() if value is not None},
        timeout=60,
        check=False,
    )
    shown = (done.stdout.decode("utf-8", "replace"), done.stderr.decode("utf-8", "replace"))
    return Done(done.args, done.returncode, *shown)


def diagnose(*arguments: str, stdin: str | bytes = "", **environment: str | None) -> Done:
    """Run ``diagnose`` with some arguments."""
    return python("-m", "diagnose", *arguments, stdin=stdin, **environment)
