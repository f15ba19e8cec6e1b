"""Two entries go by the same name, so that nobody could tell which is meant.

Passes: two measurements with names and other names all different.
Fails:  ``also: [moisture]`` under two measurements. Capital letters do not count. Names are
compared within conditions, within defects and within measurements.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every name that another entry has."""
    for section in ("conditions", "defects", "measurements"):
        owner: dict[str, str] = {}
        for entry, steps, name in _names(draft, section):
            folded = name.casefold()
            if owner.setdefault(folded, entry) != entry:
                what = f"{name!r} is also a name of {owner[folded]!r}."
                yield draft.problem(steps, what, "Take it from one of the two.")


def _names(draft: Draft, section: str) -> Iterator[tuple[str, Steps, str]]:
    for entry, detail in getattr(draft.book, section).items():
        yield entry, (section, entry, "name"), detail.name
        for number, name in enumerate(detail.also):
            yield entry, (section, entry, "also", number), name
