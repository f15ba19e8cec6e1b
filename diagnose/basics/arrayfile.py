"""Arrays in one file, in numpy's own format; nothing in it is ever executed.

``to_bytes`` writes array after array as ``numpy.save`` does, the first one holding the names;
``from_bytes`` shows them where they lie, without a copy. ``stored_arrays`` shows those of an
archive of ``numpy.savez`` where they lie on the disk, so that only what is used is ever read.
"""

from __future__ import annotations

import json
import mmap
from collections.abc import Mapping
from functools import lru_cache
from io import BytesIO
from math import prod
from pathlib import Path
from typing import Any
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

Array = NDArray[Any]
LINE = 64
"""Bytes of the first line, so that the arrays behind it lie even."""
_LOCAL = b"PK\x03\x04"
_LOCAL_SIZE = 30
"""Bytes before the name of a member of an archive (PKWARE's APPNOTE, 4.3.7; from memory)."""


def to_bytes(arrays: Mapping[str, Array]) -> bytes:
    """Return arrays as the content of one file: a line with a checksum, the names, the arrays.

    The widest numbers come first, so that all lie even.

    >>> from_bytes(to_bytes({"a": np.arange(3), "b": np.eye(1)}))["a"].tolist()
    [0, 1, 2]
    """
    names = sorted(arrays, key=lambda name: -arrays[name].dtype.itemsize)
    listed = json.dumps(names).encode()
    file = BytesIO()
    np.save(file, np.frombuffer(listed.ljust(-len(listed) % 64 + len(listed)), np.uint8))
    for name in names:
        np.save(file, np.ascontiguousarray(arrays[name]), allow_pickle=False)
    return _first_line(file.getbuffer()) + file.getvalue()


def from_bytes(content: bytes | mmap.mmap) -> dict[str, Array]:
    """Return the arrays of a file, read-only, where they lie.

    Raises ValueError where it is not one of ours, or not as it was written.
    """
    with memoryview(content) as whole:
        if bytes(whole[:LINE]) != _first_line(whole[LINE:]):
            raise ValueError("not as it was written")
    listed, at = _array_at(content, LINE)
    found: dict[str, Array] = {}
    for name in json.loads(listed.tobytes()):
        found[str(name)], at = _array_at(content, at)
    return found


def kept_arrays(path: Path) -> dict[str, Array]:
    """Return the arrays of a file where they lie on the disk.

    Raises OSError where it cannot be read, ValueError where it is not one of ours.
    """
    with path.open("rb") as file:
        return from_bytes(mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ))


def _first_line(content: memoryview) -> bytes:
    """Return the line that stands before: a checksum against damage, not against malice."""
    return f"arrays {crc32(content):08x}".encode().ljust(LINE - 1) + b"\n"


def stored_arrays(path: Path) -> dict[str, Array]:
    """Return the arrays of an archive that is not compressed, as they lie on the disk.

    Raises ValueError for any other file.
    """
    with path.open("rb") as file:
        mapped = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ)
    found: dict[str, Array] = {}
    at = 0
    while mapped[at : at + 4] == _LOCAL:
        method = int.from_bytes(mapped[at + 8 : at + 10], "little")
        name_size = int.from_bytes(mapped[at + 26 : at + 28], "little")
        extra_size = int.from_bytes(mapped[at + 28 : at + 30], "little")
        name = mapped[at + _LOCAL_SIZE : at + _LOCAL_SIZE + name_size].decode()
        if method != 0:
            raise ValueError(f"{path.name}: {name} is compressed")
        begin = at + _LOCAL_SIZE + name_size + extra_size
        found[name.removesuffix(".npy")], at = _array_at(mapped, begin)
    if not found:
        raise ValueError(f"{path.name} is no archive of arrays")
    return found


def check_shapes(arrays: Mapping[str, Array], like: Mapping[str, str]) -> None:
    """Raise ValueError where arrays are not as they should be.

    ``like``: for each name the kind of number (``i``, ``u``, ``f``), then what each axis counts;
    the same word means the same length everywhere, ``*`` any length.

    >>> check_shapes({"a": np.eye(2)}, {"a": "f rows rows"})
    >>> check_shapes({"a": np.ones((2, 3))}, {"a": "f rows rows"})
    Traceback (most recent call last):
        ...
    ValueError: a: 3 rows, and 2 elsewhere
    """
    known: dict[str, int] = {}
    for name, said in like.items():
        kind, *axes = said.split()
        if name not in arrays or arrays[name].dtype.kind != kind or arrays[name].ndim != len(axes):
            raise ValueError(f"{name}: not there, or of another kind")
        for axis, length in zip(axes, arrays[name].shape, strict=True):
            if axis != "*" and known.setdefault(axis, length) != length:
                raise ValueError(f"{name}: {length} {axis}, and {known[axis]} elsewhere")


def _array_at(content: bytes | mmap.mmap, at: int) -> tuple[Array, int]:
    """Return the array that stands at a place, and where it ends."""
    begin = at + 10 + int.from_bytes(content[at + 8 : at + 10], "little")
    shape, kind = _said_by(content[at:begin])
    count = prod(shape)
    return np.frombuffer(content, kind, count, begin).reshape(shape), begin + count * kind.itemsize


@lru_cache(maxsize=512)
def _said_by(head: bytes) -> tuple[tuple[int, ...], np.dtype[Any]]:
    """Return the shape and the kind of number that the head of an array says."""
    file = BytesIO(head)
    if np.lib.format.read_magic(file) != (1, 0):
        raise ValueError("an array of another version of the format")
    shape, by_column, kind = np.lib.format.read_array_header_1_0(file)
    if kind.hasobject or by_column:
        raise ValueError("an array that is not of plain numbers, row by row")
    return shape, kind
