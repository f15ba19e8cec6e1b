"""``python -m tests.bench.shipped``: the shipped book beside pyAgrum, from nothing.

Thin grey iron in green sand, pyAgrum with the compact encoding (``tests/engine/encodings.py``) and
one thread, the same evidence for both, drawn at random, body by body; every answer is checked to
agree. The engine has met each finding before, and nothing of the body itself is kept. Times are
the best of a few runs for each body, and medians over the bodies. The last line is JSON.
"""

from __future__ import annotations

import json

from diagnose.engine.posterior import posterior
from tests.bench.clock import best, timed, typical
from tests.bench.peers import Times, from_nothing
from tests.engine.peers import PyAgrum, compact_encoding, compact_posterior
from tests.engine.test_shipped_rule_base import desk, evidence_for

JOB = "thin grey iron in green sand"
MIXES = {
    "5: 3 looks, 2 in the shop": (3, 2),
    "15: 8 looks, 7 in the shop": (8, 7),
    "25: 13 looks, 12 in the shop": (13, 12),
    "25 in the shop": (0, 25),
    "40 in the shop": (0, 40),
}
SETS = 9


def measure(peer: PyAgrum, mix: tuple[int, int], sets: int = SETS) -> Times:
    """Return the times of both for some bodies of evidence."""
    here = desk(JOB)
    times = Times()
    for seed in range(sets):
        evidence = evidence_for(here, *mix, seed)
        from_nothing(here.model, evidence)
        times.add("here", best(lambda e=evidence: from_nothing(here.model, e)))
        first, answer = timed(lambda e=evidence: compact_posterior(peer, here.model, e))
        again = best(lambda e=evidence: compact_posterior(peer, here.model, e), 2)
        times.add(peer.name, min(first, again))
        times.compare(posterior(here.model, evidence), answer)
    return times


def main() -> None:
    """Measure and print."""
    peer = PyAgrum(compact_encoding(desk(JOB).model))
    print(f"{JOB}, milliseconds\n{'':34}{'here':>8}{'pyAgrum':>9}{'ratio':>7}")
    found = {}
    for label, mix in MIXES.items():
        times = measure(peer, mix)
        ours, theirs = typical(times.by["here"]), typical(times.by[peer.name])
        print(f"{label:34}{ours:8.3f}{theirs:9.2f}{times.ratio():7.1f}", flush=True)
        found[label] = {
            "here_ms": round(ours, 4),
            "pyagrum_ms": round(theirs, 3),
            "ratio": round(times.ratio(), 2),
        }
    print(json.dumps(found))


if __name__ == "__main__":
    main()
