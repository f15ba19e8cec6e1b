"""Lists of arrays of different lengths, as two arrays: everything end to end, and the lengths."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, overload

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.cliquetree import Floats, Ints

Arrays = Mapping[str, NDArray[Any]]
"""Plain arrays by name, as they are kept between runs."""
Ragged = tuple[NDArray[np.int32], NDArray[np.int32]]
"""Whole numbers end to end, and how many each list has."""


def joined(lists: Iterable[Iterable[int]]) -> Ragged:
    """Return lists of whole numbers end to end, and how long each is.

    >>> [part.tolist() for part in joined([(4, 5), (), (6,)])]
    [[4, 5, 6], [2, 0, 1]]
    """
    kept = [list(one) for one in lists]
    flat = [number for one in kept for number in one]
    return np.array(flat, np.int32), np.array([len(one) for one in kept], np.int32)


def tuples(flat: NDArray[np.int32], sizes: NDArray[np.int32]) -> list[tuple[int, ...]]:
    """Return the lists that were joined. Raises ValueError where that is not what there is.

    >>> tuples(*joined([(4, 5), (), (6,)]))
    [(4, 5), (), (6,)]
    """
    numbers, at, found = flat.tolist(), 0, []
    for size in sizes.tolist():
        found.append(tuple(numbers[at : at + size]))
        at += size
    if at != len(numbers):
        raise ValueError("not as many numbers as the lists have")
    return found


def end_to_end(arrays: Sequence[Floats]) -> Floats:
    """Return arrays of any shape end to end."""
    return np.concatenate([np.zeros(0), *(array.reshape(-1) for array in arrays)])


def cut(flat: Floats, shapes: Iterable[Sequence[int]]) -> list[Floats]:
    """Return the arrays that stand end to end, given their shapes.

    Raises ValueError where that is not what there is.
    """
    at, found = 0, []
    for shape in shapes:
        size = 1
        for length in shape:
            size *= length
        found.append(flat[at : at + size].reshape(shape))
        at += size
    if at != len(flat):
        raise ValueError("numbers are left over")
    return found


def narrow(numbers: NDArray[Any]) -> NDArray[Any]:
    """Return whole numbers in the narrowest form that holds them.

    >>> narrow(np.array([3, 40])).dtype, narrow(np.array([3, 40_000])).dtype
    (dtype('int16'), dtype('int32'))
    """
    most = int(np.abs(numbers).max(initial=0))
    return numbers.astype(np.int16 if most < 1 << 15 else np.int32)


class Padded(Sequence[tuple[int, ...]]):
    """Lists of whole numbers as the rows of a table, filled up with -1."""

    def __init__(self, table: Ints) -> None:
        self.table = table

    def __len__(self) -> int:
        return len(self.table)

    @overload
    def __getitem__(self, row: int) -> tuple[int, ...]: ...
    @overload
    def __getitem__(self, row: slice) -> list[tuple[int, ...]]: ...
    def __getitem__(self, row: int | slice) -> tuple[int, ...] | list[tuple[int, ...]]:
        """Return one list, or those of a slice."""
        if isinstance(row, slice):
            return [self[k] for k in range(len(self))[row]]
        return tuple(number for number in self.table[row].tolist() if number >= 0)


def padded(lists: Sequence[Sequence[int]]) -> Ints:
    """Return lists of whole numbers as the rows of a table, filled up with -1.

    >>> padded([(4, 5), (6,)]).tolist()
    [[4, 5], [6, -1]]
    """
    flat, sizes = joined(lists)
    table = np.full((len(sizes), max(1, int(sizes.max(initial=0)))), -1, np.intp)
    table[np.arange(table.shape[1]) < sizes[:, None]] = flat
    return table
