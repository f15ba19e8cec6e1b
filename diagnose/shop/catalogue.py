"""All sums of the shop by name, gathered from the modules of this folder when first asked for."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from diagnose.shop.calculation import Calculation


@cache
def calculations() -> dict[str, Calculation]:
    """Return every calculation by its name, in the order of the names.

    A module of this folder takes part by having a tuple ``CALCULATIONS``. Raises ValueError when
    two calculations bear one name.
    """
    import diagnose.shop as here

    found: dict[str, Calculation] = {}
    for module in iter_modules(here.__path__, f"{here.__name__}."):
        for each in getattr(import_module(module.name), "CALCULATIONS", ()):
            if each.name in found:
                raise ValueError(f"two calculations are called {each.name!r}")
            found[each.name] = each
    return dict(sorted(found.items()))
