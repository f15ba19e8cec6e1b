"""Names of measurements as the book has them."""

from __future__ import annotations

import pytest

from diagnose.rulebase.measured import measurement_names, name_folded
from tests import shipped


@pytest.mark.parametrize(
    ("written", "folded"),
    [
        ("Moisture", "moisture"),
        ("  Moisture\n(%) ", "moisture"),
        ("moisture, per cent", "moisture,"),
        ("Pouring temp. [deg C]", "pouring temp"),
        ("GCS psi", "gcs"),
        ("Moisture:", "moisture"),
        ("in", "in"),
        ("%", "%"),
        ("", ""),
    ],
)
def test_names_are_compared_without_capitals_and_units(written: str, folded: str) -> None:
    assert name_folded(written) == folded


def test_every_name_of_the_book_means_its_measurement() -> None:
    book = shipped.book()
    names = measurement_names(book)
    for entry, measurement in book.measurements.items():
        for name in (entry, measurement.name, *measurement.also):
            assert names[name_folded(name)] == entry, name
