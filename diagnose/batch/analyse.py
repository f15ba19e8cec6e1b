"""From the sheets to what they come to: read, counted, charted, tested, and what it comes from."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from diagnose.basics.errors import Fault
from diagnose.batch.result import Bar, Batch, Cause, Movement, SetAside, Tell, UnknownWord

if TYPE_CHECKING:
    from diagnose.batch.causes.group import Shop
    from diagnose.batch.counted import Counted
    from diagnose.batch.reading.data import BatchData
    from diagnose.batch.reading.given import Ask, Given, Progress
    from diagnose.batch.walk import Opened
    from diagnose.reject.reject import Reject
    from diagnose.rulebase.book import Book
    from diagnose.rulebase.job import Job
    from diagnose.session.library import Library

_FILE = re.compile(r"/[^/]+\.(csv|tsv|txt|xlsx|xlsm|xls|ods|parquet)\b", re.IGNORECASE)
NO_WORD = "word not known"


def analyse(
    sheets: Sequence[Path],
    library: Library,
    *,
    job: Job,
    poured: Path | None = None,
    readings: Path | None = None,
    given: Given | None = None,
    ask: Ask | None = None,
    progress: Progress | None = None,
    knowledge: Path | None = None,
) -> Batch:
    """Return what scrap sheets come to; see ``read_batch`` for what may be asked or refused.

    ``job``: metal, process and section of the shop. Raises Fault for what can be mended.
    """
    data = read(
        sheets, library, poured=poured, readings=readings, given=given, ask=ask,
        progress=_part(progress, 0.0, 0.4), knowledge=knowledge,
    )  # fmt: skip
    with needed():
        return made_of(data, library, job, _part(progress, 0.4, 1.0))


def read(
    sheets: Sequence[Path],
    library: Library,
    *,
    poured: Path | None = None,
    readings: Path | None = None,
    given: Given | None = None,
    ask: Ask | None = None,
    progress: Progress | None = None,
    knowledge: Path | None = None,
) -> BatchData:
    """Return scrap sheets as numbers; see ``analyse``."""
    with needed():
        from diagnose.batch.reading.read import read_batch

        return read_batch(
            sheets, library=library, poured=poured, readings=readings, given=given, ask=ask,
            progress=progress, knowledge=knowledge,
        )  # fmt: skip


@contextmanager
def needed() -> Iterator[None]:
    """Say in a line what is to be installed where a library of the batch is not there."""
    try:
        yield
    except ModuleNotFoundError as error:
        if error.name is None or error.name.partition(".")[0] == "diagnose":
            raise
        raise Fault(
            f"A scrap batch needs {error.name}, which is not installed. "
            "Install it with: pip install 'diagnose[batch]'."
        ) from None


def _part(progress: Progress | None, start: float, end: float) -> Progress:
    """Return a progress that runs over a part of the whole."""

    def tell(share: float, what: str) -> None:
        if progress is not None:
            progress(start + (end - start) * share, what)

    return tell


def made_of(data: BatchData, library: Library, job: Job, tell: Progress) -> Batch:
    """Return what a batch that was read comes to."""
    from diagnose.batch.counted import counted_from, days_of, readings_of, series_of
    from diagnose.batch.statistics.change import changes
    from diagnose.batch.statistics.charts import charts
    from diagnose.batch.statistics.concentration import concentrations
    from diagnose.batch.statistics.movement import movements

    book = library.book
    plain = _plain(data, book)
    if not data.scrap.scrapped.sum():
        return plain
    one = counted_from(data)
    tell(0.1, "charting")
    series = series_of(one, book)
    drawn = charts(series)
    days, bad, size = days_of(one)
    stepped = changes(one.cells.faults, days, bad, size) if days else ()
    tell(0.3, "looking where it concentrates")
    places = concentrations(one.cells)
    tell(0.6, "holding readings beside it")
    moved = movements(one.cells, readings_of(one), one.heats)
    tell(0.7, "weighing causes")
    causes, tells, warnings = _causes(data, library, job, moved)
    tell(1.0, "done")
    return replace(
        plain, rate=_rate(one), charts=drawn, changes=stepped, concentration=places, readings=moved,
        causes=causes, tells=tells, warnings=(*plain.warnings, *warnings),
    )  # fmt: skip


def _rate(one: Counted) -> tuple[float, float] | None:
    """Return the interval of the share scrapped; castings of one heat may go together."""
    from diagnose.batch.statistics.heats import spread
    from diagnose.batch.statistics.proportions import scrap_rate

    if not one.rated:
        return None
    scrapped = one.read.scrapped
    cells = replace(one.cells, faults=("",), bad=scrapped[:, None])
    rate = scrap_rate(scrapped, one.cells.poured, spread=float(spread(cells)[0]))
    return rate.low, rate.high


def _plain(data: BatchData, book: Book) -> Batch:
    """Return what needs no test: how much, of what, and how the sheets were read."""
    poured = data.cells.poured
    return Batch(
        source=", ".join(Path(part).name for part in data.source.split(", ")),
        rows=replace(data.rows, aside=tuple(_without_folder(one) for one in data.rows.aside)),
        scrapped=float(data.scrap.scrapped.sum()),
        poured=None if poured is None else float(poured.sum()),
        first=data.first,
        last=data.last,
        pareto=tuple(_bars(data, book)),
        unknown_words=tuple(_named(book, one) for one in data.unknown_words),
        warnings=tuple(" ".join(map(_base, text.split(" "))) for text in data.warnings),
        by_pattern=tuple(_patterns(data)),
        headings=data.headings,
    )


def _without_folder(one: SetAside) -> SetAside:
    return replace(one, sheet=_base(one.sheet))


def _base(text: str) -> str:
    """Return a file's name without its folders; all else as it is.

    >>> _base("scrap/march.csv:"), _base("kN/m2"), _base("3/4")
    ('march.csv:', 'kN/m2', '3/4')
    """
    return text.rpartition("/")[2] if _FILE.search(text) else text


def _bars(data: BatchData, book: Book) -> list[Bar]:
    from diagnose.batch.statistics.proportions import tallies

    scrap = data.scrap
    if not scrap.bad.size:
        return []
    weights = _sums(scrap.weight) if data.weighed else None
    costs = _sums(scrap.cost) if data.priced else None
    bars = [
        Bar(
            fault,
            book.defects[fault].name if fault in book.defects else NO_WORD,
            tally.count,
            tally.share,
            tally.low,
            tally.high,
            weights[at] if weights else None,
            costs[at] if costs else None,
        )
        for at, (fault, tally) in enumerate(zip(data.faults, tallies(scrap.bad), strict=True))
    ]
    return sorted((bar for bar in bars if bar.count > 0), key=lambda bar: -bar.count)


def _sums(values: Any) -> list[float] | None:
    """Return the sum over the rows for each fault; none where nothing is known."""
    import numpy as np

    return None if values is None else [float(x) for x in np.nansum(values, axis=0)]


def _named(book: Book, word: UnknownWord) -> UnknownWord:
    """Return an unknown word with the names of the faults that are near, for their ids."""
    near = [
        (book.defects[fault].name if fault in book.defects else fault, chance)
        for fault, chance in word.nearest
    ]
    return replace(word, nearest=tuple(near))


def _patterns(data: BatchData) -> list[tuple[str, float, float | None]]:
    import numpy as np

    if "pattern" not in data.scrap.factors:
        return []
    names = data.levels["pattern"]
    codes = data.scrap.code("pattern")
    bad = np.bincount(codes[codes >= 0], data.scrap.scrapped[codes >= 0], len(names))
    size: list[float | None] = [None] * len(names)
    if data.cells.poured is not None and "pattern" in data.cells.factors:
        own = data.cells.code("pattern")
        size = [
            float(x) for x in np.bincount(own[own >= 0], data.cells.poured[own >= 0], len(names))
        ]
    found = [(name, float(b), n) for name, b, n in zip(names, bad, size, strict=True) if b > 0]
    return sorted(found, key=lambda row: -row[1])


def reject_for(data: BatchData, library: Library, job: Job, opened: Opened) -> Reject:
    """Return a casting of a batch as a reject, with what the sheet knows of it filled in.

    ``opened``: its fault, and the factors and levels that were walked through.
    """
    from diagnose.batch.causes.group import Group
    from diagnose.batch.causes.grouping import group_at
    from diagnose.batch.causes.opened import reject_of

    book = library.book
    name = book.defects[opened.defect].name if opened.defect in book.defects else NO_WORD
    called = " ".join([name, *(f"{factor} {level}" for factor, level in opened.where)])
    group = (
        group_at(data, book, opened.defect, opened.where)
        if opened.defect in data.faults
        else Group(name, ((opened.defect, 1.0),), 1.0)
    )
    shop = shop_of(data, book, job, ())
    return reject_of(library.desk(job), replace(shop, found=()), group, called)


def _causes(
    data: BatchData, library: Library, job: Job, moved: Sequence[Movement]
) -> tuple[tuple[Cause, ...], tuple[Tell, ...], tuple[str, ...]]:
    from diagnose.batch.causes.answer import causes_of
    from diagnose.batch.causes.grouping import groups_in

    groups = groups_in(data, library.book, moved)
    if not groups:
        return (), (), ("There are too few castings of any one fault to weigh its causes.",)
    try:
        answer = causes_of(library, shop_of(data, library.book, job, moved), groups)
    except ValueError as error:
        return (), (), (f"No cause was weighed: {error}.",)
    return answer.causes, answer.tells, answer.warnings


def shop_of(data: BatchData, book: Book, job: Job, moved: Sequence[Movement]) -> Shop:
    """Return what holds for the whole batch: the job, and the mean of each reading.

    A reading that moves with a fault is left out: its mean over the time would excuse it.
    """
    import numpy as np

    from diagnose.batch.causes.group import Shop
    from diagnose.reject.found import Measured

    readings = data.readings
    told = {one.quantity for one in moved}
    found = []
    for at, name in enumerate(readings.quantities if readings is not None else ()):
        if name not in book.measurements or name in told or readings is None:
            continue
        least, most = book.measurements[name].possible
        mean = float(np.mean(readings.value[readings.quantity == at]))
        if least <= mean <= most:
            found.append(Measured(name, (float(f"{mean:.4g}"),)))
    return Shop(job, tuple(found))
