"""``python -m tests.bench.peers``: how fast the engine is beside two general-purpose libraries.

The same made-up network, the same evidence, in one run; every answer is checked to agree. Each
library has the network in the encoding in which it was fastest (``tests/engine/encodings.py``
says what was tried) and is built before the clock starts, like the engine. A time is the best of
a few runs of one body of evidence, and the median over several bodies. pyAgrum gets one thread:
with two it took a tenth to a fifth less for the heaviest evidence on a quiet machine with two
cores, the same for the rest, and a third to a half more on a busy one.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from time import perf_counter

import numpy as np

from diagnose.engine.ask import finding_tables, look_tables, rank
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, posterior
from tests.bench import synthetic
from tests.bench.clock import best, timed, typical
from tests.engine.encodings import CAUSE, finding
from tests.engine.peers import (
    Peer,
    Pgmpy,
    PyAgrum,
    compact_encoding,
    compact_posterior,
    compact_soft,
    compact_tables,
)

NAMES = ("here", "pyAgrum", "pgmpy")
MIXES = {
    "5: 3 looks, 2 in the shop": (3, 2),
    "15: 8 looks, 7 in the shop": (8, 7),
    "25: 13 looks, 12 in the shop": (13, 12),
    "5 in the shop": (0, 5),
    "15 in the shop": (0, 15),
    "25 in the shop": (0, 25),
    "40 in the shop": (0, 40),
}
SETS = 9
CLOSE = 1e-9
PATIENCE = {"pyAgrum": 8.0, "pgmpy": 4.0}
"""Seconds that a library may take for one line of the table; then it gets fewer bodies."""
SAMPLE = 6
"""Open findings on which pgmpy's ranking is measured."""


@dataclass(slots=True)
class Times:
    """Milliseconds for each body of evidence, by whom, and the largest disagreement."""

    by: dict[str, list[float]] = field(default_factory=dict)
    apart: float = 0.0

    def add(self, name: str, milliseconds: float) -> None:
        """Add one measurement."""
        self.by.setdefault(name, []).append(milliseconds)

    def compare(self, ours: np.ndarray, theirs: np.ndarray) -> None:
        """Take note of how far two answers are apart; beyond ``CLOSE`` nothing is measured."""
        self.apart = max(self.apart, float(np.abs(ours - theirs).max()))
        if self.apart > CLOSE:
            raise SystemExit(f"The answers differ by {self.apart:.1e}: nothing to compare.")

    def ratio(self) -> float:
        """Return how many times slower the faster library is, over the bodies that it did."""
        ours = self.by["here"]
        return min(
            typical([t / o for t, o in zip(times, ours, strict=False)])
            for name, times in self.by.items()
            if name != "here"
        )


def from_nothing(model: Model, evidence: Evidence) -> np.ndarray:
    """Return the posterior with nothing kept from earlier findings."""
    model.recent.clear()
    return posterior(model, evidence)


def measure_posterior(model: Model, peers: Iterable[Peer], mix: tuple[int, int]) -> Times:
    """From nothing: the posterior of every account."""
    times = Times()
    bodies = [synthetic.evidence(model, *mix, seed) for seed in range(SETS)]
    for evidence in bodies:
        from_nothing(model, evidence)
        times.add("here", best(lambda e=evidence: from_nothing(model, e)))
    for peer in peers:
        started = perf_counter()
        for evidence in bodies:
            if perf_counter() - started > PATIENCE[peer.name]:
                break
            first, answer = timed(lambda p=peer, e=evidence: compact_posterior(p, model, e))
            again = first
            if first < 500.0:
                again = best(lambda p=peer, e=evidence: compact_posterior(p, model, e), 2)
            times.add(peer.name, min(first, again))
            times.compare(posterior(model, evidence), answer)
    return times


def measure_one_more(model: Model, peer: PyAgrum, *, look: bool) -> Times:
    """One more answer on top of 25 findings, all of which are known already."""
    times = Times()
    for seed in range(SETS):
        before = synthetic.evidence(model, 13, 12, seed)
        more, new = with_one_more(model, before, seed, look=look)
        times.add("here", min(one_more_here(model, before, more) for _ in range(3)))
        soft = compact_soft(peer, model, more)
        steps = []
        for _ in range(3):
            peer.start(compact_soft(peer, model, before))
            step, states = timed(lambda s=soft, n=new: peer.again(s, n))
            steps.append(step)
        times.add(peer.name, min(steps))
        times.compare(np.bincount(peer.encoding.state_of, posterior(model, more)), states)
    return times


def with_one_more(
    model: Model, evidence: Evidence, seed: int, *, look: bool
) -> tuple[Evidence, str]:
    """Return the evidence with one more look answer or shop finding, and a peer's name for it."""
    draw = np.random.default_rng(1000 + seed)
    if look:
        k = int(draw.choice([k for k in range(len(model.looks)) if k not in evidence.looks]))
        return Evidence({**evidence.looks, k: (0,)}, evidence.findings), CAUSE
    i = int(draw.choice([i for i in range(len(model.seats)) if i not in evidence.findings]))
    weights = synthetic.weights(model.network.findings[i], draw)
    return Evidence(evidence.looks, {**evidence.findings, i: weights}), finding(i)


def one_more_here(model: Model, before: Evidence, more: Evidence) -> float:
    """Milliseconds from the posterior before to the posterior after."""
    from_nothing(model, before)
    return timed(lambda: posterior(model, more))[0]


def open_questions(model: Model, evidence: Evidence) -> tuple[list[int], dict[int, np.ndarray]]:
    """Return the looks and the outcomes of the findings that are still open."""
    looks = [k for k in range(len(model.looks)) if k not in evidence.looks]
    rows = synthetic.outcomes(model.network)
    return looks, {i: w for i, w in rows.items() if i not in evidence.findings}


def measure_ranking(model: Model, peers: Iterable[Peer], mix: tuple[int, int], sets: int) -> Times:
    """Rank all open questions. The looks are the same matrix product for everyone."""
    times = Times()
    for seed in range(sets):
        evidence = synthetic.evidence(model, *mix, seed)
        looks, rows = open_questions(model, evidence)
        rank(model, evidence, looks, rows)
        times.add("here", best(lambda e=evidence, k=looks, r=rows: rank(model, e, k, r)))
        probabilities = posterior(model, evidence)
        for peer in peers:
            few = rows if peer.name == "pyAgrum" else dict(list(rows.items())[:SAMPLE])
            ours = finding_tables(model, evidence, probabilities, few)
            spent, theirs = timed(lambda p=peer, e=evidence, f=few: compact_tables(p, model, e, f))
            scaled = spent * len(rows) / len(few)
            shared = best(lambda k=looks, p=probabilities: look_tables(model, p, k))
            times.add(peer.name, scaled + shared)
            times.compare(np.concatenate(ours), np.concatenate(theirs))
    return times


def measure_growth(factors: Iterable[int]) -> dict[str, dict[str, float]]:
    """The engine alone, on networks of several times the size."""
    grown = {}
    for k in factors:
        built, model = timed(lambda k=k: synthetic.model(synthetic.Size().times(k)))
        rested, _ = timed(lambda m=model: rank(m, Evidence(), *open_questions(m, Evidence())))
        times = measure_posterior(model, [], (13, 12))
        ranking = measure_ranking(model, [], (13, 12), sets=2)
        grown[f"{k}x"] = {
            "accounts": len(model.log_prior),
            "conditions": model.network.conditions,
            "build_ms": built,
            "first_ranking_ms": rested,
            "posterior_ms": typical(times.by["here"]),
            "ranking_ms": typical(ranking.by["here"]),
        }
    return grown


def row(label: str, times: Times) -> str:
    """One line of the table."""
    cells = [f"{typical(times.by[n]):.3f}" if n in times.by else "-" for n in NAMES]
    counted = "/".join(str(len(times.by.get(name, []))) for name in NAMES)
    milliseconds = "".join(f"{cell:>10}" for cell in cells)
    return f"{label:44}{milliseconds}{times.ratio():9.1f}   {counted:>7}  {times.apart:.0e}"


def print_growth(growth: dict[str, dict[str, float]]) -> None:
    """Print how the times grow with the network."""
    heads = ("accounts", "build s", "first ask", "posterior", "ranking")
    print(f"\n{'size':6}{''.join(f'{head:>11}' for head in heads)}")
    for size, g in growth.items():
        cells = (
            f"{g['accounts']:.0f}",
            f"{g['build_ms'] / 1e3:.2f}",
            f"{g['first_ranking_ms']:.1f}",
            f"{g['posterior_ms']:.3f}",
            f"{g['ranking_ms']:.1f}",
        )
        print(f"{size:6}{''.join(f'{cell:>11}' for cell in cells)}")
    print("(25 findings, 13 of them looks; milliseconds but for the building.)")


def print_sizes(model: Model) -> None:
    """Say what is measured, and head the table."""
    print(
        f"{model.network.conditions} conditions, {len(model.network.links)} links, "
        f"{len(model.log_prior)} accounts ({model.patterns} distinct patterns), "
        f"{len(model.looks)} looks, {len(model.seats)} shop findings, "
        f"cliques of up to {model.largest_clique} variables.\n"
    )
    print(f"{'milliseconds':44}{''.join(f'{n:>10}' for n in NAMES)}    ratio      sets  apart")


def main() -> None:
    """Measure and print."""
    model = synthetic.model(synthetic.Size())
    encoding = compact_encoding(model)
    agrum = PyAgrum(encoding)
    peers: list[Peer] = [agrum, Pgmpy(encoding)]
    rank(model, Evidence(), *open_questions(model, Evidence()))
    print_sizes(model)
    found = {}
    for label, mix in MIXES.items():
        found[label] = measure_posterior(model, peers, mix)
        print(row(f"from nothing, {label}", found[label]), flush=True)
    look = measure_one_more(model, agrum, look=True)
    print(row("one more look answer, after 25", look))
    reading = measure_one_more(model, agrum, look=False)
    print(row("one more shop finding, after 25", reading), flush=True)
    rankings = {}
    for mix in ((3, 2), (8, 7), (13, 12)):
        label = f"after {sum(mix)}"
        rankings[label] = measure_ranking(model, peers, mix, sets=3)
        print(row(f"ranking all open questions, {label}", rankings[label]), flush=True)
    print(
        "Ratio: the faster library against this engine, body of evidence by body, the median.\n"
        "Sets: the bodies of evidence that each did; a slow library gets fewer.\n"
        "One more answer: pyAgrum incrementally (LazyPropagation); pgmpy has no such thing.\n"
        f"Ranking: pgmpy's time is that of {SAMPLE} findings, scaled up to all that are open."
    )
    growth = measure_growth((1, 4, 16))
    print_growth(growth)
    print(json.dumps(summary(found, look, reading, rankings, growth)))


def summary(
    found: dict[str, Times],
    look: Times,
    reading: Times,
    rankings: dict[str, Times],
    growth: dict[str, dict[str, float]],
) -> dict[str, object]:
    """Return the figures that are worth keeping.

    The single figures are the slowest time here and the smallest ratio; what they are the worst
    of stands beside them.
    """
    posteriors = {label: round(typical(times.by["here"]), 3) for label, times in found.items()}
    ranked = {label: round(typical(times.by["here"]), 1) for label, times in rankings.items()}
    ratios = {label: round(times.ratio(), 1) for label, times in found.items()}
    ratios_ranked = {label: round(times.ratio(), 1) for label, times in rankings.items()}
    return {
        "posterior_ms": max(posteriors.values()),
        "posteriors_ms": posteriors,
        "look_ms": round(typical(look.by["here"]), 3),
        "reading_ms": round(typical(reading.by["here"]), 3),
        "ranking_ms": max(ranked.values()),
        "rankings_ms": ranked,
        "ratio_posterior": min(ratios.values()),
        "ratios_posterior": ratios,
        "ratio_ranking": min(ratios_ranked.values()),
        "ratios_ranking": ratios_ranked,
        "growth": {
            size: {name: round(value, 3) for name, value in figures.items()}
            for size, figures in growth.items()
        },
    }


if __name__ == "__main__":
    main()
