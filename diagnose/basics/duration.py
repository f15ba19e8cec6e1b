"""Lengths of time in words: about, as people say them; short, for a list; or to the minute."""

from __future__ import annotations

_SAID = (
    (0.4, "a few seconds"),
    (0.75, "half a minute"),
    (1.5, "a minute"),
    (2.5, "two minutes"),
    (4.0, "a few minutes"),
    (7.5, "five minutes"),
    (12.5, "ten minutes"),
    (22.5, "a quarter of an hour"),
    (40.0, "half an hour"),
    (52.5, "three quarters of an hour"),
    (75.0, "an hour"),
)


def about(minutes: float) -> str:
    """Return a length of time as people say it, rounded to what they would say.

    >>> about(0.5), about(30), about(180)
    ('half a minute', 'half an hour', 'about 3 hours')
    """
    for limit, words in _SAID:
        if minutes <= limit:
            return words
    hours = minutes / 60
    return f"about {hours:.0f} hours" if hours < 10 else "a day or more"


def exact(minutes: int) -> str:
    """Return a length of time to the minute; from two days on, in whole days.

    >>> exact(50), exact(130), exact(60 * 24 * 3)
    ('50 min', '2 h 10 min', '3 days')
    """
    if minutes >= 2 * 24 * 60:
        return f"{round(minutes / 24 / 60)} days"
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def minutes_in_words(minutes: float) -> str:
    """Return a length of time in minutes or hours.

    >>> minutes_in_words(0.5), minutes_in_words(8), minutes_in_words(90)
    ('under a minute', '8 min', '1.5 h')
    """
    if minutes < 1:
        return "under a minute"
    return f"{minutes:.0f} min" if minutes < 90 else f"{minutes / 60:.2g} h"
