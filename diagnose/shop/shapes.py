"""Volume, cooling surface, modulus and weight of the usual shapes."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.metal import LIQUID, SOLID


@dataclass(frozen=True, slots=True)
class Shape:
    """A simple solid: the sizes it wants in mm, its volume in mm3 and its surface in mm2."""

    sizes: tuple[str, ...]
    volume: Callable[..., float]
    surface: Callable[..., float]


def _ring_section(outside: float, inside: float) -> float:
    if inside >= outside:
        raise OutOfRange(
            f"inside: {figure(inside)} mm is not less than the outside, {figure(outside)} mm."
        )
    return math.pi / 4 * (outside**2 - inside**2)


SHAPES: Final[Mapping[str, Shape]] = {
    "plate": Shape(
        ("length", "width", "thickness"),
        lambda length, width, thickness: length * width * thickness,
        lambda length, width, thickness: (
            2 * (length * width + length * thickness + width * thickness)
        ),
    ),
    "bar": Shape(
        ("length", "width", "thickness"),
        lambda length, width, thickness: length * width * thickness,
        lambda length, width, thickness: 2 * length * (width + thickness),
    ),
    "cube": Shape(("side",), lambda side: side**3, lambda side: 6 * side**2),
    "cylinder": Shape(
        ("diameter", "height"),
        lambda diameter, height: math.pi / 4 * diameter**2 * height,
        lambda diameter, height: math.pi * diameter * (height + diameter / 2),
    ),
    "sphere": Shape(
        ("diameter",),
        lambda diameter: math.pi / 6 * diameter**3,
        lambda diameter: math.pi * diameter**2,
    ),
    "ring": Shape(
        ("outside", "inside", "height"),
        lambda outside, inside, height: _ring_section(outside, inside) * height,
        lambda outside, inside, height: (
            math.pi * (outside + inside) * height + 2 * _ring_section(outside, inside)
        ),
    ),
}
"""The shapes by name. All faces cool, but a bar is taken to run on at both ends."""

DENSITIES: Final[Mapping[str, float]] = {"solid": SOLID, "liquid": LIQUID}

_SOURCE = "Geometry; modulus = volume / cooling surface (Chvorinov)."
_WEIGHT_SOURCE = (
    "Geometry; solid grey iron 7200 kg/m3 (0.26 lb/in3 in an old weighting rule, read), liquid "
    "6900 (memory)."
)


def volume(shape: str, sizes: Mapping[str, float]) -> float:
    """Return the volume in mm3 of a shape from its sizes in mm.

    Raises OutOfRange for an unknown shape and for missing, unknown or impossible sizes.

    >>> volume("plate", {"length": 300, "width": 100, "thickness": 20})
    600000
    """
    return _checked(shape, sizes).volume(**sizes)


def surface(shape: str, sizes: Mapping[str, float]) -> float:
    """Return the cooling surface in mm2 of a shape from its sizes in mm.

    >>> surface("plate", {"length": 300, "width": 100, "thickness": 20})
    76000
    """
    return _checked(shape, sizes).surface(**sizes)


def modulus(shape: str, sizes: Mapping[str, float]) -> float:
    """Return volume over cooling surface in mm.

    References: Q&A page (read), 1.111 cm for a plate of 10 x 10 x 4 cm.

    >>> round(modulus("plate", {"length": 100, "width": 100, "thickness": 40}), 2)
    11.11
    """
    return volume(shape, sizes) / surface(shape, sizes)


def _checked(shape: str, sizes: Mapping[str, float]) -> Shape:
    if shape not in SHAPES:
        raise OutOfRange(f"shape {shape!r} is not known; right would be {', '.join(SHAPES)}.")
    wanted = SHAPES[shape].sizes
    problems = [f"sizes: {name} of the {shape} is missing." for name in wanted if name not in sizes]
    problems += [
        f"sizes: a {shape} has no {name}; it wants {', '.join(wanted)}."
        for name in sizes
        if name not in wanted
    ]
    problems += [
        f"sizes, {name}: {size:g} mm cannot be; right would be above 0."
        for name, size in sizes.items()
        if not (math.isfinite(size) and size > 0)
    ]
    if problems:
        raise OutOfRange(*problems)
    return SHAPES[shape]


def _sizes_in_words(sizes: Mapping[str, float]) -> str:
    return ", ".join(f"{name} {figure(size)}" for name, size in sizes.items())


def _work_modulus(shape: str, sizes: Mapping[str, float]) -> Worked:
    value = modulus(shape, sizes)
    lines = steps(
        f"modulus of a {shape} ({_sizes_in_words(sizes)} mm) = volume / cooling surface",
        f"{figure(volume(shape, sizes))} mm3 / {figure(surface(shape, sizes))} mm2",
        value,
        "mm",
    )
    warnings = ("long bar: its ends do not count",) if shape == "bar" else ()
    return Worked(value, "mm", lines, _SOURCE, warnings)


def _work_weight(shape: str, sizes: Mapping[str, float], metal: str) -> Worked:
    density = DENSITIES[metal]
    value = volume(shape, sizes) * density / 1e9
    lines = steps(
        f"weight of a {shape} ({_sizes_in_words(sizes)} mm) = volume x density",
        f"{figure(volume(shape, sizes) / 1000)} cm3 x {figure(density)} kg/m3",
        value,
        "kg",
    )
    return Worked(value, "kg", lines, _WEIGHT_SOURCE)


_SHAPE = Input("shape", "which shape", "", choices=tuple(SHAPES))
_SIZES = Input("sizes", "its sizes, by name", "mm", 0.1, 20000, table=True)
CALCULATIONS = (
    Calculation("modulus", "Modulus of a shape", (_SHAPE, _SIZES), "mm", _SOURCE, _work_modulus),
    Calculation(
        "weight",
        "Weight from the sizes",
        (
            _SHAPE,
            _SIZES,
            Input(
                "metal",
                "solid casting or liquid iron",
                "",
                choices=tuple(DENSITIES),
                default="solid",
            ),
        ),
        "kg",
        _WEIGHT_SOURCE,
        _work_weight,
    ),
)
