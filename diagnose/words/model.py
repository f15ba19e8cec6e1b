"""The trained reader as it lies in the program: encoder, classifier, curves and what it knows."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.words.calibration import Curve
from diagnose.words.encoder import Encoder, Floats
from diagnose.words.pieces import Vocabulary
from diagnose.words.spans import Span

WEIGHTS = Path(__file__).parent / "weights"


@dataclass(frozen=True, slots=True)
class Read:
    """What the encoder makes of one phrase.

    ``parts``: places in the text; ``vectors``: (parts, width); ``logits``: (parts, classes).
    """

    parts: list[Span]
    vectors: Floats
    logits: Floats


class Model:
    """Phrases in, a number for every class and part out."""

    def __init__(self, folder: Path = WEIGHTS) -> None:
        """Load the weights of a folder; the arrays are plain numbers, nothing is executed."""
        with np.load(folder / "weights.npz", allow_pickle=False) as stored:
            arrays: dict[str, Any] = dict(stored)
        pieces = (folder / "pieces.txt").read_text(encoding="utf-8").splitlines()
        self.classes = (folder / "classes.txt").read_text(encoding="utf-8").splitlines()
        self.facts: dict[str, Any] = json.loads((folder / "facts.json").read_text("utf-8"))
        self.encoder = Encoder(arrays, Vocabulary(pieces))
        matrix = arrays["classes"] * arrays["classes:scale"][:, None]
        self._classes: Floats = np.ascontiguousarray(matrix.T.astype(np.float32))
        self._threshold: Floats = arrays["classes:bias"]
        self.learned: NDArray[np.uint64] = arrays.get("learned", np.zeros(0, np.uint64))

    def curve(self, name: str) -> Curve:
        """Return one of the curves that were fitted: ``answers``, ``called``, ``measured``, ..."""
        return Curve(tuple(self.facts["curves"][name]))

    def read(self, phrases: Sequence[str]) -> list[Read]:
        """Read phrases."""
        return [
            Read(parts, vectors, vectors @ self._classes + self._threshold)
            for parts, vectors in self.encoder.read(phrases)
        ]
