"""Find the knowledge folder and the rule files in it."""

from __future__ import annotations

import os
from pathlib import Path

from diagnose.basics.errors import Fault, Place, Problem

WORKED, SAID = "worked", "said"
"""Folders of worked rejects and of what people say; they are no rules."""


def knowledge_folder(given: Path | str | None = None) -> Path:
    """Return the folder of the rule base.

    The first of these that is set: ``given`` (the command line), the environment variable
    DIAGNOSE_KNOWLEDGE, the folder installed with the program, the one of a checkout.
    Raises Fault where it does not exist.
    """
    chosen = given or os.environ.get("DIAGNOSE_KNOWLEDGE")
    if chosen:
        folder = Path(chosen)
        if not folder.is_dir():
            way_out = "Name a folder of rule files after --knowledge or in DIAGNOSE_KNOWLEDGE."
            raise Fault(Problem(Place(str(folder)), "There is no such folder.", way_out))
        return folder
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "knowledge", package.parent / "knowledge"):
        if folder.is_dir():
            return folder
    raise Fault(Problem(Place(), "The rule base is missing.", "Install the program again."))


def rule_files(folder: Path) -> list[Path]:
    """Return the rule files of a folder and the folders in it, sorted by their names in it.

    Worked rejects and hidden files are left out. Raises Fault where there is none.
    """
    found: list[tuple[str, Path]] = []
    for parent, folders, files in os.walk(folder):
        hidden = [name for name in folders if name.startswith(".") or name in (WORKED, SAID)]
        folders[:] = [name for name in folders if name not in hidden]
        for name in files:
            if name.endswith((".yaml", ".yml")) and not name.startswith("."):
                path = Path(parent, name)
                found.append((path.relative_to(folder).as_posix(), path))
    if not found:
        way_out = "Name the folder that holds scale.yaml."
        raise Fault(Problem(Place(str(folder)), "There is no rule file here.", way_out))
    return [path for _, path in sorted(found)]
