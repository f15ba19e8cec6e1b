"""The encoder and its classifier in torch, laid out like ``diagnose.words.encoder``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import torch
from torch import Tensor, nn
from torch.nn import functional

from diagnose.words.spans import Span

HEADS = 12
SHARP = 16.0
"""Likenesses of vectors are taken so many times before the classifier's threshold."""
LEAST = 1e-12


@dataclass(frozen=True, slots=True)
class Batch:
    """Texts ready for the network.

    ``numbers``: (texts, longest) pieces, padded; ``there``: where a piece is. ``begin``, ``end``:
    (parts,) places in the text, counted with its first mark; ``text_of``: (parts,) which text.
    """

    numbers: Tensor
    there: Tensor
    begin: Tensor
    end: Tensor
    text_of: Tensor

    @property
    def texts(self) -> int:
        """How many texts there are."""
        return int(self.numbers.shape[0])

    @property
    def whole(self) -> Tensor:
        """Which parts are whole texts."""
        first = torch.ones_like(self.text_of, dtype=torch.bool)
        first[1:] = self.text_of[1:] != self.text_of[:-1]
        return first

    def to(self, device: str) -> Batch:
        """Return the batch on another device."""
        parts = (self.numbers, self.there, self.begin, self.end, self.text_of)
        return Batch(*(part.to(device, non_blocking=True) for part in parts))


def batch_of(
    texts: Sequence[tuple[Sequence[int], Sequence[Span]]], marks: tuple[int, int]
) -> Batch:
    """Lay out texts, each as its pieces and its parts (the whole first), for the network."""
    longest = max(len(numbers) for numbers, _ in texts) + 2
    rows, begin, end, text_of = [], [], [], []
    for k, (numbers, parts) in enumerate(texts):
        row = [marks[0], *numbers, marks[1]]
        rows.append(row + [0] * (longest - len(row)))
        for a, b in parts:
            begin.append(a + 1)
            end.append(b + 1)
            text_of.append(k)
    sizes = torch.tensor([len(numbers) + 2 for numbers, _ in texts])
    there = torch.arange(longest)[None, :] < sizes[:, None]

    return Batch(*map(torch.as_tensor, (rows, there, begin, end, text_of)))


class Network(nn.Module):
    """Pieces to vectors of parts, and parts to classes."""

    def __init__(self, base: Mapping[str, Tensor], layers: Sequence[int], classes: int) -> None:
        """Begin with ``base``, the base encoder's weights for the pieces that are kept."""
        super().__init__()

        def norm(name: str) -> nn.LayerNorm:
            made = nn.LayerNorm(base[name + ".weight"].shape[0], eps=LEAST)
            made.weight.data = base[name + ".weight"].float().clone()
            made.bias.data = base[name + ".bias"].float().clone()
            return made

        pieces = base["embeddings.word_embeddings.weight"].float()
        kinds = base["embeddings.token_type_embeddings.weight"].float()[0]
        places = base["embeddings.position_embeddings.weight"].float()[:128] + kinds
        self.pieces = nn.Embedding.from_pretrained(pieces, freeze=False)
        self.places = nn.Embedding.from_pretrained(places, freeze=False)
        self.norm = norm("embeddings.LayerNorm")
        self.layers = nn.ModuleList(_Layer(base, f"encoder.layer.{n}.", norm) for n in layers)
        self.drop = nn.Dropout(0.1)
        self.head = nn.Linear(pieces.shape[1], classes)

    def states(self, batch: Batch) -> Tensor:
        """Return the state of every piece: (texts, longest, width)."""
        x = self.pieces(batch.numbers) + self.places.weight[: batch.numbers.shape[1]]
        x = self.drop(self.norm(x))
        seen = batch.there[:, None, None, :]
        for layer in self.layers:
            x = layer(x, seen)
        return x

    def parts(self, batch: Batch) -> Tensor:
        """Return a vector of length one for every part: (parts, width)."""
        x = self.states(batch).float() * batch.there[..., None]
        sums = functional.pad(x.cumsum(1), (0, 0, 1, 0))
        vectors = sums[batch.text_of, batch.end] - sums[batch.text_of, batch.begin]
        return functional.normalize(vectors, dim=1)

    def logits(self, batch: Batch, vectors: Tensor) -> Tensor:
        """Return the best logit of any part of a text, for every class: (texts, classes)."""
        each = self.head(vectors * SHARP)
        best = each.new_full((batch.texts, each.shape[1]), -1e4)
        return best.scatter_reduce(0, batch.text_of[:, None].expand_as(each), each, "amax")


class _Layer(nn.Module):
    def __init__(self, base: Mapping[str, Tensor], prefix: str, norm: Any) -> None:
        super().__init__()

        def dense(*names: str) -> nn.Linear:
            weight = torch.cat([base[f"{prefix}{name}.weight"].float() for name in names])
            bias = torch.cat([base[f"{prefix}{name}.bias"].float() for name in names])
            made = nn.Linear(weight.shape[1], weight.shape[0])
            made.weight.data, made.bias.data = weight.clone(), bias.clone()
            return made

        itself = "attention.self."
        self.look = dense(itself + "query", itself + "key", itself + "value")
        self.give = dense("attention.output.dense")
        self.look_norm = norm(prefix + "attention.output.LayerNorm")
        self.widen = dense("intermediate.dense")
        self.narrow = dense("output.dense")
        self.work_norm = norm(prefix + "output.LayerNorm")
        self.drop = nn.Dropout(0.1)

    def forward(self, x: Tensor, seen: Tensor) -> Tensor:
        texts, longest, width = x.shape
        shape = (texts, longest, 3, HEADS, width // HEADS)
        query, key, value = self.look(x).reshape(shape).permute(2, 0, 3, 1, 4)
        mixed = functional.scaled_dot_product_attention(query, key, value, attn_mask=seen)
        mixed = mixed.transpose(1, 2).reshape(texts, longest, width)
        x = self.look_norm(x + self.drop(self.give(mixed)))
        inner = functional.gelu(self.widen(x), approximate="tanh")
        return self.work_norm(x + self.drop(self.narrow(inner)))


def plain_names(weights: Mapping[str, Tensor]) -> dict[str, Tensor]:
    """Return the base encoder's weights by their plain names, whatever stands before them."""
    found = {}
    for name, tensor in weights.items():
        for start in ("embeddings.", "encoder."):
            if (at := name.find(start)) >= 0:
                found[name[at:]] = tensor
                break
    return found
