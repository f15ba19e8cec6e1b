"""The list of sums in ``docs/work.md``: ``python -m tests.work_manual`` makes it anew."""

from __future__ import annotations

import shlex
from textwrap import wrap

from diagnose.shop.matters import by_matter
from diagnose.shop.workings import in_unit, inputs_in_words
from tests.conftest import ROOT

MANUAL = ROOT / "docs" / "work.md"
BEGIN = "<!-- The list below is made by python -m tests.work_manual. -->\n"
TIED = "\N{NO-BREAK SPACE}"


def renewed() -> str:
    """Return the manual with its list made anew."""
    return MANUAL.read_text(encoding="utf-8").partition(BEGIN)[0] + BEGIN + listed()


def listed() -> str:
    """Return every sum with what it takes, by matter."""
    lines = []
    for matter, sums in by_matter().items():
        lines += ["", f"### {matter.capitalize()}", ""]
        for each in sums:
            inputs = ", ".join(one.replace(" ", TIED) for one in inputs_in_words(each.inputs))
            text = f"- `{each.name}`: {in_unit(each.title, each.unit)}. Takes {inputs}."
            lines += wrap(text, 100, subsequent_indent="  ", break_on_hyphens=False)
    return "\n".join([*lines, ""]).replace(TIED, " ")


def examples(text: str) -> list[tuple[list[str], list[str]]]:
    """Return the commands of the manual, each with what it is said to print."""
    blocks = [block.partition("```")[0] for block in text.split("```text\n")[1:]]
    found = []
    for block in blocks:
        command, *printed = block.splitlines()
        assert command.startswith("$ diagnose ")
        found.append((shlex.split(command.removeprefix("$ diagnose ")), printed))
    return found


if __name__ == "__main__":
    MANUAL.write_text(renewed(), encoding="utf-8")
