"""Turn frozen dataclasses into plain lists and back, quickly and without a validator.

A dataclass becomes the list of its fields in their order, so no name is written twice. The way
back follows the type hints, looked up once for each class; a part that needs no change, such as a
text or a number, is taken as it is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Any, get_args, get_origin, get_type_hints

Maker = Callable[[Any], Any]

_hints = cache(get_type_hints)


def pack(value: Any) -> Any:
    """Return dataclasses as lists of their fields, tuples as lists, the rest as it is.

    >>> from diagnose.rulebase.book import Area
    >>> pack({"sand": Area(name="sand", hazardous=True)})
    {'sand': ['sand', True]}
    """
    if is_dataclass(value):
        return [pack(getattr(value, field.name)) for field in fields(value)]
    if isinstance(value, dict):
        return {key: pack(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [pack(part) for part in value]
    return value


def unpack(kind: Any, data: Any) -> Any:
    """Return what ``pack`` made the data of; raises ValueError or TypeError where they do not fit.

    >>> from diagnose.rulebase.book import Area
    >>> unpack(dict[str, Area], {"sand": ["sand", True]})
    {'sand': Area(name='sand', hazardous=True)}
    """
    maker = _maker(kind)
    return data if maker is None else maker(data)


@cache
def _maker(kind: Any) -> Maker | None:
    """Return the function that makes this type from its packed form; None: nothing to do."""
    if is_dataclass(kind) and isinstance(kind, type):
        return _dataclass_maker(kind)
    parts, origin = get_args(kind), get_origin(kind)
    if origin is dict:
        return _dict_maker(_maker(parts[1]))
    if origin is tuple:
        return _tuple_maker([_maker(part) for part in parts if part is not Ellipsis])
    if origin is UnionType and NoneType in parts:
        inner = [maker for part in parts if (maker := _maker(part)) is not None]
        return _optional_maker(inner[0]) if inner else None
    return None


def _dataclass_maker(kind: type) -> Maker:
    hints = _hints(kind)
    names = [field.name for field in fields(kind)]
    makers = [
        (number, maker)
        for number, name in enumerate(names)
        if (maker := _maker(hints[name])) is not None
    ]

    def make(row: list[Any]) -> Any:
        for number, maker in makers:
            row[number] = maker(row[number])
        return kind(**dict(zip(names, row, strict=True)))

    # A frozen class sets its fields one by one through two calls each. None of ours does anything
    # else when it is made, so where it has slots they are filled as they are.
    if not all(hasattr(kind.__dict__.get(name), "__set__") for name in names):
        return make
    if hasattr(kind, "__post_init__"):
        return make
    fill = [kind.__dict__[name].__set__ for name in names]
    new: Callable[[type], Any] = object.__new__

    def made(row: list[Any]) -> Any:
        for number, maker in makers:
            row[number] = maker(row[number])
        one = new(kind)
        for put, value in zip(fill, row, strict=True):
            put(one, value)
        return one

    return made


def _dict_maker(maker: Maker | None) -> Maker:
    if maker is None:
        return dict
    made: Maker = maker

    def make(data: dict[str, Any]) -> dict[str, Any]:
        return {key: made(part) for key, part in data.items()}

    return make


def _tuple_maker(makers: list[Maker | None]) -> Maker:
    maker = makers[0]
    if maker is None:
        return tuple
    made: Maker = maker

    def make(data: list[Any]) -> tuple[Any, ...]:
        return tuple([made(part) for part in data])

    return make


def _optional_maker(maker: Maker) -> Maker:
    def make(data: Any) -> Any:
        return None if data is None else maker(data)

    return make
