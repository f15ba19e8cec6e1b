"""Arrays in one file: they come back as they were, lie even, and a damaged file is refused."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import array_shapes, arrays

from diagnose.basics.arrayfile import (
    check_shapes,
    from_bytes,
    kept_arrays,
    stored_arrays,
    to_bytes,
)

KINDS = st.sampled_from([np.float64, np.float32, np.int32, np.int16, np.uint8, np.uint64])
ANY = KINDS.flatmap(lambda kind: arrays(kind, array_shapes(min_dims=1, max_dims=3, min_side=0)))


@given(st.dictionaries(st.text(max_size=9), ANY, max_size=5))
def test_what_comes_back_is_what_was_kept(some: dict[str, np.ndarray]) -> None:
    back = from_bytes(to_bytes(some))
    assert back.keys() == some.keys()
    for name, array in some.items():
        assert back[name].dtype == array.dtype
        np.testing.assert_array_equal(back[name], array)
        assert not back[name].flags.writeable


def test_what_lies_on_the_disk_lies_even(tmp_path: Path) -> None:
    path = tmp_path / "kept.npy"
    some = {"bytes": np.arange(3, dtype=np.uint8), "wide": np.eye(3), "a": np.arange(5)}
    path.write_bytes(to_bytes(some))
    back = kept_arrays(path)
    assert all(array.flags.aligned for array in back.values())
    assert back["wide"].tolist() == np.eye(3).tolist()


@pytest.mark.parametrize("at", [0, 20, 70, 200, -1])
def test_a_damaged_file_is_refused(at: int) -> None:
    content = bytearray(to_bytes({"a": np.arange(100)}))
    content[at] ^= 4
    with pytest.raises(ValueError, match="not as it was written"):
        from_bytes(bytes(content))


@pytest.mark.parametrize("size", [0, 10, 63, 64, 300])
def test_a_file_cut_short_is_refused(tmp_path: Path, size: int) -> None:
    path = tmp_path / "kept.npy"
    path.write_bytes(to_bytes({"a": np.arange(100)})[:size])
    with pytest.raises(ValueError, match=r"\w"):
        kept_arrays(path)


def test_an_archive_is_read_as_numpy_reads_it(tmp_path: Path) -> None:
    """Against numpy's own reader."""
    path = tmp_path / "weights.npz"
    np.savez(path, **{"one two": np.eye(3), "c": np.arange(7, dtype=np.int8), "0": np.float32(2.5)})
    ours = stored_arrays(path)
    with np.load(path, allow_pickle=False) as theirs:
        assert ours.keys() == {*theirs.files}
        for name in theirs.files:
            assert ours[name].dtype == theirs[name].dtype
            np.testing.assert_array_equal(ours[name], theirs[name])


def test_what_is_packed_or_no_archive_is_refused(tmp_path: Path) -> None:
    packed, other = tmp_path / "packed.npz", tmp_path / "other.npz"
    np.savez_compressed(packed, a=np.zeros(1000))
    other.write_bytes(b"nothing of the kind")
    for path, says in ((packed, "compressed"), (other, "no archive")):
        with pytest.raises(ValueError, match=says):
            stored_arrays(path)


def test_the_shapes_hang_together() -> None:
    some = {"a": np.eye(2), "b": np.arange(2)}
    check_shapes(some, {"a": "f rows columns", "b": "i columns"})
    for like in ({"a": "i rows columns"}, {"b": "i rows columns"}, {"c": "i *"}):
        with pytest.raises(ValueError, match=r"\w"):
            check_shapes(some, like)
