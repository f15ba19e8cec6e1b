"""One reading, or a series of them: the same sum serves both."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, TypeVar

from diagnose.shop.calculation import OutOfRange, figure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Reading = TypeVar("Reading", float, "NDArray[np.float64]")
"""A number, or a numpy array of numbers; what goes in comes out."""


def within(
    name: str,
    value: Reading,
    unit: str,
    low: float = 0.0,
    high: float = math.inf,
    *,
    above: bool = False,
) -> None:
    """Raise OutOfRange unless every reading lies from ``low`` to ``high``.

    With ``above``, ``low`` itself is refused too. Readings that are not finite are refused.

    >>> within("moisture", 3.3, "%", 0, 100)
    >>> within("time", 0.0, "s", above=True)
    Traceback (most recent call last):
    diagnose.shop.calculation.OutOfRange: time: 0 s cannot be; right would be above 0 s.
    """
    if isinstance(value, float | int):
        least, most = float(value), float(value)
    else:
        least, most = float(value.min()), float(value.max())
    enough = least > low if above else least >= low
    if enough and most <= high and math.isfinite(most):
        return
    wrong = most if enough and not math.isnan(most) else least
    words: list[str] = [f"{'above' if above else 'from'} {figure(low)}"]
    if high < math.inf:
        words.append(f"to {figure(high)}")
    raise OutOfRange(
        f"{name}: {figure(wrong)} {unit}".rstrip()
        + f" cannot be; right would be {' '.join([*words, unit]).rstrip()}."
    )
