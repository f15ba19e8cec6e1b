"""How figures and findings are put into words: the same on the screens and line by line."""

from __future__ import annotations

import re

from diagnose.basics.quantity import unit_shown
from diagnose.notes.wording import one_line, readings
from diagnose.reasoning.readings import OWN, Reading, is_own
from diagnose.rulebase.book import Window
from diagnose.shop.calculation import figure


def bar(share: float, width: int) -> str:
    """Return a probability as a bar of ``width`` characters; anything above nought shows.

    >>> bar(0.5, 8), bar(0.001, 8), bar(0.5, 0)
    ('####....', '#.......', '')
    """
    filled = round(share * width)
    if share > 0:
        filled = max(filled, min(1, width))
    return "#" * filled + "." * (width - filled)


def window(low: float | None, high: float | None, unit: str) -> str:
    """Return a target window in words.

    >>> window(3.0, 4.0, "%"), window(None, 2.5, "%"), window(80, None, "AFS")
    ('3 to 4 %', 'up to 2.5 %', '80 AFS or more')
    """
    shown = unit_shown(unit)
    if low is None:
        return "no window" if high is None else f"up to {high:g} {shown}".rstrip()
    if high is None:
        return f"{low:g} {shown}".rstrip() + " or more"
    return f"{low:g} to {high:g} {shown}".rstrip()


def aim(held: Window | None, unit: str) -> str:
    """Return the window that holds for a job in words, and whether the shop set it itself."""
    low, high = (held.low, held.high) if held else (None, None)
    return window(low, high, unit) + (f", {OWN}" if is_own(held) else "")


def stand(value: float, low: float | None, high: float | None, width: int = 24) -> str:
    """Draw where a value stands: ``[===]`` is the window, ``*`` the value, ``<`` ``>`` off the end.

    The window takes the middle half of the bar. An open end of the window runs off the bar.

    >>> stand(4.5, 3.0, 4.0), stand(9.0, 3.0, 4.0, 16)
    ('......[==========]....*.', '....[======]...>')
    """
    if low is None and high is None:
        return "." * width
    left, right = width // 4, width - width // 4 - 1
    span = (high - low) if low is not None and high is not None else abs(high or low or 1.0) / 2
    floor = low if low is not None else (high or 0.0) - span
    at = left + (value - floor) / (span or 1.0) * (right - left)
    cells = ["."] * width
    first = left if low is not None else 0
    last = right if high is not None else width - 1
    cells[first : last + 1] = ["="] * (last - first + 1)
    if low is not None:
        cells[left] = "["
    if high is not None:
        cells[right] = "]"
    spot = min(max(round(at), 0), width - 1)
    cells[spot] = "<" if at < -0.5 else ">" if at > width - 0.5 else "*"
    return "".join(cells)


def reading_in_words(reading: Reading) -> str:
    """Return a reading with how it stands, and whether it was worked out from others."""
    if reading.working:
        value = f"{figure(reading.values[0])} {unit_shown(reading.unit)}".strip()
        return f"{value}, {reading.words}, worked out"
    return f"{readings(reading.values, reading.unit)}, {reading.words}"


def quoted(words: str) -> str:
    """Return a person's own words in quotation marks, on one line; empty without any."""
    return f'"{one_line(words)}"' if words else ""


def name_and_value(text: str) -> tuple[str, str]:
    """Part a name from the figure after it; the name is empty where only a figure stands.

    >>> name_and_value("pouring temperature: 1310 degC"), name_and_value("4.6 %")
    (('pouring temperature', '1310 degC'), ('', '4.6 %'))
    """
    found = re.fullmatch(r"\s*([^\W\d][^:=]*?)\s*[:=]?\s*([-+.,\u2212]?\d.*)", text)
    return (found[1], found[2]) if found else ("", text)
