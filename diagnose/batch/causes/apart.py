"""What would tell the first cause of a batch from its nearest rival soonest.

The rival is the likeliest other cause of the group that the first explains most of. Each open look,
check and reading is worth the bits that it is expected to tell on which of the two it is, over its
minutes, as for one reject; how many castings a look takes, and how many a trial, is worked out
from exact binomial chances.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.batch.causes.case import Case
from diagnose.batch.causes.opened import reject_of
from diagnose.batch.result import Tell
from diagnose.engine.ask import finding_tables, information, look_tables
from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import Evidence
from diagnose.notes.wording import first_sentence, percent, sentence
from diagnose.reasoning.asking import BANDS, cause_name, open_looks
from diagnose.reasoning.setup import NONE
from diagnose.reject.found import CHECK, LOOK
from diagnose.rulebase.book import Book

POWER = 0.9
"""Chance with which castings that are looked at must tell the two causes apart, either way."""
TRIAL_POWER, BY_CHANCE = 0.8, 0.05
"""Chance that a trial shows the fall if there is one, and that it seems to show one by chance."""
HALVED = 0.5
"""What a trial that hits the cause leaves of the rate, where the sheet shows no rate without it
(a judgement: a correction need not take hold at once)."""
MOST_CASTINGS = 20_000
BIT = 0.01
"""Less than this is not worth naming."""


@dataclass(frozen=True, slots=True)
class Contest:
    """The two causes, as roots, in one group; ``chances``: of its accounts, only theirs."""

    group: int
    one: int
    other: int
    chances: Floats


def tells(case: Case, first: int) -> tuple[Tell, ...]:
    """Return the look, the check and the reading that tell most a minute, then the trial."""
    contest = contest_of(case, first)
    if contest is None:
        return ()
    best: dict[str, tuple[float, Tell]] = {}
    for rate, tell in [*_looks(case, contest), *_findings(case, contest)]:
        if tell.kind not in best or rate > best[tell.kind][0]:
            best[tell.kind] = (rate, tell)
    quick = [tell for _, tell in sorted(best.values(), key=lambda pair: -pair[0])]
    return (*quick, *_trial(case, contest))


def contest_of(case: Case, first: int) -> Contest | None:
    """Return the first cause and its nearest rival; None where the group has no other cause."""
    group = case.main_group(first)
    chances = case.responsible[group].copy()
    chances[[first, case.desk.roots.index(NONE)]] = 0.0
    other = int(chances.argmax())
    if chances[other] <= 0.0 or case.responsible[group, first] <= 0.0:
        return None
    mine = np.isin(case.desk.model.root_of_account, (first, other))
    some = np.where(mine, case.accounts[group], 0.0)
    return Contest(group, first, other, some / some.sum())


def _looks(case: Case, contest: Contest) -> Iterator[tuple[float, Tell]]:
    desk, group = case.desk, case.groups[contest.group]
    known = {clue.entry for clue in case.clues[contest.group]}
    asked = open_looks(desk, reject_of(desk, case.shop, group))
    names = [name for name in asked if name not in known and name in desk.book.looks]
    tables = look_tables(desk.model, contest.chances, [desk.looks[name] for name in names])
    for name, table in zip(names, tables, strict=True):
        look = desk.book.looks[name]
        rate = _bits(table, contest) / (look.minutes + desk.book.scale.handling)
        answers = list(look.answers)
        row, says = _telling(case, contest, table)
        castings = castings_to_tell(*_two(_given(table, contest)[row]), POWER)
        if rate * (look.minutes + desk.book.scale.handling) >= BIT and castings:
            text = (
                f"{sentence(look.ask)} {sentence(look.how)} {_say(look.answers[answers[row]].say)}"
            )
            yield rate, Tell(LOOK, f"{text} {says}", look.minutes * castings, castings, POWER)


def _findings(case: Case, contest: Contest) -> Iterator[tuple[float, Tell]]:
    desk, book = case.desk, case.desk.book
    names = [name for name, number in desk.findings.items() if number not in case.findings]
    outcomes = {desk.findings[name]: desk.outcomes(name) for name in names}
    evidence = Evidence({}, case.findings)
    tables = finding_tables(desk.model, evidence, contest.chances, outcomes)
    for name, table in zip(names, tables, strict=True):
        bits = _bits(table, contest)
        if bits < BIT:
            continue
        row, says = _telling(case, contest, table)
        if name in book.checks:
            check = book.checks[name]
            answers = (check.bad, *(a for a in check.answers if a != check.bad))
            kind, minutes, told = CHECK, check.minutes, check.answers[answers[row]]
            text, mind = f"{sentence(check.ask)} {sentence(check.how)}", check.caution
        else:
            measured = book.measurements[name]
            kind, minutes, told = "reading", measured.minutes, f"{BANDS[row]} its window"
            text, mind = sentence(f"measure the {measured.name}"), measured.caution
        text = " ".join([text, _say(told), says, *_cautions(book, mind)])
        yield bits / (minutes + book.scale.handling), Tell(kind, text, minutes)


def _cautions(book: Book, names: Sequence[str]) -> list[str]:
    """Return what to mind at a check, a reading or an action, each in its first sentence."""
    return [first_sentence(book.cautions[name].say) for name in names]


def _given(table: Floats, contest: Contest) -> Floats:
    """Return P(answer | cause) for the two causes: (answers, 2)."""
    two = table[:, [contest.one, contest.other]]
    return np.asarray(two / np.maximum(two.sum(axis=0), 1e-300))


def _two(row: Floats) -> tuple[float, float]:
    one, other = row.tolist()
    return one, other


def _bits(table: Floats, contest: Contest) -> float:
    two = table[:, [contest.one, contest.other]]
    return float(information(two / two.sum(), [0])[0])


def _telling(case: Case, contest: Contest, table: Floats) -> tuple[int, str]:
    """Return the answer that tells most, and for which of the two it speaks."""
    given = _given(table, contest)
    row = int(np.abs(given[:, 0] - given[:, 1]).argmax())
    cause = contest.one if given[row, 0] > given[row, 1] else contest.other
    return row, f"speaks for “{cause_name(case.desk, case.desk.roots[cause])}”."


def _say(answer: str) -> str:
    return f"“{answer}”"


def _trial(case: Case, contest: Contest) -> Iterator[Tell]:
    """Yield the trial of the first cause's correction, with the castings until it is seen."""
    group = case.groups[contest.group]
    actions = case.actions(contest.one)
    if not actions or not group.rate:
        return
    now = min(group.rate, 1.0)
    elsewhere = group.rate_elsewhere
    expected = elsewhere if elsewhere is not None and elsewhere < now else HALVED * now
    castings = castings_until(now, expected, TRIAL_POWER)
    if castings is None:
        return
    why = "as elsewhere" if expected == elsewhere else "if it is halved"
    name = cause_name(case.desk, case.desk.roots[contest.one])
    text = (
        f"{sentence(actions[0].name)} {sentence(actions[0].what)} If “{name}” is behind “"
        f"{group.name}”, the rate falls from {percent(now)} to {percent(expected)} ({why})."
    )
    text = " ".join([text, *_cautions(case.desk.book, actions[0].caution)])
    yield Tell("trial", text, None, castings, TRIAL_POWER)


def castings_until(now: float, expected: float, power: float) -> int | None:
    """Return how many castings to pour until a fall of the rate from ``now`` is seen.

    That is, so many that few enough are bad with the chance ``power`` if the rate is ``expected``,
    and with BY_CHANCE at most if it is still what it was. None where more than 20,000 are needed.
    ``now`` is taken as known.

    >>> castings_until(0.2, 0.05, 0.8)
    37
    """
    if not 0.0 <= expected < now <= 1.0:
        return None

    def seen(count: int) -> bool:
        few_enough = int((at_most(count, now) <= BY_CHANCE).sum())
        return few_enough > 0 and bool(at_most(count, expected)[few_enough - 1] >= power)

    return _least(seen)


def at_most(count: int, rate: float) -> Floats:
    """Return P(k castings bad at most) for k = 0 .. ``count``."""
    from scipy.special import bdtr

    return np.asarray(bdtr(np.arange(count + 1), count, rate))


def castings_to_tell(one: float, other: float, power: float) -> int | None:
    """Return how many castings to look at until an answer tells two causes apart.

    ``one`` and ``other``: how often the answer is seen under each. That many that the number of
    castings that show it lies on the right side of one limit with the chance ``power``, whichever
    of the two is the cause.

    >>> castings_to_tell(0.9, 0.1, 0.9), castings_to_tell(0.3, 0.3, 0.9)
    (1, None)
    """
    low, high = min(one, other), max(one, other)
    if high - low < 0.02:
        return None

    def seen(count: int) -> bool:
        limit = int((at_most(count, low) < power).sum())
        return bool(1.0 - at_most(count, high)[limit] >= power)

    return _least(seen)


def _least(seen: Callable[[int], bool]) -> int | None:
    """Return about the least count at which something is seen, doubling and then halving.

    As counts are whole, a somewhat larger count may miss again; what is returned does not.
    """
    count = 1
    while not seen(count):
        count *= 2
        if count > MOST_CASTINGS:
            return None
    low, high = count // 2, count
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if seen(middle) else (middle, high)
    return high
