"""Draw batches to learn from: texts made of examples, laid out, with what they should say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from random import Random

import torch
from torch import Tensor
from torch.utils.data import IterableDataset, get_worker_info

from diagnose.words.classes import CALLED_AS, MEASURED_AS
from diagnose.words.pieces import Vocabulary
from diagnose.words.spans import BLOCK, Span, spans
from diagnose.words.training.corpus import Example
from diagnose.words.training.network import Batch, batch_of
from diagnose.words.training.variety import Sample, single, varied

AGAINST = 6.0
"""Weight of an answer that a text is marked as not meaning."""
ASIDE = 0.2
"""Weight of a fault's name as not said, in a text whose labels do not speak of names."""
BESIDES = 0.25
"""Weight of an answer as not said, where a look that others build on was not labelled at all."""
WEIGHTS = {
    "saying": (1.0, ASIDE, 0.0),
    "said": (1.0, ASIDE, 0.0),
    "remark": (1.0, ASIDE, 0.0),
    "called": (0.0, 1.0, 0.0),
    "reading": (ASIDE, ASIDE, 1.0),
}
"""Kind of text -> what not being labelled weighs for an answer, a fault's name, a reading's."""


@dataclass(frozen=True, slots=True)
class Draw:
    """One batch. ``wanted``, ``weight``: (texts, classes). ``other``: partners that mean the same.

    ``shared``: (texts, partners) which mean something in common without being partners.
    """

    batch: Batch
    wanted: Tensor
    weight: Tensor
    other: Batch
    shared: Tensor


@dataclass(slots=True)
class Layout:
    """Turns texts into pieces and parts, and labels into rows of numbers."""

    classes: Sequence[str]
    vocabulary: Vocabulary
    first_looks: Sequence[str] = ()
    number: dict[str, int] = field(init=False)
    group: list[int] = field(init=False)

    def __post_init__(self) -> None:
        self.number = {name: k for k, name in enumerate(self.classes)}
        self.group = [
            1 if n.startswith(CALLED_AS) else 2 if n.startswith(MEASURED_AS) else 0
            for n in self.classes
        ]

    def laid(self, text: str, *, whole: bool = False) -> tuple[list[int], list[Span]]:
        """Return the numbers of a text's pieces, and its parts, the whole first."""
        pieces = self.vocabulary.pieces(text)[:BLOCK]
        if not pieces:
            return [self.vocabulary.unknown], [(0, 1)]
        parts = [(0, len(pieces))] if whole else spans(text[: pieces[-1].end], pieces)
        return [piece.number for piece in pieces], parts

    def batch(self, texts: Sequence[str], *, whole: bool = False) -> Batch:
        """Lay out several texts."""
        marks = (self.vocabulary.first, self.vocabulary.last)
        return batch_of([self.laid(text, whole=whole) for text in texts], marks)

    def targets(self, samples: Sequence[Sample]) -> tuple[Tensor, Tensor]:
        """Return what each text should say of each class, and how much that weighs."""
        wanted = torch.zeros(len(samples), len(self.classes))
        weight = torch.zeros(len(samples), len(self.classes))
        of_kind = {kind: torch.tensor(some)[self.group] for kind, some in WEIGHTS.items()}
        first = {look: [k for k, name in enumerate(self.classes) if name.startswith(look + "=")]
                 for look in self.first_looks}  # fmt: skip
        for k, one in enumerate(samples):
            weight[k] = of_kind[one.kind]
            labelled = {name.partition("=")[0] for name in (*one.means, *one.never)}
            for look, columns in first.items():
                if one.means and one.kind != "remark" and look not in labelled:
                    weight[k, columns] *= BESIDES
            for names, value in ((one.never, AGAINST), (one.may, 0.0)):
                weight[k, [self.number[n] for n in names if n in self.number]] = value
            for name, share in one.means.items():
                wanted[k, self.number[name]] = share
                weight[k, self.number[name]] = 1.0
        return wanted, weight


class Samples(IterableDataset[Draw]):
    """An endless row of batches; the same for the same seed and number of workers."""

    def __init__(self, examples: Sequence[Example], layout: Layout, size: int, seed: int) -> None:
        super().__init__()
        self.examples, self.layout, self.size, self.seed = examples, layout, size, seed
        self.of_class: dict[str, list[Example]] = {}
        for example in examples:
            for name in example.means:
                self.of_class.setdefault(name, []).append(example)
        self.said = [e for e in examples if e.kind in ("said", "remark")]
        self.answering = [e for e in examples if e.kind in ("saying", "said", "remark")]
        names = list(self.of_class)
        self.faults = [n for n in names if n.startswith(CALLED_AS)]
        self.measured = [n for n in names if n.startswith(MEASURED_AS)]
        self.answers = [n for n in names if n not in {*self.faults, *self.measured}]

    def __iter__(self) -> Iterator[Draw]:
        worker = get_worker_info()
        draw = Random(self.seed * 1000 + (worker.id if worker else 0))
        while True:
            yield self._draw(draw)

    def _draw(self, draw: Random) -> Draw:
        drawn = [self._sample(draw) for _ in range(self.size)]
        samples = [sample for sample, _ in drawn]
        partners = [self._partner(example, draw) for _, example in drawn]
        wanted, weight = self.layout.targets(samples)
        same, _ = self.layout.targets([single(e) for e in partners])
        shared = ((wanted > 0.5).float() @ (same > 0.5).float().T) > 0
        shared &= ~torch.eye(self.size, dtype=torch.bool)
        batch = self.layout.batch([sample.text for sample in samples])
        other = self.layout.batch([e.text for e in partners], whole=True)
        return Draw(batch, wanted, weight, other, shared)

    def _sample(self, draw: Random) -> tuple[Sample, Example]:
        """Return a text to learn from, and the example that it begins with."""
        kind = draw.random()
        if kind < 0.2:
            names = self.faults if kind < 0.07 else self.measured
            example = draw.choice(self.of_class[draw.choice(names)])
            return varied([example], draw), example
        if draw.random() < 0.5:
            first = draw.choice(self.of_class[draw.choice(self.answers)])
        else:
            first = draw.choice(self.said if draw.random() < 0.75 else self.answering)
        more = draw.choice((0, 0, 0, 0, 1, 1, 2))
        return varied([first, *(draw.choice(self.answering) for _ in range(more))], draw), first

    def _partner(self, example: Example, draw: Random) -> Example:
        if not example.means:
            return draw.choice(self.examples)
        return draw.choice(self.of_class[draw.choice(example.means)])
