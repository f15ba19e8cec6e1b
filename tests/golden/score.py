"""``python -m tests.golden.score``: at which rank the true cause and fault of histories come out.

The histories are the YAML files in this folder. A third is held out: the rules were not changed
for them. The first ``cause`` and ``defect`` of a history are the true ones; others that it names
are such as the history itself cannot tell apart from them, and the best of them counts.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import yaml

from diagnose.errors import Fault
from diagnose.rejectfile import read_reject
from diagnose.session import Session, open_session

HERE = Path(__file__).parent


@dataclass(frozen=True, slots=True)
class History:
    """A reject whose cause is known. ``tells``: where it is from."""

    id: str
    tells: str
    area: str
    cause: tuple[str, ...]
    defect: tuple[str, ...]
    reject: dict[str, Any]
    published: bool = False
    url: str = ""
    held_out: bool = False


@dataclass(frozen=True, slots=True)
class Score:
    """How a history comes out: ranks from 1, and the probability of the true cause.

    ``missed``: phrases of which nothing, or nothing sure, was understood.
    """

    history: History
    cause: int
    defect: int
    probability: float
    missed: tuple[str, ...]


def histories() -> list[History]:
    """Return every history, file by file."""
    found = []
    for path in sorted(HERE.glob("*.yaml")):
        for entry in yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader):
            plain = {key.replace(" ", "_"): value for key, value in entry.items()}
            plain |= {key: tuple(plain[key]) for key in ("cause", "defect")}
            found.append(History(**plain))
    return found


def worked(history: History, fresh: Session) -> Session:
    """Return a session in which a history has been read as the reject file that it holds."""
    session = fresh.another()
    with TemporaryDirectory() as folder:
        path = Path(folder) / f"{history.id}.yaml"
        path.write_text(yaml.safe_dump(history.reject, allow_unicode=True), encoding="utf-8")
        reading = read_reject(path, session)
    return reading.session


def rank(names: Sequence[str], wanted: Iterable[str]) -> int:
    """Return the best rank of those wanted; one more than there are where none is there.

    >>> rank(["a", "b", "c"], ["c", "b"]), rank(["a"], ["x"])
    (2, 2)
    """
    wanted = set(wanted)
    return next((n for n, name in enumerate(names, 1) if name in wanted), len(names) + 1)


def score(history: History, fresh: Session) -> Score:
    """Work a history and say at which ranks the truth comes out."""
    session = worked(history, fresh)
    causes = session.causes()
    share = sum(cause.probability for cause in causes if cause.id in history.cause)
    return Score(
        history,
        rank([cause.id for cause in causes], history.cause),
        rank([defect.id for defect in session.defects()], history.defect),
        share,
        session.reject.not_understood,
    )


def summary(scores: Sequence[Score]) -> dict[str, float]:
    """Return how often the truth comes first and among three, and the mean reciprocal rank."""
    count = len(scores) or 1
    return {
        "histories": len(scores),
        "cause first": sum(one.cause == 1 for one in scores) / count,
        "cause in three": sum(one.cause <= 3 for one in scores) / count,
        "cause reciprocal": sum(1 / one.cause for one in scores) / count,
        "fault first": sum(one.defect == 1 for one in scores) / count,
        "fault in three": sum(one.defect <= 3 for one in scores) / count,
        "fault reciprocal": sum(1 / one.defect for one in scores) / count,
    }


def groups(scores: Sequence[Score]) -> Iterator[tuple[str, list[Score]]]:
    """Yield the parts of the table: all, kept apart or not, published or not, by area."""
    yield "all", list(scores)
    yield "held out", [one for one in scores if one.history.held_out]
    yield "not held out", [one for one in scores if not one.history.held_out]
    yield "published", [one for one in scores if one.history.published]
    yield "made up", [one for one in scores if not one.history.published]
    for area in sorted({one.history.area for one in scores}):
        yield area, [one for one in scores if one.history.area == area]


def main(show: str = "open") -> None:
    """Print the table; ``show``: which single histories to list, ``open``, ``all`` or ``none``."""
    fresh = open_session()
    scores, unread = [], []
    for history in histories():
        try:
            scores.append(score(history, fresh))
        except Fault as fault:
            unread.append(f"{history.id}: {fault}")
    for one in scores:
        if show == "all" or (show == "open" and not one.history.held_out):
            truth = f"{one.history.cause[0]} > {one.history.defect[0]}"
            place = f"{one.cause:4} {one.defect:3} {one.probability:6.1%}"
            print(f"{place}  {one.history.id}: {truth}  {' | '.join(one.missed)}")
    table = {name: summary(part) for name, part in groups(scores)}
    columns = [*summary(scores)]
    print(f"\n{'':14}" + "".join(f"{column:>17}" for column in columns))
    for name, row in table.items():
        cells = (f"{v:17.0f}" if c == "histories" else f"{v:17.2f}" for c, v in row.items())
        print(f"{name:14}" + "".join(cells))
    print(*unread, sep="\n")
    print(json.dumps({"table": table, "unread": len(unread)}))


if __name__ == "__main__":
    main(*sys.argv[1:])
