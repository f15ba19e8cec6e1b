"""``python -m tests.bench.hearing``: how long it takes to hear a phrase, and two thousand of them.

Beside the times stands what a bare matrix product of the same size takes on this machine, so that
runs on different machines can be compared.
"""

from __future__ import annotations

import json
import time

import numpy as np

from diagnose.session.session import open_session
from tests.golden.heard import open_utterances

MANY = 2000


def seconds(size: int = 400, runs: int = 20) -> float:
    """Return how long a product of two square matrices takes."""
    table = np.ones((size, size), np.float32)
    start = time.perf_counter()
    for _ in range(runs):
        table @ table
    return (time.perf_counter() - start) / runs


def main() -> None:
    """Print the table."""
    session = open_session()
    texts = [row.text for row in open_utterances(session.book)][:MANY]
    _ = session.desk
    start = time.perf_counter()
    session.understand(texts[0])
    first = time.perf_counter() - start
    start = time.perf_counter()
    for text in texts[1:101]:
        session.understand(text)
    later = (time.perf_counter() - start) / 100
    start = time.perf_counter()
    session.understand_all(texts)
    together = time.perf_counter() - start
    product = seconds()
    print(f"first phrase {1000 * first:.0f} ms, later ones {1000 * later:.1f} ms each")
    print(f"{len(texts)} phrases together {together:.1f} s")
    print(f"a product of two 400 x 400 matrices {1000 * product:.2f} ms")
    print(json.dumps({"first": first, "later": later, "together": together, "product": product}))


if __name__ == "__main__":
    main()
