"""Timing on a machine that does other things as well."""

from __future__ import annotations

from collections.abc import Callable
from statistics import median
from time import perf_counter
from typing import TypeVar

Answer = TypeVar("Answer")


def timed(work: Callable[[], Answer]) -> tuple[float, Answer]:
    """Run once; return milliseconds and the answer."""
    start = perf_counter()
    answer = work()
    return (perf_counter() - start) * 1e3, answer


def best(work: Callable[[], object], repeats: int = 3) -> float:
    """Return the shortest of a few runs in milliseconds: what the machine can do."""
    return min(timed(work)[0] for _ in range(repeats))


def typical(times: list[float]) -> float:
    """Return the median, or infinity for nothing."""
    return median(times) if times else float("inf")
