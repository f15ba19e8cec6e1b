"""Read the sheets of a scrap batch: from files to numbers that can be counted and charted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from diagnose.basics.errors import Fault
from diagnose.batch.reading.columnfile import keep_columns, kept_columns
from diagnose.batch.reading.common import Shared
from diagnose.batch.reading.data import BatchData
from diagnose.batch.reading.faultwords import FaultWords
from diagnose.batch.reading.gather import Gathered, gathered
from diagnose.batch.reading.given import Ask, Given, Progress, Question, Way
from diagnose.batch.reading.layout import POURED, READINGS, SCRAP, Columns, Page
from diagnose.batch.reading.pages import Found, pages_of
from diagnose.batch.reading.pouredsheet import read_poured
from diagnose.batch.reading.readingsheet import quantities, read_readings
from diagnose.batch.reading.scrap import Part, read_scrap
from diagnose.batch.reading.senses import BatchNames
from diagnose.batch.reading.shopwords import taught, words_path
from diagnose.batch.tables.engine import need_libraries
from diagnose.rulebase.folder import knowledge_folder

if TYPE_CHECKING:
    from diagnose.session.library import Library

READERS = {SCRAP: read_scrap, POURED: read_poured, READINGS: read_readings}


def read_batch(
    paths: Sequence[Path], *, library: Library, poured: Path | None = None,
    readings: Path | None = None, given: Given | None = None, ask: Ask | None = None,
    progress: Progress | None = None, knowledge: Path | None = None, metal: str = "grey iron",
) -> BatchData:  # fmt: skip
    """Return a scrap batch as numbers.

    ``paths``: scrap sheets; a workbook may hold the castings poured and the readings as well.
    ``ask``: puts questions to the person; without it whatever is not sure raises Fault with the
    option that settles it. ``progress``: is told how far it is. ``metal``: what the castings are
    of. Raises Fault for every other thing that can be mended.
    """
    need_libraries()
    given = given or Given()
    tell = progress or (lambda _share, _what: None)
    tell(0.0, "fault words")
    words = FaultWords(
        library,
        knowledge_folder(knowledge),
        taught(words_path(), library.book),
        metal,
    )
    names = BatchNames(library.book, lambda text: _counts_a_fault(words, text))
    shared = Shared(names, given, ask)
    gather = Gathered(shared, words, library, tell)
    files = [*((path, "") for path in paths), (poured, POURED), (readings, READINGS)]
    wanted = [(Path(path), kind) for path, kind in files if path is not None]
    unmet: set[str] | None = None
    for number, (path, kind) in enumerate(wanted):
        told = partial(_tell, tell, path.name, number, len(wanted))
        told(0.0)
        left = _read_file(path, kind, gather, told)
        unmet = left if unmet is None else unmet & left
    if unmet:
        raise Fault(f"No column is headed {sorted(unmet)[0]!r}, of which something was said.")
    tell(0.6, "counting")
    return gathered(gather, ", ".join(str(path) for path in paths))


def _counts_a_fault(words: FaultWords, text: str) -> bool:
    """Tell whether a heading is a fault's name, so that the column counts that fault."""
    named = words.by_letter(text)
    return named is not None and bool(named.faults)


def _tell(tell: Progress, name: str, number: int, files: int, share: float) -> None:
    tell(0.05 + 0.55 * (number + share) / files, f"reading {name}")


def _read_file(path: Path, kind: str, gather: Gathered, tell: Callable[[float], None]) -> set[str]:
    """Read the tables of one file; return the headings that something was said of in vain."""
    shared = gather.shared
    kept, given = kept_columns(path, shared.given)
    columns = Columns(shared.names, given.columns, kept, shared.ask)
    found = pages_of(path, kind, shared.names, columns, given, tell)
    own = replace(shared, given=given, answers={})
    found.pages = [quantities(page) if page.kind == READINGS else page for page in found.pages]
    parts = [(page, _part(page, own)) for page in found.pages]
    if shared.ask is not None:
        _confirm(path, found, columns, own, shared.ask)
    for page, part in parts:
        gather.add(page, part)
    gather.unread += found.unread
    gather.warnings += [f"{path.name}: {text}" for text in found.remarks]
    return set(columns.unmet())


def _part(page: Page, shared: Shared) -> Part:
    return READERS[page.kind](page, shared)


def _confirm(path: Path, found: Found, columns: Columns, shared: Shared, ask: Ask) -> None:
    """Have the headings confirmed, once: all of them are then kept beside the sheet."""
    held = [column for page in found.pages for column in page.columns]
    new = [column for column in held if column.heading.casefold() not in columns.kept]
    if not new and not columns.answers and not shared.answers:
        return
    taken = "; ".join(f"{column.heading}: {shared.names.called(column.holds)}" for column in held)
    ways = (Way("yes", "they are right; keep them", ""), Way("no", "stop", ""))
    if ask(Question("headings", f"{path.name}: {taken}. Is that right?", ways)) != "yes":
        raise Fault("Nothing was read. Say what a column holds with --column HEADING=NAME.")
    given = replace(
        shared.given,
        order=shared.answers.get("order", shared.given.order),
        decimal=shared.answers.get("decimal", shared.given.decimal),
        carry={"yes": True, "no": False}.get(shared.answers.get("carry", ""), shared.given.carry),
    )
    holds = {c.heading: c.holds + (f", {c.unit}" if c.unit else "") for c in held}
    keep_columns(path, holds, given)
