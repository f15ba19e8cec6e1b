"""``python -m tests.bench.sensitivity``: what the golden table hangs on.

The histories are worked from exact answers, without their section. Three questions. How does the
table move when every figure of the book is shaken by about a factor of 1.6 in its odds, which is
how far two engineers' guesses lie apart? Which links and which looks carry it: what is lost when
one is taken away? And which links and looks does no history use?
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from diagnose.engine.stability import shaken
from diagnose.reasoning.setup import NONE, Desk
from diagnose.reject.found import LOOK
from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Book, Check, Condition, Figure, Measurement
from diagnose.session.library import Library
from diagnose.session.session import Session, open_session
from tests.golden.score import History, answered, histories, rank, score, summary

RUNS = 12
SHOWN = 12
USED = 0.01
"""Share of a history's probability that a link must carry to count as used by it."""

METRICS = ("cause first", "cause in three", "cause reciprocal", "fault first")


def shaken_book(book: Book, draw: np.random.Generator) -> Book:
    """Return the book with every figure shaken in its log odds, each by itself."""

    def moved(value: Figure, *, base_rate: bool = False) -> float:
        return float(shaken(np.array(book.figure(value, base_rate=base_rate)), 1, draw)[0])

    def table(figures: dict[str, Figure]) -> dict[str, Figure]:
        return {name: moved(value) for name, value in figures.items()}

    def shows(tables: dict[str, dict[str, Figure]]) -> dict[str, dict[str, Figure]]:
        return {look: table(figures) for look, figures in tables.items()}

    def condition(entry: Condition) -> Condition:
        rate = entry.base_rate
        return replace(
            entry,
            base_rate=None if rate is None else moved(rate, base_rate=True),
            leads_to=tuple(replace(x, strength=moved(x.strength)) for x in entry.leads_to),
            shows=shows(entry.shows),
        )

    def check(entry: Check) -> Check:
        reveals = table(entry.reveals)
        return replace(entry, reveals=reveals, false_alarm=moved(entry.false_alarm))

    def reading(entry: Measurement) -> Measurement:
        low, high = table(entry.low_speaks_for), table(entry.high_speaks_for)
        return replace(entry, low_speaks_for=low, high_speaks_for=high)

    return replace(
        book,
        conditions={name: condition(entry) for name, entry in book.conditions.items()},
        defects={n: replace(entry, shows=shows(entry.shows)) for n, entry in book.defects.items()},
        checks={name: check(entry) for name, entry in book.checks.items()},
        measurements={name: reading(entry) for name, entry in book.measurements.items()},
    )


@dataclass(frozen=True, slots=True)
class Case:
    """A history that has been worked, with the probability of every account."""

    history: History
    desk: Desk
    reject: Reject
    probabilities: np.ndarray


def cases(fresh: Session, told: Sequence[History]) -> list[Case]:
    """Work every history."""
    sessions = [(history, answered(history, fresh)) for history in told]
    return [Case(h, s.desk, s.reject, s.probabilities) for h, s in sessions]


def reciprocal(case: Case, probabilities: np.ndarray) -> float:
    """Return one over the rank of the true cause under these probabilities of the accounts."""
    sums: Counter[str] = Counter({NONE: probabilities[-1]})
    for account, share in zip(case.desk.accounts, probabilities, strict=False):
        sums[account.root] += share
    return 1 / rank([name for name, _ in sums.most_common()], case.history.cause)


def links_of(case: Case) -> dict[str, np.ndarray]:
    """Return link -> the numbers of the accounts that run over it."""
    found: dict[str, list[int]] = {}
    for number, account in enumerate(case.desk.accounts):
        for start, end in zip(account.path, (*account.path[1:], account.defect), strict=True):
            found.setdefault(f"{start} > {end}", []).append(number)
    return {link: np.array(numbers) for link, numbers in found.items()}


def loss_by_link(worked_out: Sequence[Case]) -> tuple[Counter[str], set[str]]:
    """Return what the sum of reciprocal ranks loses without each link, and the links used.

    A link is taken away by taking away the accounts that run over it; what was found in the shop
    keeps its weight.
    """
    loss: Counter[str] = Counter()
    used: set[str] = set()
    for case in worked_out:
        before = reciprocal(case, case.probabilities)
        for link, numbers in links_of(case).items():
            if case.probabilities[numbers].sum() >= USED:
                used.add(link)
                without = case.probabilities.copy()
                without[numbers] = 0.0
                loss[link] += before - reciprocal(case, without)
    return loss, used


def loss_by_look(fresh: Session, worked_out: Sequence[Case]) -> tuple[Counter[str], Counter[str]]:
    """Return what the sum of reciprocal ranks loses without each look, and how often it is told."""
    loss: Counter[str] = Counter()
    told: Counter[str] = Counter()
    for case in worked_out:
        before = reciprocal(case, case.probabilities)
        for found in case.reject.found:
            if found.kind == LOOK:
                rest = tuple(one for one in case.reject.found if one is not found)
                without = fresh.another(replace(case.reject, found=rest)).probabilities
                loss[found.id] += before - reciprocal(case, without)
                told[found.id] += 1
    return loss, told


def all_links(book: Book) -> Iterator[str]:
    """Yield every link by the name that it has here."""
    for name, entry in book.conditions.items():
        yield from (f"{name} > {link.to}" for link in entry.leads_to)


def table_of(book: Book, told: Sequence[History]) -> dict[str, float]:
    """Return the golden table, from exact answers, of a book that is not kept anywhere."""
    fresh = Session(Library(book), Reject())
    return summary([score(history, fresh, answered) for history in told])


def without_section(history: History) -> History:
    """Return a history whose section is not told, so that many share what is worked out once."""
    rest = {key: value for key, value in history.reject.items() if key != "section"}
    return replace(history, reject=rest)


def main(runs: int = RUNS) -> None:
    """Print all three answers."""
    fresh, told = open_session(), [without_section(history) for history in histories()]
    book = fresh.book
    base = table_of(book, told)
    draws = np.random.default_rng(4)
    moved = [table_of(shaken_book(book, draws), told) for _ in range(runs)]
    print(f"{len(told)} histories, {runs} shaken books\n\n{'':18}{'as it is':>10}{'shaken':>24}")
    for metric in METRICS:
        seen = [row[metric] for row in moved]
        print(f"{metric:18}{base[metric]:10.2f}{min(seen):10.2f} to {max(seen):.2f}", end="")
        print(f", mean {np.mean(seen):.2f}")
    worked_out = cases(fresh, told)
    loss, used = loss_by_link(worked_out)
    print("\nLinks without which most is lost (sum of reciprocal ranks):")
    for link, lost in loss.most_common(SHOWN):
        print(f"{lost:7.2f}  {link}")
    look_loss, look_told = loss_by_look(fresh, worked_out)
    print("\nLooks without which most is lost, and how often they are told:")
    for look, lost in look_loss.most_common(SHOWN):
        print(f"{lost:7.2f}  {look} ({look_told[look]})")
    harmful = [(look, lost) for look, lost in look_loss.items() if lost < -0.05]
    print("\nLooks that mislead more than they help:", sorted(harmful, key=lambda p: p[1]))
    links = set(all_links(book))
    silent = sorted(set(book.looks) - set(look_told))
    print(f"\nLinks that carry {USED:.0%} of some history: {len(used & links)} of {len(links)}")
    print(f"Looks that no history tells ({len(silent)} of {len(book.looks)}): {', '.join(silent)}")
    print(json.dumps({"as it is": base, "shaken": moved, "links used": len(used & links)}))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
