"""A rule file does not begin with the comment that tells editors its schema.

Passes: ``# yaml-language-server: $schema=../schema.json`` in a file one folder down.
Fails:  no such line, or one that points elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Place, Problem
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every file without the line."""
    for name, path in draft.files.items():
        depth = len(path.relative_to(draft.folder).parts) - 1
        wanted = f"# yaml-language-server: $schema={'../' * depth}schema.json"
        with path.open(encoding="utf-8-sig", errors="replace") as file:
            first = file.readline().rstrip()
        if first != wanted:
            what = "The first line must name the schema."
            yield Problem(Place(name, 1, 1), what, f"Write: {wanted}")
