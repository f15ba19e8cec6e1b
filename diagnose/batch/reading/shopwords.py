"""The shop's own fault words: taught once, kept in its own file, and heard before all others.

The file lies beside ``shop.yaml`` in the user's configuration folder, or where DIAGNOSE_WORDS says:

    fault words:
      "CB2": {blow-core-gas: 1}
      "short": {misrun: 0.6, poured-short: 0.4}
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from diagnose.basics.atomic_write import write_whole
from diagnose.basics.errors import Fault, Place, Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.batch.reading.knownwords import Shares, scaled
from diagnose.rulebase.book import Book

NAME = "words.yaml"
NONE = "none"
"""What DIAGNOSE_WORDS says where no such file is wanted."""
LIST = "fault words"
LIMIT = 1_000_000
"""Bytes of the file."""
HEAD = "# What this shop's scrap sheets call faults, and how likely each is meant.\n"


def words_path() -> Path | None:
    """Return where the shop's own words are kept; None where none are wanted."""
    if chosen := os.environ.get("DIAGNOSE_WORDS"):
        return None if chosen == NONE else Path(chosen)
    from platformdirs import user_config_dir

    return Path(user_config_dir("diagnose")) / NAME


def taught(path: Path | None, book: Book) -> dict[str, Shares]:
    """Return word -> what it means; nothing where there is no file. Raise Fault for a bad one."""
    if path is None or not os.path.lexists(path):
        return {}
    from diagnose.rulebase.yamlread import read

    document = read(path, str(path), LIMIT)
    data = document.data if isinstance(document.data, dict) else {}
    rows = data.get(LIST, {})
    if not isinstance(rows, dict) or set(data) - {LIST}:
        what = f"This is no file of fault words: it has the heading {LIST!r} and nothing else."
        raise Fault(Problem(document.place_of(()), what))
    problems: list[Problem] = []
    found = {}
    for word, means in rows.items():
        try:
            found[document.written.get((LIST, word), str(word))] = _shares(book, means)
        except Fault as fault:
            place = document.place_of((LIST, word))
            problems += [Problem(place, one.what, one.instead) for one in fault.problems]
    if problems:
        raise Fault(*problems)
    return found


def teach(path: Path, book: Book, word: str, means: Mapping[str, float]) -> None:
    """Keep what a word means; a later word goes before an earlier. Raise Fault if it cannot be."""
    import yaml

    words = taught(path, book) | {word.strip(): _shares(book, dict(means))}
    plain = {name: {k: round(v, 4) for k, v in shares.items()} for name, shares in words.items()}
    text = yaml.safe_dump({LIST: plain}, allow_unicode=True, default_flow_style=None, width=100)
    try:
        write_whole(path, (HEAD + text).encode())
    except OSError as error:
        raise Fault(f"{path} could not be written: {error.strerror or error}.") from None


def _shares(book: Book, means: Any) -> Shares:
    """Return what a word means as shares that add up to 1; a name alone is sure."""
    if isinstance(means, str):
        means = {means: 1.0}
    if not isinstance(means, dict) or not means:
        raise Fault("Write what it means like this: {misrun: 0.6, poured-short: 0.4}.")
    for name, share in means.items():
        if name not in book.defects:
            instead = did_you_mean(str(name), book.defects, "fault")
            raise Fault(Problem(Place(), f"No fault is called {name!r}.", instead))
        if isinstance(share, bool) or not isinstance(share, int | float) or not 0 < share <= 100:
            raise Fault(f"{name}: {share!r} is no probability.")
    return scaled({str(name): float(share) for name, share in means.items()})
