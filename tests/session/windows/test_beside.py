"""The shop's windows beside the book's: which of them, and by how much they differ."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagnose.rulebase.book import Window
from diagnose.session.windows.beside import Own, beside_the_book
from diagnose.session.windows.file import ShopFile
from tests.shopbook import BOOK, window

MOISTURE, POURING = "sand-moisture", "pouring-temperature"


def beside(*windows: Window, name: str = MOISTURE, scatter: float | None = None) -> list[Own]:
    repeatability = {} if scatter is None else {name: scatter}
    return list(
        beside_the_book(BOOK, ShopFile(windows={name: windows}, repeatability=repeatability))
    )


def bands(own: Own) -> list[tuple[float | None, float | None]]:
    return [(one.window.low, one.window.high) for one in own.beside]


def test_one_for_all_sections_stands_beside_all_of_the_books() -> None:
    """The book: 3.0 to 4.8; up to 12 mm 3.2 to 5.0; from 40 mm 3.0 to 4.5. Repeats to 0.15."""
    (own,) = beside(window(3.0, 3.8))
    assert bands(own) == [(3.0, 4.8), (3.2, 5.0), (3.0, 4.5)]
    assert [one.off for one in own.beside] == [
        {"low": 0.0, "high": -1.0}, {"low": -0.2, "high": -1.2}, {"low": 0.0, "high": -0.7},
    ]  # fmt: skip
    assert [one.telling for one in own.beside] == [("high",), ("low", "high"), ("high",)]


@pytest.mark.parametrize(
    ("section", "theirs"),
    [
        ((None, 10), [(3.0, 4.8), (3.2, 5.0)]),
        ((12, 40), [(3.0, 4.8)]),
        ((11, 41), [(3.0, 4.8), (3.2, 5.0), (3.0, 4.5)]),
        ((60, None), [(3.0, 4.8), (3.0, 4.5)]),
    ],
)
def test_one_for_a_section_stands_beside_those_that_meet_it(
    section: tuple[float | None, float | None], theirs: list[tuple[float, float]]
) -> None:
    (own,) = beside(window(3.0, 3.8, section))
    assert bands(own) == theirs


def test_what_another_window_of_the_shop_is_for_is_left_out() -> None:
    thin, rest = beside(window(1380, 1430, (None, 10)), window(1340, 1400), name=POURING)
    assert bands(thin) == [(1320, 1440), (1380, 1450)]
    assert bands(rest) == [(1320, 1440), (1260, 1340)]


@pytest.mark.parametrize(("scatter", "telling"), [(None, ()), (0.1, ()), (0.09, ("low",))])
def test_what_a_repeated_test_misses_by_does_not_tell(
    scatter: float | None, telling: tuple[str, ...]
) -> None:
    (own,) = beside(window(3.1, 4.8, (12, 40)), scatter=scatter)
    assert own.beside[0].telling == telling


def test_an_end_that_only_one_has_tells() -> None:
    (own,) = beside(window(None, 4.8, (12, 40)))
    assert (own.beside[0].off, own.beside[0].telling) == ({"high": 0.0}, ("low",))


def test_another_metal_has_none_beside_it() -> None:
    (own,) = beside(window(3.0, 3.8, metal=("steel",)))
    assert own.beside == ()


def test_a_window_for_everything_stands_beside_all() -> None:
    (own,) = beside(replace(window(3.0, 3.8), scope=None))
    assert len(own.beside) == 3
