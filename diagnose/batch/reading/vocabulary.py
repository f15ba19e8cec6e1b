"""The fault words and remarks of all sheets, each once."""

from __future__ import annotations

import numpy as np

from diagnose.batch.reading.data import Codes, Floats
from diagnose.batch.reading.grid import Coded
from diagnose.batch.reading.knownwords import folded
from diagnose.batch.reading.levels import is_ditto
from diagnose.sheets.numbers import is_nothing
from diagnose.sheets.table import Cell


class Vocabulary:
    """Texts by number; two that differ only by signs and capitals are one if ``fold``."""

    def __init__(self, *, fold: bool) -> None:
        self.fold = fold
        self.texts: list[str] = []
        self._numbers: dict[str, int] = {}

    def code(self, text: str) -> int:
        """Return the number of a text."""
        key = (folded(text) or text.strip()) if self.fold else " ".join(text.split())
        number = self._numbers.setdefault(key, len(self.texts))
        if number == len(self.texts):
            self.texts.append(text)
        return number

    def codes(self, column: Coded) -> Codes:
        """Return the text of each row, -1 for none."""
        of_value = np.array([self._of_cell(cell) for cell in column.values], dtype=np.int32)
        return column.spread(of_value, -1).astype(np.int32)

    def _of_cell(self, cell: Cell) -> int:
        text = f"{cell:.12g}" if isinstance(cell, float) else str(cell)
        if is_nothing(cell) or is_ditto(cell):
            return -1
        return self.code(text)

    def counts(self, codes: Codes, amounts: Floats) -> Floats:
        """Return how much stands of each text."""
        known = codes >= 0
        counts = np.bincount(codes[known], amounts[known], len(self.texts))
        return counts.astype(np.float64)
