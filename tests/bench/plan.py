"""``python -m tests.bench.plan``: minutes until a reject is put right, by the order of steps.

Simulated rejects are drawn from the shipped book (grey iron in green sand, no words), so this
measures the order and not whether the book is right. Four orders: the plan, expected information a
minute without walking (the order before), the same with walking, and at random. Walking is paid by
all of them. Two tables: how far each is after 10, 20 and 40 minutes, counting the right *cause* and
the right *correction*; and the minutes until the right correction is tried and works, where an
order without trials of its own tries the first one at ``SURE`` or where nothing tells more. Then
small searches against the best plan of all, found by full enumeration.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from time import process_time

import numpy as np

from diagnose.engine.posterior import Evidence, by_root, posterior
from diagnose.engine.troubleshoot import choose
from diagnose.reasoning.asking import Prospect, prospects
from diagnose.reasoning.branches import case_of, spot
from diagnose.reasoning.corrections import correction_of_account
from diagnose.reasoning.places import CASTING, places
from diagnose.reasoning.setup import CALLED, Desk, set_up
from diagnose.reasoning.taking import look_found
from diagnose.reject.found import Unsure
from diagnose.reject.reject import Reject
from diagnose.rulebase.job import Job
from diagnose.rulebase.load import load
from tests.bench.simulate import SimulatedReject, Works, draw_reject
from tests.bench.small_troubles import best, by_information, by_plan, draw_trouble, followed

SURE = 0.8
AFTER = (10.0, 20.0, 40.0)
HOUR = 60.0


@dataclass(slots=True)
class Search:
    """One simulated reject being searched: what was asked, where one stands, the minutes spent."""

    desk: Desk
    cure: np.ndarray
    truth: SimulatedReject
    account: int
    reject: Reject = field(default_factory=Reject)
    asked: list[tuple[bool, int]] = field(default_factory=list)
    failed: set[int] = field(default_factory=set)
    here: str = CASTING
    spent: float = 0.0

    @property
    def evidence(self) -> Evidence:
        return self.truth.evidence(self.asked)

    @property
    def probabilities(self) -> np.ndarray:
        whole = posterior(self.desk.model, self.evidence)
        whole = np.where(np.isin(self.cure, [*self.failed]) & (self.cure >= 0), 0.0, whole)
        return whole / whole.sum()

    def corrections(self, probabilities: np.ndarray) -> np.ndarray:
        """Return the chance of every correction."""
        known = self.cure >= 0
        return np.bincount(self.cure[known], probabilities[known], len(self.desk.book.actions))

    def cost(self, prospect: Prospect) -> float:
        where = places(self.desk.book)[prospect.id]
        walk = self.desk.book.scale.walk * (spot(where) != spot(self.here))
        return prospect.minutes + self.desk.book.scale.handling + walk

    def take(self, prospect: Prospect) -> None:
        """Take a step and learn what it shows."""
        desk, name = self.desk, prospect.id
        self.spent += self.cost(prospect)
        self.here = places(desk.book)[name]
        if name in desk.looks:
            number = desk.looks[name]
            self.asked.append((True, number))
            if name in desk.book.looks:
                answer = desk.answers[number][self.truth.looks[number]]
                self.reject = self.reject.with_found(look_found(desk.book, name, answer))
                return
        else:
            self.asked.append((False, desk.findings[name]))
        self.reject = self.reject.with_found(Unsure(name))

    def open_now(self) -> list[Prospect]:
        return prospects(self.desk, self.reject, self.evidence, self.probabilities)


@dataclass(frozen=True, slots=True)
class Next:
    """A step, or (None) the correction to try: -1 for giving up."""

    step: Prospect | None
    correction: int = -1


Order = Callable[[Search], Next]


def first_or_best(search: Search, pick: Callable[[Prospect], float]) -> Next:
    """Try the first correction where it has ``SURE`` or nothing is worth it; else the best step."""
    shares = search.corrections(search.probabilities)
    now = search.open_now()
    likely = int(shares.argmax())
    worth = search.desk.book.scale.worth_asking
    if shares[likely] >= SURE or not any(one.rate >= worth for one in now):
        return Next(None, likely if shares[likely] > 0.05 else -1)
    return Next(max(now, key=pick))


def information(search: Search) -> Next:
    """The order before: bits a minute, walking left out."""
    return first_or_best(search, lambda one: one.rate)


def walked(search: Search) -> Next:
    """Bits a minute, walking counted."""
    return first_or_best(search, lambda one: one.gain_bits / search.cost(one))


def at_random(search: Search) -> Next:
    """Any that is worth its minutes."""
    draw = np.random.default_rng([len(search.asked), *search.truth.looks])
    worth = search.desk.book.scale.worth_asking
    return first_or_best(search, lambda one: draw.random() + (one.rate >= worth))


def planned(search: Search) -> Next:
    """The plan's first step."""
    case = case_of(
        search.desk, search.reject, search.evidence, search.probabilities,
        search.open_now(), search.here,
    )  # fmt: skip
    choice = choose(case.trouble, case.here, range(len(case.steps)))
    if choice.step >= 0:
        return Next(case.steps[choice.step])
    if choice.correction < 0:
        return Next(None)
    return Next(None, list(search.desk.book.actions).index(case.corrections[choice.correction]))


ORDERS: dict[str, Order] = {
    "plan": planned,
    "information a minute": information,
    "the same, walking counted": walked,
    "random": at_random,
}


@dataclass(slots=True)
class Tally:
    """What came of one order. ``marks``: (what, after) -> whether, for each reject."""

    minutes: list[float] = field(default_factory=list)
    steps: list[int] = field(default_factory=list)
    right_first: list[bool] = field(default_factory=list)
    marks: dict[tuple[str, str], list[bool]] = field(default_factory=dict)
    seconds: list[float] = field(default_factory=list)


def note(tally: Tally, search: Search, after: str) -> None:
    """Take note of how the right cause and the right correction stand."""
    probabilities = search.probabilities
    roots, cures = by_root(search.desk.model, probabilities), search.corrections(probabilities)
    own = search.cure[search.account]
    for what, shares, right in (("cause", roots, search.truth.root), ("correction", cures, own)):
        rank = int((shares > shares[right]).sum()) + 1 if right >= 0 else 99
        tally.marks.setdefault((f"{what} first", after), []).append(rank == 1)
        tally.marks.setdefault((f"{what} in three", after), []).append(rank <= 3)
        tally.marks.setdefault((f"{what} sure", after), []).append(
            right >= 0 and bool(shares[right] >= SURE)
        )


def run(search: Search, order: Order, tally: Tally) -> None:
    """Follow an order until the reject is put right or given up, and keep the tally."""
    scale, due = search.desk.book.scale, [*AFTER, HOUR]
    own, first_try = int(search.cure[search.account]), None
    steps = 0
    observed = search.spent
    while True:
        started = process_time()
        choice = order(search)
        tally.seconds.append(process_time() - started)
        cost = search.cost(choice.step) if choice.step else np.inf
        while due and observed + cost > due[0]:  # trials are no observing: they stop the clock
            note(tally, search, f"{due.pop(0):g}")
        if choice.step is not None and search.spent < scale.giving_up:
            search.take(choice.step)
            observed += cost
        elif choice.correction >= 0 and search.spent < scale.giving_up:
            search.spent += scale.trial
            first_try = choice.correction == own if first_try is None else first_try
            if choice.correction == own:
                break
            search.failed.add(choice.correction)
            continue
        else:
            search.spent += scale.giving_up
            break
        steps += 1
    tally.minutes.append(search.spent)
    tally.steps.append(steps)
    tally.right_first.append(bool(first_try))


def works_of(desk: Desk) -> Works:
    """Return a desk as rejects are drawn from it."""
    looks = tuple(number for name, number in desk.looks.items() if name != CALLED)
    rows = {i: desk.outcomes(name) for name, i in desk.findings.items()}
    return Works("shipped", desk.model, np.zeros(0), rows, looks, lambda _look, _answers: True)


def drawn(desk: Desk, count: int, seed: int) -> Iterator[tuple[SimulatedReject, int]]:
    """Draw rejects with the account behind each; those that the book does not hold are left out."""
    draw, works = np.random.default_rng(seed), works_of(desk)
    while count:
        state = draw.bit_generator.state
        again = np.random.default_rng()
        again.bit_generator.state = state
        prior = np.exp(desk.model.log_prior)
        account = int(again.choice(len(prior), p=prior / prior.sum()))
        truth = draw_reject(works, draw)  # draws the same account first
        if account < len(prior) - 1:
            count -= 1
            yield truth, account


def simulate(count: int, seed: int, names: list[str]) -> dict[str, Tally]:
    """Put the same rejects to every order."""
    desk = set_up(load(), Job("grey iron", "green sand", None))
    cure = correction_of_account(desk, list(desk.book.actions))
    tallies = {name: Tally() for name in names}
    for truth, account in drawn(desk, count, seed):
        for name in names:
            run(Search(desk, cure, truth, account), ORDERS[name], tallies[name])
    return tallies


def show(tallies: dict[str, Tally]) -> None:
    """Print both tables."""
    stops = [f"{after:g}" for after in AFTER]
    for what in ("cause", "correction"):
        print(f"\nright {what}: first and in three after {' / '.join(stops)} minutes, sure in 60")
        for name, tally in tallies.items():
            rows = [
                " / ".join(f"{np.mean(tally.marks[f'{what} {rank}', s]):.2f}" for s in stops)
                for rank in ("first", "in three")
            ]
            sure = np.mean(tally.marks[f"{what} sure", "60"])
            print(f"{name:28}{rows[0]:>22}{rows[1]:>22}{sure:8.2f}")
    print("\nminutes until put right (mean, median), steps, first trial right, seconds a step")
    for name, tally in tallies.items():
        spent = np.array(tally.minutes)
        print(
            f"{name:28}{spent.mean():8.1f} ± {spent.std() / np.sqrt(len(spent)):4.1f}"
            f"{np.median(spent):8.1f}{np.mean(tally.steps):8.1f}{np.mean(tally.right_first):8.2f}"
            f"{np.mean(tally.seconds):8.3f}"
        )


def ratios(cases: int, causes: int, steps: int, seed: int = 1) -> dict[str, list[float]]:
    """Return the expected minutes over those of the best plan of all, on small searches."""
    draw = np.random.default_rng(seed)
    found: dict[str, list[float]] = {"plan": [], "information a minute": []}
    for _ in range(cases):
        trouble = draw_trouble(draw, causes, steps, float(draw.choice([0.0, 0.04, 0.2])))
        least = best(trouble, 0)
        found["plan"].append(followed(trouble, 0, by_plan) / least)
        found["information a minute"].append(followed(trouble, 0, by_information) / least)
    return found


def main() -> None:
    """Simulate, print, and end with one line of JSON."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--rejects", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--orders", nargs="*", default=list(ORDERS))
    parser.add_argument("--small", type=int, nargs=3, default=[20, 5, 6])
    told = parser.parse_args()
    summary: dict[str, object] = {}
    if told.small[0]:
        for name, ratio in ratios(*told.small).items():
            print(f"{name}: {np.mean(ratio):.3f} of the least minutes, {max(ratio):.3f} at worst")
            summary[f"ratio, {name}"] = [round(float(np.mean(ratio)), 3), round(max(ratio), 3)]
    if told.rejects:
        tallies = simulate(told.rejects, told.seed, told.orders)
        show(tallies)
        summary |= {name: round(float(np.mean(t.minutes)), 1) for name, t in tallies.items()}
    print(json.dumps(summary))


if __name__ == "__main__":
    main()
