"""How many good castings in a row show that a correction has worked."""

from __future__ import annotations

from math import exp, lgamma

from diagnose.notes.wording import sentence
from diagnose.reject.ticket import Ticket

CHANCE = 0.05
"""How often that many good ones may come by luck although nothing has changed: one in twenty."""
ROUNDED = ((1000, 100), (100, 10), (30, 5))
"""From so many castings the number is rounded up to a multiple of this."""


def good_in_a_row(bad: int, of: int) -> int:
    """Return how many good castings in a row come by luck once in twenty if nothing changed.

    The share of bad ones is not known but by those counted, so it is taken as open, every share
    alike before the count: then that no one of n is bad has the probability
    B(bad + 1, good + 1 + n) / B(bad + 1, good + 1).

    >>> good_in_a_row(6, 40), good_in_a_row(1, 1), good_in_a_row(40, 40)
    (21, 5, 1)
    """
    good, n = of - bad, 1
    step = 1
    while _by_luck(bad, good, n) > CHANCE:  # doubled until it is enough, then halved in on it
        step, n = 2 * step, n + 2 * step
    low = max(1, n - step)
    while low < n:
        middle = (low + n) // 2
        low, n = (middle + 1, n) if _by_luck(bad, good, middle) > CHANCE else (low, middle)
    return n


def _by_luck(bad: int, good: int, n: int) -> float:
    """Return the probability that none of the next ``n`` is bad although nothing has changed."""
    return exp(
        lgamma(good + 1 + n)
        + lgamma(bad + good + 2)
        - lgamma(good + 1)
        - lgamma(bad + good + 2 + n)
    )


def castings_in_words(ticket: Ticket) -> str:
    """Say with how many castings to verify; empty where nobody said how many were bad of how many.

    >>> castings_in_words(Ticket(bad=6, of=40))
    'With 6 of 40 bad before, 21 good ones in a row after the change; by luck once in twenty.'
    """
    if ticket.bad is None or ticket.of is None:
        return ""
    count = good_in_a_row(ticket.bad, ticket.of)
    least, to = next(((at, to) for at, to in ROUNDED if count >= at), (0, 1))
    count = -(-count // to) * to if least else count
    ones = "one" if count == 1 else "ones in a row"
    return sentence(
        f"with {ticket.entry('bad')} bad before, {count} good {ones} after the change; "
        "by luck once in twenty"
    )
