"""The sentence encoder: word pieces in, one vector for every part of a phrase out; numpy alone.

A transformer encoder (Vaswani and others 2017; Devlin and others 2019; from memory) with weights of
8 bits. The whole phrase is read once, so that every part is understood in its surroundings, and a
part's vector is the mean of its pieces. Why numpy and not a run-time library: docs/words.md.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import sqrt
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.words.pieces import Vocabulary
from diagnose.words.spans import Span, blocks, spans

Floats = NDArray[np.float32]
TINY = 1e-12
"""Keeps a division from going wrong, as the encoder was trained with."""
TOGETHER = 32
"""Blocks of text that are read at a time."""


class Encoder:
    """Reads phrases. ``width``: numbers in a vector."""

    def __init__(self, weights: Mapping[str, Any], vocabulary: Vocabulary) -> None:
        """``weights``: name -> array; those of 8 bits have a scale for every row beside them."""
        self.vocabulary = vocabulary
        self._pieces: NDArray[np.int8] = weights["pieces"]
        self._pieces_scale: Floats = weights["pieces:scale"]
        self._places: Floats = weights["places"].astype(np.float32)
        self._first_norm = (weights["norm:gain"], weights["norm:shift"])
        self.width = self._pieces.shape[1]
        self.heads = int(weights["heads"])
        self.layers = [_Layer(weights, f"layer {n} ", self.heads) for n in range(_count(weights))]

    def read(self, phrases: Sequence[str]) -> list[tuple[list[Span], Floats]]:
        """Return, for every phrase, its parts (as places in the text) and a vector for each.

        The vectors have length one: (parts, width).
        """
        jobs = [(k, *block) for k, text in enumerate(phrases) for block in self._blocks(text)]
        found: list[tuple[list[Span], list[Floats]]] = [([], []) for _ in phrases]
        for at in range(0, len(jobs), TOGETHER):
            some = jobs[at : at + TOGETHER]
            states = self._states([numbers for _, _, numbers, _ in some])
            for (k, places, _, parts), state in zip(some, states, strict=True):
                found[k][0].extend(places)
                found[k][1].append(pooled(state, parts))
        empty = np.zeros((0, self.width), np.float32)
        return [(places, np.concatenate([empty, *vectors])) for places, vectors in found]

    def _blocks(self, text: str) -> list[tuple[list[Span], list[int], list[Span]]]:
        """Return places in the text, numbers of pieces, and parts, for every block of a phrase."""
        pieces = self.vocabulary.pieces(text)
        made = []
        for begin, end in blocks(text, pieces):
            some = pieces[begin:end]
            offset = some[0].start
            inner = text[offset : some[-1].end]
            moved = [p._replace(start=p.start - offset, end=p.end - offset) for p in some]
            parts = spans(inner, moved)
            places = [(some[a].start, some[b - 1].end) for a, b in parts]
            made.append((places, [piece.number for piece in some], parts))
        return made

    def _states(self, numbers: Sequence[Sequence[int]]) -> list[Floats]:
        """Return the states of the pieces of several texts, each read by itself."""
        marked = [[self.vocabulary.first, *one, self.vocabulary.last] for one in numbers]
        sizes = [len(one) for one in marked]
        flat = np.concatenate([np.asarray(one) for one in marked])
        place = np.concatenate([np.arange(size) for size in sizes])
        packing = _Packing(sizes)
        x = self._pieces[flat] * self._pieces_scale[flat, None] + self._places[place]
        x = normed(x, *self._first_norm)
        for layer in self.layers:
            x = layer(x, packing)
        ends = np.cumsum(sizes)
        return [x[end - size + 1 : end - 1] for end, size in zip(ends, sizes, strict=True)]


def pooled(states: Floats, parts: Sequence[Span]) -> Floats:
    """Return the mean state of every part, brought to length one: (parts, width)."""
    sums = np.concatenate([np.zeros((1, states.shape[1]), np.float32), np.cumsum(states, axis=0)])
    begin, end = np.array(parts).T
    vectors = sums[end] - sums[begin]
    return np.asarray(vectors / np.maximum(np.linalg.norm(vectors, axis=1, keepdims=True), TINY))


def normed(x: Floats, gain: Floats, shift: Floats) -> Floats:
    """Bring every row to mean 0 and spread 1, then to a learned gain and shift."""
    x = x - x.mean(axis=1, keepdims=True)
    spread = np.sqrt(np.einsum("ij,ij->i", x, x) / x.shape[1] + TINY)
    return np.asarray(x / spread[:, None] * gain + shift)


class _Packing:
    """Where the pieces of several texts lie in one table of texts by places."""

    def __init__(self, sizes: Sequence[int]) -> None:
        self.texts, self.longest = len(sizes), max(sizes)
        self.rows = np.concatenate(
            [np.arange(size) + k * self.longest for k, size in enumerate(sizes)]
        )
        self.hidden = np.zeros((self.texts, 1, 1, self.longest), np.float32)
        for k, size in enumerate(sizes):
            self.hidden[k, ..., size:] = -1e9


class Dense:
    """A matrix of 8 bits, with a scale for each number that comes out and what is added to it.

    It is widened each time it is used, which takes a tenth of a millisecond, so that all of them
    together take no more room than they do on the disk.
    """

    def __init__(self, weights: Mapping[str, Any], name: str) -> None:
        self.matrix: NDArray[np.int8] = weights[name]
        self.scale: Floats = weights[f"{name}:scale"].astype(np.float32)
        self.bias: Floats = weights[f"{name}:bias"].astype(np.float32)

    def __call__(self, x: Floats) -> Floats:
        """Return x times the matrix, and what is added: (rows, numbers that come out)."""
        found = x @ self.matrix.astype(np.float32).T
        found *= self.scale
        found += self.bias
        return np.asarray(found)


class _Layer:
    """One layer: every piece looks at the others, then is worked over by itself."""

    def __init__(self, weights: Mapping[str, Any], prefix: str, heads: int) -> None:
        def dense(name: str) -> Dense:
            return Dense(weights, prefix + name)

        def norm(name: str) -> tuple[Floats, Floats]:
            return weights[f"{prefix}{name}:gain"], weights[f"{prefix}{name}:shift"]

        self.heads = heads
        self.look, self.give = dense("look"), dense("give")
        self.widen, self.narrow = dense("widen"), dense("narrow")
        self.look_norm, self.work_norm = norm("look norm"), norm("work norm")

    def __call__(self, x: Floats, packing: _Packing) -> Floats:
        x = normed(x + self.give(self._attend(x, packing)), *self.look_norm)
        inner = _gelu(self.widen(x))
        return normed(x + self.narrow(inner), *self.work_norm)

    def _attend(self, x: Floats, packing: _Packing) -> Floats:
        width = x.shape[1]
        table = np.zeros((packing.texts * packing.longest, 3 * width), np.float32)
        table[packing.rows] = self.look(x)
        shape = (packing.texts, packing.longest, 3, self.heads, width // self.heads)
        query, key, value = table.reshape(shape).transpose(2, 0, 3, 1, 4)
        share = query @ key.transpose(0, 1, 3, 2)
        share *= 1.0 / sqrt(width // self.heads)
        share += packing.hidden
        share -= share.max(axis=-1, keepdims=True)
        np.exp(share, out=share)
        share /= share.sum(axis=-1, keepdims=True)
        seen = (share @ value).transpose(0, 2, 1, 3).reshape(-1, width)
        return np.asarray(seen[packing.rows])


def _gelu(x: Floats) -> Floats:
    """Return x times the chance that a normal draw lies below it (the usual tanh form)."""
    inner = x * x
    inner *= 0.044715
    inner += 1.0
    inner *= x
    inner *= 0.7978845608
    np.tanh(inner, out=inner)
    inner += 1.0
    inner *= x
    inner *= 0.5
    return inner


def _count(weights: Mapping[str, Any]) -> int:
    return sum(name.endswith("widen") for name in weights)
