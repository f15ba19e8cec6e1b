"""Did it work: one sheet before an action beside one after it, in words and as data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from math import isfinite
from typing import TYPE_CHECKING, Any

from diagnose.basics.errors import Fault
from diagnose.basics.layout import Line, Section
from diagnose.batch.figures import castings, chance, number, percent, times

if TYPE_CHECKING:
    from diagnose.batch.reading.data import BatchData
    from diagnose.batch.statistics.before_after import Compared
    from diagnose.rulebase.book import Book

ALL = "all scrap"
SURE = 0.975
"""Probability of a fall, or of a rise, from which it is told as settled: as in the statistics."""
ROSE = 0.05


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two sheets: castings scrapped of those poured."""

    source: str
    scrapped: float
    poured: float


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two sheets side by side. ``whole``: all scrap; ``faults``: each, the most scrapped first."""

    before: Side
    after: Side
    whole: Compared
    faults: tuple[Compared, ...]
    names: tuple[tuple[str, str], ...]
    patterns: tuple[str, ...]


def compare(before: BatchData, after: BatchData, book: Book) -> Comparison:
    """Return what changed from one sheet to the other, each pattern compared with itself.

    Raises Fault where the castings poured are not known, or no pattern was poured both times.
    """
    import numpy as np

    from diagnose.batch.counted import FEWEST
    from diagnose.batch.reading.data import UNKNOWN
    from diagnose.batch.statistics.before_after import compared, sides

    two = (before, after)
    for data, word in zip(two, ("before", "after"), strict=True):
        if data.cells.poured is None:
            raise Fault(
                f"{data.source}: how many castings were poured {word} is not known, so no rates "
                "can be compared. Give both sheets of them: --poured BEFORE --poured AFTER."
            )
    patterns = [_patterns(data) for data in two]
    common = sorted({*patterns[0]} & {*patterns[1]})
    if not common:
        raise Fault("No pattern was poured both before and after: nothing can be compared.")
    faults = sorted({fault for data in two for fault in data.faults} - {UNKNOWN})
    bad = np.concatenate([_bad(data, faults) for data in two])
    poured = np.concatenate([np.asarray(data.cells.poured, dtype=float) for data in two])
    code = {name: at for at, name in enumerate(sorted({*patterns[0], *patterns[1]}))}
    pattern = np.array([code[name] for some in patterns for name in some], dtype=np.int64)
    later = np.repeat([False, True], [len(some) for some in patterns])
    sums = bad.sum(axis=0)
    order = [at for at in np.argsort(-sums, kind="stable").tolist() if sums[at] >= FEWEST]
    order = [at for at in order if at != len(faults)]
    wide = _spread(two, [faults[at] for at in order], sums[order])
    columns = bad[:, [len(faults), *order]]
    first, second = sides(columns, poured, pattern, later)
    found = compared([ALL, *(faults[at] for at in order)], first, second, spread=wide)
    names = tuple((faults[at], book.defects[faults[at]].name) for at in order)
    return Comparison(_side(before), _side(after), found[0], tuple(found[1:]), names, tuple(common))


def _spread(two: Sequence[BatchData], faults: Sequence[str], sums: Any) -> Any:
    """Return the spread between heats over chance: of all scrap, then of each fault.

    The wider of the two sheets' holds; that of all scrap is the mean of the faults'.
    """
    import numpy as np

    from diagnose.batch.counted import counted_from
    from diagnose.batch.statistics.heats import spread

    wide = np.ones(len(faults))
    for data in two:
        cells = counted_from(data).cells
        own = dict(zip(cells.faults, spread(cells).tolist(), strict=True))
        wide = np.maximum(wide, [own.get(fault, 1.0) for fault in faults])
    whole = float(np.average(wide, weights=sums)) if len(faults) else 1.0
    return np.array([whole, *wide])


def _patterns(data: BatchData) -> list[str]:
    """Return the pattern of each cell; one name for all where none is known."""
    if "pattern" not in data.cells.factors:
        return [""] * len(data.cells.day)
    levels = data.levels["pattern"]
    return [levels[at] if at >= 0 else "not known" for at in data.cells.code("pattern").tolist()]


def _bad(data: BatchData, faults: Sequence[str]) -> Any:
    """Return cells by faults, in the order of both sheets together; all scrap comes last."""
    import numpy as np

    own = {fault: at for at, fault in enumerate(data.faults)}
    bad = data.cells.bad
    none = np.zeros(len(bad))
    columns = [bad[:, own[fault]] if fault in own else none for fault in faults]
    return np.column_stack([*columns, bad.sum(axis=1)])


def _side(data: BatchData) -> Side:
    poured = data.cells.poured
    source = ", ".join(part.rpartition("/")[2] for part in data.source.split(", "))
    return Side(
        source, float(data.cells.scrapped.sum()), float(0 if poured is None else poured.sum())
    )


def told(one: Comparison) -> list[Section]:
    """Return a comparison in sections."""
    names = dict(one.names)
    sections = [
        Section("Before and after", (*_sides(one), *_about(one.whole, ALL))),
        *(
            Section(names[each.defect], tuple(_about(each, names[each.defect])))
            for each in fell(one)
        ),
        Section("What rose meanwhile", tuple(_rose(one, names))),
        Section("What this means", tuple(map(Line, MEANING))),
    ]
    return [section for section in sections if section.lines]


MEANING = (
    "Each pattern is compared with itself, on the same mix of patterns. An interval in brackets "
    "holds the true figure in about 95 of 100 such comparisons.",
    "That a rate fell after an action does not prove that the action did it: look at what else "
    "changed at that time.",
    "q allows for all faults that were compared at once.",
)


def fell(one: Comparison) -> list[Compared]:
    """Return the faults that did not rise for sure, the most scrapped first."""
    return [each for each in one.faults if not _risen(each)]


def _risen(one: Compared) -> bool:
    return one.ratio > 1 and one.q <= ROSE


def _sides(one: Comparison) -> Iterator[Line]:
    for side, word in ((one.before, "Before"), (one.after, "After")):
        rate = percent(side.scrapped / side.poured) if side.poured else "no castings"
        yield Line(
            f"{side.source}: {castings(side.scrapped)} scrapped of {number(side.poured)}, {rate}.",
            f"{word}: ",
        )
    yield Line(f"Patterns poured both times: {', '.join(one.patterns) or 'not known'}.")


def _about(one: Compared, name: str) -> Iterator[Line]:
    way, sure = ("fell", one.fell) if one.fell >= 0.5 else ("rose", 1 - one.fell)
    yield Line(
        f"The rate of {name} {way} with a probability of {_sure(sure)}: from "
        f"{percent(one.before)} to {percent(one.after)}."
    )
    yield Line(
        f"After is {times(one.ratio)} times before ({times(one.low)} to {times(one.high)}); in a "
        f"hundred castings {_more(one.difference_low)} to {_more(one.difference_high)}; "
        f"q {chance(one.q)}."
    )
    yield Line(_settled(one))


def _more(difference: float) -> str:
    """Return a difference of shares as castings in a hundred.

    >>> _more(-0.006), _more(0.002)
    ('0.6 fewer', '0.2 more')
    """
    return f"{abs(100 * difference):.2g} {'more' if difference > 0 else 'fewer'}"


def _sure(probability: float) -> str:
    if probability > 0.999:
        return "over 99.9 %"
    return "under 0.1 %" if probability < 0.001 else percent(probability)


def _settled(one: Compared) -> str:
    if one.more is None:
        return "No number of castings would settle it: too few are known of before."
    if one.more == 0 and max(one.fell, 1 - one.fell) >= SURE:
        return "That is settled."
    return f"Not settled: about {one.more} more castings would, if the rates stay as they are."


def _rose(one: Comparison, names: dict[str, str]) -> Iterator[Line]:
    risen = [each for each in one.faults if _risen(each)]
    for each in risen:
        yield Line(
            f"{names[each.defect]}: from {percent(each.before)} to {percent(each.after)}, "
            f"{times(each.ratio)} times ({times(each.low)} to {times(each.high)}), "
            f"q {chance(each.q)}."
        )
    if not risen:
        yield Line("No other fault rose by more than chance.")


def as_data(one: Comparison) -> dict[str, Any]:
    """Return a comparison as plain data, unrounded."""
    return {
        "before": asdict(one.before),
        "after": asdict(one.after),
        "patterns": list(one.patterns),
        "all": _finite(asdict(one.whole)),
        "faults": [_finite(asdict(each)) for each in one.faults],
        "rose": [each.defect for each in one.faults if _risen(each)],
    }


def _finite(row: dict[str, Any]) -> dict[str, Any]:
    return {
        key: None if isinstance(value, float) and not isfinite(value) else value
        for key, value in row.items()
    }
