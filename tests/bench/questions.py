"""``python -m tests.bench.questions``: how many questions it takes, on simulated rejects.

Rejects are drawn from the model itself, so this measures the order of asking and the arithmetic,
not whether the rule base is right about a real shop. Three orders: by expected information a
minute (``this``), at random, and as the questions stand in the files.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from time import perf_counter

import numpy as np

from diagnose.engine.ask import rank
from diagnose.engine.posterior import by_root, posterior
from diagnose.reasoning.setup import CALLED, Desk, set_up
from diagnose.rulebase.job import ANY
from diagnose.rulebase.load import load
from tests.bench import synthetic
from tests.bench.simulate import SimulatedReject, Works, draw_reject

SURE = 0.8
STOPS = (5, 12)
MOST = 60
"""Questions after which asking on is given up; then all that are left are answered at once."""
REJECTS = {"shipped": 300, "synthetic": 150}
SECONDS = 75.0
"""Most time for one rule base; on a slow machine fewer rejects are drawn."""

Asked = list[tuple[bool, int]]
Chooser = Callable[[Works, SimulatedReject, Asked, Asked], tuple[bool, int]]


def shipped() -> Works:
    """The rule base that is shipped, for any job."""
    desk = set_up(load(), ANY)
    book, model = desk.book, desk.model
    names = list(desk.looks)
    looks = tuple(number for name, number in desk.looks.items() if name != CALLED)
    spent = [
        0.0 if n == CALLED else (book.looks.get(n) or book.measurements[n]).minutes for n in names
    ] + [
        (book.checks[n] if n in book.checks else book.measurements[n]).minutes
        for n in desk.findings
    ]
    return Works(
        "shipped",
        model,
        np.array(spent) + book.scale.handling,
        {i: desk.outcomes(name) for name, i in desk.findings.items()},
        looks,
        lambda look, answers: sensible(desk, names[look], answers),
    )


def sensible(desk: Desk, look: str, answers: Mapping[int, int]) -> bool:
    """Tell whether all that a look is asked for only if was answered that way."""
    if look not in desk.book.looks:
        return True  # a reading taken on the casting
    for other, allowed in desk.book.looks[look].only_if.items():
        number = desk.looks[other]
        if number not in answers or desk.answers[number][answers[number]] not in allowed:
            return False
    return True


def made_up() -> Works:
    """The network of the benchmarks: looks take a minute, checks five, readings ten."""
    model = synthetic.model(synthetic.Size())
    wide = [10.0 if finding.high else 5.0 for finding in model.network.findings]
    looks = tuple(range(len(model.looks)))
    minutes = np.array([1.0] * len(looks) + wide)
    outcomes = synthetic.outcomes(model.network)
    return Works("synthetic", model, minutes, outcomes, looks, lambda _look, _answers: True)


def open_questions(works: Works, reject: SimulatedReject, asked: Asked) -> Asked:
    """Return what is not asked yet and makes sense after the answers so far."""
    answers = {k: reject.looks[k] for is_look, k in asked if is_look}
    done = set(asked)
    return [
        question
        for question in works.questions
        if question not in done and (not question[0] or works.makes_sense(question[1], answers))
    ]


def this_order(
    works: Works, reject: SimulatedReject, asked: Asked, open_now: Asked
) -> tuple[bool, int]:
    """Choose the most expected information a minute."""
    looks = [k for is_look, k in open_now if is_look]
    rows = {i: works.outcomes[i] for is_look, i in open_now if not is_look}
    gains = rank(works.model, reject.evidence(asked), looks, rows)
    places = [*looks, *(len(works.model.looks) + i for i in rows)]
    best = int(np.argmax(gains / works.minutes[places]))
    return [*((True, k) for k in looks), *((False, i) for i in rows)][best]


def file_order(
    _works: Works, _reject: SimulatedReject, _asked: Asked, open_now: Asked
) -> tuple[bool, int]:
    """Take the first."""
    return open_now[0]


def random_order(
    _works: Works, reject: SimulatedReject, asked: Asked, open_now: Asked
) -> tuple[bool, int]:
    """Take any, the same ones whenever the same reject is run again."""
    draw = np.random.default_rng([reject.root + 1, len(asked), *reject.looks])
    return open_now[int(draw.integers(len(open_now)))]


ORDERS: dict[str, Chooser] = {"this": this_order, "random": random_order, "file": file_order}


@dataclass(slots=True)
class Score:
    """What came of one order of asking.

    ``needed``: questions until the right root condition had ``SURE``, infinity where it never
    did. ``minutes``: the same in minutes. ``hits``: by number of questions, for every reject the
    rank of the right one. ``said``: by number of questions, the probability of the first answer
    and whether it was right. ``brier``: by number of questions, over all root conditions.
    """

    needed: list[float] = field(default_factory=list)
    minutes: list[float] = field(default_factory=list)
    ranks: dict[str, list[int]] = field(default_factory=dict)
    said: dict[str, list[tuple[float, bool]]] = field(default_factory=dict)
    brier: dict[str, list[float]] = field(default_factory=dict)

    def note(self, after: str, roots: np.ndarray, right: int) -> None:
        """Take note of the answer after so many questions."""
        self.ranks.setdefault(after, []).append(int((roots > roots[right]).sum()) + 1)
        first = int(roots.argmax())
        self.said.setdefault(after, []).append((float(roots[first]), first == right))
        truth = np.arange(len(roots)) == right
        self.brier.setdefault(after, []).append(float(((roots - truth) ** 2).sum()))


def run(works: Works, reject: SimulatedReject, choose: Chooser, score: Score) -> None:
    """Ask until the right root condition has ``SURE`` or nothing is open, and keep score."""
    asked: Asked = []
    needed, spent, minutes = np.inf, 0.0, np.inf
    while len(asked) < MOST and (needed == np.inf or len(asked) < max(STOPS)):
        open_now = open_questions(works, reject, asked)
        if not open_now:
            break
        is_look, number = choose(works, reject, asked, open_now)
        asked.append((is_look, number))
        spent += works.minutes[number if is_look else len(works.model.looks) + number]
        roots = by_root(works.model, posterior(works.model, reject.evidence(asked)))
        if roots[reject.root] >= SURE and needed == np.inf:
            needed, minutes = len(asked), spent
        if len(asked) in STOPS:
            score.note(str(len(asked)), roots, reject.root)
    while open_now := open_questions(works, reject, asked):
        asked += open_now
    roots = by_root(works.model, posterior(works.model, reject.evidence(asked)))
    score.note("all", roots, reject.root)
    score.needed.append(needed)
    score.minutes.append(minutes)


def simulate(works: Works, rejects: int, seed: int = 1) -> dict[str, Score]:
    """Put the same rejects to every order."""
    scores = {name: Score() for name in ORDERS}
    draw = np.random.default_rng(seed)
    started = perf_counter()
    for _ in range(rejects):
        if perf_counter() - started > SECONDS:
            break
        reject = draw_reject(works, draw)
        for name, choose in ORDERS.items():
            run(works, reject, choose, scores[name])
    return scores


def reliability(said: list[tuple[float, bool]]) -> list[tuple[str, int, float, float]]:
    """Return, for bands of the probability given, how many, its mean, and how often right."""
    edges = (0.0, 0.2, 0.4, 0.6, 0.8, 0.95, 1.0 + 1e-9)
    rows = []
    for low, high in pairwise(edges):
        inside = [(p, right) for p, right in said if low <= p < high]
        if inside:
            given, right = np.mean([p for p, _ in inside]), np.mean([r for _, r in inside])
            rows.append((f"{low:.2f}-{high:.2f}", len(inside), float(given), float(right)))
    return rows


def calibration_error(said: list[tuple[float, bool]]) -> float:
    """Return the mean distance between what was said and what came true, band by band."""
    return sum(n * abs(given - right) for _, n, given, right in reliability(said)) / len(said)


def figures(score: Score) -> dict[str, float]:
    """Return the figures of one order that are worth keeping."""
    reached = np.isfinite(score.needed)
    found: dict[str, float] = {
        "median_questions": float(np.median(score.needed)),
        "reached": float(reached.mean()),
        "median_minutes_where_reached": float(np.median(np.array(score.minutes)[reached]))
        if reached.any()
        else float("inf"),
    }
    for after, ranks in score.ranks.items():
        found[f"top1_after_{after}"] = float(np.mean(np.array(ranks) == 1))
        found[f"top3_after_{after}"] = float(np.mean(np.array(ranks) <= 3))
        found[f"brier_after_{after}"] = float(np.mean(score.brier[after]))
        found[f"calibration_error_after_{after}"] = calibration_error(score.said[after])
    return {name: round(value, 3) if np.isfinite(value) else -1.0 for name, value in found.items()}


def show(works: Works, scores: dict[str, Score]) -> None:
    """Print the scores of all orders on one rule base."""
    rejects = len(scores["this"].needed)
    print(f"\n{works.name}: {rejects} simulated rejects, {len(works.questions)} questions")
    heads = ("questions", "reached", "minutes", "top1@5", "top3@5", "top1@12", "top3@12")
    print(f"{'order':8}{''.join(f'{head:>10}' for head in (*heads, 'top1@all', 'top3@all'))}")
    for name, score in scores.items():
        f = figures(score)
        cells = [f["median_questions"], f["reached"], f["median_minutes_where_reached"]]
        cells += [f[f"top{n}_after_{after}"] for after in ("5", "12", "all") for n in (1, 3)]
        print(f"{name:8}{''.join(f'{cell:10.2f}' for cell in cells)}")
    print("what was said of the first cause, and how often it was right (this order)")
    for after in ("5", "12", "all"):
        score = scores["this"]
        brier, off = np.mean(score.brier[after]), calibration_error(score.said[after])
        print(f"  after {after:>3}: Brier {brier:.3f}, calibration error {off:.3f}")
        for band, count, given, right in reliability(score.said[after]):
            print(f"    {band}: {count:4} times, said {given:.2f}, right {right:.2f}")


def main() -> None:
    """Simulate, print, and end with one line of JSON."""
    print(
        f"Questions until the right root condition has {SURE} (median over all rejects; -1 where "
        f"fewer than half get there within {MOST}), minutes over those that got there."
    )
    summary = {}
    for works in (shipped(), made_up()):
        scores = simulate(works, REJECTS[works.name])
        show(works, scores)
        summary[works.name] = {
            "rejects": len(scores["this"].needed),
            **{name: figures(score) for name, score in scores.items()},
        }
    print(json.dumps(summary))


if __name__ == "__main__":
    main()
