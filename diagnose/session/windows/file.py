"""The shop's own windows: where ``shop.yaml`` is found, and how it is laid over the book."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from hashlib import blake2b
from pathlib import Path

from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Book, Window
from diagnose.rulebase.job import whole_process

NAME = "shop.yaml"
NONE = "none"
"""What DIAGNOSE_SHOP says where no shop file is wanted, not even one that is there."""


@dataclass(frozen=True, slots=True)
class ShopFile:
    """What a shop says of itself; empty where it says nothing.

    ``metal`` and ``process``: what is made unless a reject says otherwise. ``windows``: of each
    measurement, in its own unit, each with the scope in which it holds. ``repeatability``: of
    each measurement, in its own unit.
    """

    name: str = ""
    metal: str = ""
    process: str = ""
    windows: Mapping[str, tuple[Window, ...]] = field(default_factory=dict)
    repeatability: Mapping[str, float] = field(default_factory=dict)

    @property
    def mark(self) -> str:
        """A short text that is another one for other windows or another repeatability."""
        said = repr((sorted(self.windows.items()), sorted(self.repeatability.items())))
        return blake2b(said.encode(), digest_size=8).hexdigest()

    def reject(self) -> Reject:
        """Return a reject of this shop of which nothing is known yet."""
        usual = Reject()
        return Reject(metal=self.metal or usual.metal, process=self.process or usual.process)


def places() -> tuple[Path, ...]:
    """Return where a shop file is looked for, the first place first; none if none is wanted.

    DIAGNOSE_SHOP names the one place; else it is the working folder, then the user's own
    configuration folder.
    """
    if chosen := os.environ.get("DIAGNOSE_SHOP"):
        return () if chosen == NONE else (Path(chosen),)
    from platformdirs import user_config_dir

    return Path(NAME), Path(user_config_dir("diagnose")) / NAME


def shop_path() -> Path | None:
    """Return the shop file to use: the first that is there; one that was named has to be."""
    looked = places()
    if len(looked) == 1:
        return looked[0]
    return next((path for path in looked if os.path.lexists(path)), None)


def with_shop(book: Book, shop: ShopFile) -> Book:
    """Return the book with the shop's windows before its own, and the shop's repeatabilities."""
    measurements = dict(book.measurements)
    for name, said in shop.windows.items():
        own = [_for_every_way(window, book) for window in said]
        windows = (*own, *map(_for_any_section, own), *measurements[name].windows)
        measurements[name] = replace(measurements[name], windows=tuple(dict.fromkeys(windows)))
    for name, value in shop.repeatability.items():
        measurements[name] = replace(measurements[name], repeatability=value)
    return replace(book, measurements=measurements)


def _for_every_way(window: Window, book: Book) -> Window:
    """Return a window for the processes that it names and for every way of doing them.

    The book's window for one way of a process must not go before the shop's own.
    """
    if window.scope is None:
        return window
    named = window.scope.process
    ways = tuple(way for way in book.processes if way not in named and whole_process(way) in named)
    return replace(window, scope=replace(window.scope, process=(*named, *ways)))


def _for_any_section(window: Window) -> Window:
    """Return a window that names no section as one for all of them; any other as it is.

    A window for a section goes before one that names none, and the shop's own has to go before
    any of the book's.
    """
    if window.scope is None or window.scope.section is not None:
        return window
    return replace(window, scope=replace(window.scope, section=(None, None)))
