"""What a reject is called and how thick it is, as people write it."""

from __future__ import annotations

import re

from diagnose.basics.errors import Fault
from diagnose.basics.quantity import read_quantity
from diagnose.reject.reject import one_line

LONGEST_NAME = 100
"""Characters of a reject's name; it has to fit on a screen and into the name of a file."""


_FRACTION = re.compile(r"([0-9]{1,6})/([0-9]{1,6})")
"""Two whole numbers; nobody writes longer ones."""


def name_of(text: str) -> str:
    """Return the name of a reject on one line; raise Fault where it is too long for one."""
    name = one_line(text)
    if len(name) > LONGEST_NAME:
        raise Fault(
            f"The name “{name[:20]}...” has {len(name)} characters. "
            f"Give the reject one of at most {LONGEST_NAME}."
        )
    return name


def section_of(section: str | float) -> float:
    """Return a ruling section in mm; raise Fault where it cannot be one.

    >>> section_of("1/2 in"), section_of("8 mm")
    (12.7, 8.0)
    """
    if not isinstance(section, str):
        value = float(section)
    else:
        halves = section.strip().split(" ", 1)
        parts = _FRACTION.fullmatch(halves[0])
        if parts and int(parts[2]):
            section = f"{int(parts[1]) / int(parts[2])} {halves[1] if len(halves) > 1 else ''}"
        value, *more = read_quantity(section, "mm", "section")
        if more:
            raise Fault("A reject has one ruling section. Give the one where the fault is.")
    if not 1.0 <= value <= 1000.0:
        raise Fault(f"A ruling section of {value:g} mm cannot be; it lies between 1 and 1000 mm.")
    return value
