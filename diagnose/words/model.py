"""The trained reader as it lies in the program: encoder, classifier, curves and what it knows."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.basics.arrayfile import stored_arrays
from diagnose.words.calibration import Curve
from diagnose.words.encoder import Dense, Encoder, Floats
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
        """Open the weights of a folder; they stay on the disk until a phrase needs them."""
        arrays = stored_arrays(folder / "weights.npz")
        pieces = (folder / "pieces.txt").read_text(encoding="utf-8").splitlines()
        self.classes = (folder / "classes.txt").read_text(encoding="utf-8").splitlines()
        self.facts: dict[str, Any] = json.loads((folder / "facts.json").read_text("utf-8"))
        self.encoder = Encoder(arrays, Vocabulary(pieces))
        self._classes = Dense(arrays, "classes")
        self.learned: NDArray[np.uint64] = arrays.get("learned", np.zeros(0, np.uint64))

    def curve(self, name: str) -> Curve:
        """Return one of the curves that were fitted: ``answers``, ``called``, ``measured``, ..."""
        return Curve(tuple(self.facts["curves"][name]))

    def read(self, phrases: Sequence[str]) -> list[Read]:
        """Read phrases."""
        return [
            Read(parts, vectors, self._classes(vectors))
            for parts, vectors in self.encoder.read(phrases)
        ]
