"""The encoder against a slow one written straight from the published description.

Vaswani and others, "Attention is all you need" (2017), sections 3.1 to 3.3, and Devlin and others,
"BERT" (2019), section 3 (from memory): one text at a time, in double precision, nothing packed.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from diagnose.words.model import WEIGHTS, Model
from diagnose.words.spans import spans

PHRASES = [
    "smooth holes",
    "muckle hole where we bored over the core, sides slick, nae sand in it",
    "x",
    "no",
]


@pytest.fixture(scope="module")
def arrays() -> dict[str, Any]:
    with np.load(WEIGHTS / "weights.npz", allow_pickle=False) as stored:
        return dict(stored)


def dense(arrays: dict[str, Any], name: str, x: np.ndarray) -> np.ndarray:
    matrix = arrays[name].astype(float) * arrays[f"{name}:scale"].astype(float)[:, None]
    return x @ matrix.T + arrays[f"{name}:bias"]


def normed(arrays: dict[str, Any], name: str, x: np.ndarray) -> np.ndarray:
    x = (x - x.mean(axis=1, keepdims=True)) / np.sqrt(x.var(axis=1, keepdims=True) + 1e-12)
    return x * arrays[f"{name}:gain"] + arrays[f"{name}:shift"]


def attention(arrays: dict[str, Any], layer: str, x: np.ndarray) -> np.ndarray:
    heads = int(arrays["heads"])
    query, key, value = np.split(dense(arrays, f"{layer}look", x), 3, axis=1)
    size = x.shape[1] // heads
    mixed = []
    for head in range(heads):
        own = slice(head * size, (head + 1) * size)
        scores = query[:, own] @ key[:, own].T / np.sqrt(size)
        shares = np.exp(scores - scores.max(axis=1, keepdims=True))
        mixed.append(shares / shares.sum(axis=1, keepdims=True) @ value[:, own])
    return dense(arrays, f"{layer}give", np.concatenate(mixed, axis=1))


def states(arrays: dict[str, Any], numbers: list[int]) -> np.ndarray:
    pieces = arrays["pieces"].astype(float) * arrays["pieces:scale"].astype(float)[:, None]
    x = pieces[numbers] + arrays["places"].astype(float)[: len(numbers)]
    x = normed(arrays, "norm", x)
    for number in range(sum(name.endswith("widen") for name in arrays)):
        layer = f"layer {number} "
        x = normed(arrays, f"{layer}look norm", x + attention(arrays, layer, x))
        inner = dense(arrays, f"{layer}widen", x)
        inner = 0.5 * inner * (1 + np.tanh(np.sqrt(2 / np.pi) * (inner + 0.044715 * inner**3)))
        x = normed(arrays, f"{layer}work norm", x + dense(arrays, f"{layer}narrow", inner))
    return x


def test_parts_of_phrases_read_together_are_those_of_the_slow_way(
    model: Model, arrays: dict[str, Any]
) -> None:
    vocabulary = model.encoder.vocabulary
    for text, (places, vectors) in zip(PHRASES, model.encoder.read(PHRASES), strict=True):
        pieces = vocabulary.pieces(text)
        inner = states(arrays, [vocabulary.first, *(p.number for p in pieces), vocabulary.last])[
            1:-1
        ]
        means = np.array([inner[begin:end].mean(axis=0) for begin, end in spans(text, pieces)])
        means = means / np.linalg.norm(means, axis=1, keepdims=True)
        np.testing.assert_allclose(vectors, means, atol=2e-4)
        assert places[0] == (0, len(text))


def test_nothing_said_has_no_parts(model: Model) -> None:
    ((places, vectors),) = model.encoder.read(["  "])
    assert places == []
    assert vectors.shape == (0, model.encoder.width)


def test_the_weights_are_small_enough_to_travel() -> None:
    assert sum(path.stat().st_size for path in WEIGHTS.iterdir()) <= 20_000_000
