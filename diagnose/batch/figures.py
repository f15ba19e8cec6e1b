"""How the figures of a batch are put into words: counts, shares, intervals, chances, days."""

from __future__ import annotations

from datetime import date

BLANK = "not known"


def number(value: float) -> str:
    """Return a count without a needless decimal; a part of a casting keeps one.

    >>> number(199.0), number(104.5), number(12345.0)
    ('199', '104.5', '12345')
    """
    rounded = round(value, 1)
    return f"{rounded:.0f}" if rounded == int(rounded) else f"{rounded:.1f}"


def percent(share: float, *, sign: bool = True) -> str:
    """Return a share in per cent, with two figures below ten per cent.

    >>> percent(0.4585), percent(0.0122), percent(0.0004), percent(0.0), percent(1.0)
    ('46 %', '1.2 %', '0.04 %', '0 %', '100 %')
    """
    value = 100 * share
    if value == 0 or abs(value) >= 9.95:
        text = f"{value:.0f}"
    elif abs(value) >= 0.095:
        text = f"{value:.1f}"
    else:
        text = f"{value:.2f}" if abs(value) >= 0.005 else "under 0.01"
    return f"{text} %" if sign else text


def narrow(share: float) -> str:
    """Return a share in per cent for a column of five.

    >>> narrow(1.0), narrow(0.0899), narrow(0.00004)
    ('100 %', '9.0 %', '0.0 %')
    """
    return f"{100 * share:.0f} %" if share >= 0.0995 else f"{100 * share:.1f} %"


def between(low: float, high: float) -> str:
    """Return an interval of shares.

    >>> between(0.412, 0.506)
    '41 to 51 %'
    """
    return f"{percent(low, sign=False)} to {percent(high)}"


def ratio(value: float, low: float, high: float) -> str:
    """Return how many times as often, with the interval.

    >>> ratio(3.42, 2.51, 4.66), ratio(float("inf"), 2.0, float("inf"))
    ('3.4 times (2.5 to 4.7)', 'many times (2 or more)')
    """
    if value == float("inf"):
        return f"many times ({times(low)} or more)"
    upper = f"to {times(high)}" if high != float("inf") else "or more"
    return f"{times(value)} times ({times(low)} {upper})"


def times(value: float) -> str:
    """Return a ratio with two figures, and whole from ten on.

    >>> times(2.43), times(192.8), times(0.84)
    ('2.4', '193', '0.84')
    """
    return f"{value:.0f}" if value >= 9.95 else f"{value:.2g}"


def chance(p: float) -> str:
    """Return a chance, never as nought.

    >>> chance(0.0002), chance(0.0024), chance(0.61)
    ('under 0.001', '0.002', '0.61')
    """
    if p < 0.001:
        return "under 0.001"
    return f"{p:.3f}" if p < 0.01 else f"{p:.2f}"


def day(when: date) -> str:
    """Return a day so that nobody can take its month for its day.

    >>> day(date(2026, 3, 4))
    '4 March 2026'
    """
    return f"{when.day} {when:%B %Y}"


def days(first: date, last: date, joint: str = "to") -> str:
    """Return the time from one day to another.

    >>> days(date(2026, 2, 11), date(2026, 2, 20)), days(date(2026, 1, 5), date(2026, 3, 31), "and")
    ('11 to 20 February 2026', '5 January and 31 March 2026')
    """
    if first == last:
        return day(first)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day} {joint} {day(last)}"
    if first.year == last.year:
        return f"{first.day} {first:%B} {joint} {day(last)}"
    return f"{day(first)} {joint} {day(last)}"


def castings(count: float) -> str:
    """Return a number of castings.

    >>> castings(1.0), castings(434.0)
    ('1 casting', '434 castings')
    """
    return f"{number(count)} casting{'' if count == 1 else 's'}"
