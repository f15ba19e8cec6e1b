"""What the book itself calls its measurements."""

from __future__ import annotations

import re
from collections.abc import Mapping

from diagnose.rulebase.book import Book, once_a_book

_UNIT = re.compile(
    r"\s*[(\[]?\s*(?:%|per ?cent|pct|ppm|deg(?:rees)?\.? ?[CFcf]?|\u00b0 ?[CF]?|mm|in|psi|kpa|kn/m2"
    r"|n/cm2|n/mm2|mpa|min|mins|hrs?|sec)\s*[)\]]?\.?\s*$",
    re.IGNORECASE,
)


@once_a_book
def measurement_names(book: Book) -> Mapping[str, str]:
    """Return every name of a measurement, folded, and the measurement that it means."""
    return {
        name_folded(spelling): entry
        for entry, measurement in book.measurements.items()
        for spelling in (entry, entry.replace("-", " "), measurement.name, *measurement.also)
    }


def name_folded(name: str) -> str:
    """Return a name as it is compared: small letters, without a unit behind it.

    >>> name_folded("CB %"), name_folded("Moisture (%)"), name_folded("in")
    ('cb', 'moisture', 'in')
    """
    plain = " ".join(name.casefold().split())
    return _UNIT.sub("", plain).strip(" :.=") or plain
