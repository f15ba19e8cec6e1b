"""What the counts of a group answer: the book's looks, as graded evidence with its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from diagnose.batch.causes.counts import (
    CAP,
    any_apart,
    apart,
    capped,
    creeping_up,
    mostly,
    only_one,
    step_up,
    up_and_down,
)
from diagnose.batch.causes.group import Course, Group, Level, Sorting
from diagnose.rulebase.book import Book, Signature

COURSE, RATE = "course of time", "rate"
"""Factors whose levels are worked out here: from the order of time, and from all the counts."""
BESIDE_ONE = 3.0
"""From so many rejects of a group, it is not only one."""


@dataclass(frozen=True, slots=True)
class Sign:
    """What one factor of the sheet says of one look.

    ``factors``: answer -> Bayes factor against the answer that even counts speak for, capped.
    ``text``: the counts in words. ``level``: the level that stands out most, where one does.
    """

    signature: str
    factor: str
    look: str
    factors: Mapping[str, float]
    text: str
    level: str = ""


def signs(book: Book, group: Group) -> list[Sign]:
    """Return what the counts of a group say, one sign for each signature that the sheet allows."""
    found = []
    for name, signature in book.signatures.items():
        sign = _sign(name, signature, group)
        if sign is not None:
            found.append(sign)
    return found


def _sign(name: str, signature: Signature, group: Group) -> Sign | None:
    if signature.factor == COURSE:
        return _of_time(name, signature, group.time) if group.time is not None else None
    if signature.factor == RATE:
        return _of_rate(name, signature, group)
    sorting = next((s for s in group.sortings if s.factor == signature.factor), None)
    if sorting is None or sum(level.size > 0.0 for level in sorting.levels) < 2:
        return None
    raw: dict[str, list[float]] = {}
    if signature.one:
        raw.setdefault(signature.one, []).append(any_apart(sorting))
    if signature.only:
        raw.setdefault(signature.only, []).append(only_one(sorting))
    for level in sorting.levels:
        if level.name in signature.levels:
            factor = apart(level, sorting.levels, sorting.spread)
            raw.setdefault(signature.levels[level.name], []).append(factor)
    factors = {answer: capped(sum(some) / len(some)) for answer, some in raw.items()}
    if not factors:
        return None
    best = max(
        (one for one in sorting.levels if one.size > 0.0),
        key=lambda one: apart(one, sorting.levels, sorting.spread),
    )
    return Sign(name, sorting.factor, signature.look, factors, _counted(sorting, best), best.name)


def _counted(sorting: Sorting, best: Level) -> str:
    """Put the level that stands out most beside the others.

    >>> several = (Level("2", 10, 100), Level("1", 3, 300))
    >>> _counted(Sorting("plate", several), several[0])
    'plate 2 has 77 % of them and 25 % of the castings'
    """
    total, size = best.among(sorting.levels)
    share = 100.0 * best.bad / total if total else 0.0
    fair = 100.0 * best.size / size if size else 0.0
    among = "all scrap" if sorting.of_scrap else "the castings"
    return f"{sorting.factor} {best.name} has {share:.0f} % of them and {fair:.0f} % of {among}"


def _of_time(name: str, signature: Signature, course: Course) -> Sign:
    ways = {"step up": step_up, "creeping up": creeping_up, "up and down": up_and_down}
    factors = {
        answer: capped(ways[level](course))
        for level, answer in signature.levels.items()
        if level in ways
    }
    best = max(factors, key=factors.__getitem__)
    shape = next(level for level, answer in signature.levels.items() if answer == best)
    text = f"over the time it goes {shape}" if factors[best] > 1.0 else "it is even over the time"
    return Sign(name, COURSE, signature.look, factors, text)


def _of_rate(name: str, signature: Signature, group: Group) -> Sign | None:
    """Return what is said by how many are bad: one alone, some, or most of them."""
    if group.bad < BESIDE_ONE:
        return None
    odds = capped(mostly(group.bad, group.poured)) if group.poured else 1.0
    said = {"few": CAP / (1.0 + odds), "most": CAP * odds / (1.0 + odds)}
    factors = {answer: capped(said[level]) for level, answer in signature.levels.items()}
    among = f" of {group.poured:.0f}" if group.poured else ""
    return Sign(name, RATE, signature.look, factors, f"{group.bad:.0f}{among} are bad")


def by_look(found: Sequence[Sign]) -> dict[str, dict[str, float]]:
    """Return look -> answer -> likelihood of the counts, those not named being 1.

    Where two factors speak for one answer, either may be the one that matters, so the mean counts.
    """
    every: dict[str, dict[str, list[float]]] = {}
    for sign in found:
        for answer, factor in sign.factors.items():
            every.setdefault(sign.look, {}).setdefault(answer, []).append(factor)
    return {
        look: {answer: sum(some) / len(some) for answer, some in answers.items()}
        for look, answers in every.items()
    }


def called_for(book: Book, looks: Sequence[str]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield looks and the answers that they must have, so that looks that were answered make sense.

    A sheet that knows the core maker of its rejects is of castings with a core.
    """
    done = {*looks}
    for look in looks:
        for other, allowed in book.looks[look].only_if.items():
            if other not in done:
                done.add(other)
                yield other, allowed
