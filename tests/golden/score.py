"""``python -m tests.golden.score``: at which rank the true cause and fault of histories come out.

Each is worked from its plain phrases as a file, from the phrases and the answers to the questions
that the program then puts, as a session is, and from exact answers that say what the phrases say
(written by somebody who saw the questions and not the figures), so that the understanding of words
and the reasoning can be told apart. The histories are the YAML files in this folder; a third is
held out: the rules were not changed for them. The first ``cause`` and ``defect`` of a history are
the true ones; others that it names are such as the history itself cannot tell apart from them, and
the best of them counts.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import yaml

from diagnose.basics.errors import Fault
from diagnose.session.rejectfile import read_reject
from diagnose.session.session import Session, open_session

HERE = Path(__file__).parent
ABOUT = ("metal", "process", "section")
QUESTIONS = 12


Work = Callable[["History", Session], Session]


@dataclass(frozen=True, slots=True)
class History:
    """A reject whose cause is known. ``tells``: where it is from."""

    id: str
    tells: str
    area: str
    cause: tuple[str, ...]
    defect: tuple[str, ...]
    reject: dict[str, Any]
    answers: dict[str, str]
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
        for entry in yaml.safe_load(path.read_text(encoding="utf-8")):
            plain = {key.replace(" ", "_"): value for key, value in entry.items()}
            plain |= {key: tuple(plain[key]) for key in ("cause", "defect")}
            found.append(History(**plain))
    return found


def answered(history: History, fresh: Session) -> Session:
    """Return a session in which the questions have been answered as a history tells."""
    session = fresh.another()
    told = {key: history.reject[key] for key in ABOUT if key in history.reject}
    session.about(**told)
    for entry, answer in history.answers.items():
        put = session.answer if entry in session.book.looks else session.check
        put(entry, answer)
    for name, reading in history.reject.get("measured", {}).items():
        session.measure(name, str(reading))
    return session


def asked(history: History, fresh: Session) -> Session:
    """Return a session in which the phrases were typed and then the program's questions answered.

    What the history tells is answered, for the rest the answer is "not sure".
    """
    session = fresh.another()
    session.about(**{key: history.reject[key] for key in ABOUT if key in history.reject})
    for phrase in [*history.reject.get("seen", []), *history.reject.get("checked", [])]:
        session.see(phrase)
    for name, reading in history.reject.get("measured", {}).items():
        session.measure(name, str(reading))
    for _ in range(QUESTIONS):
        if not (questions := session.ask_next(1)):
            break
        entry = questions[0].id
        if entry in history.answers:
            put = session.answer if entry in session.book.looks else session.check
            put(entry, history.answers[entry])
        else:
            session.unsure(entry)
    return session


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


def score(history: History, fresh: Session, work: Work = worked) -> Score:
    """Work a history and say at which ranks the truth comes out."""
    session = work(history, fresh)
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


def scores(fresh: Session, work: Work) -> tuple[list[Score], list[str]]:
    """Work every history; return the scores, and what could not be read."""
    found, unread = [], []
    for history in histories():
        try:
            found.append(score(history, fresh, work))
        except Fault as fault:
            unread.append(f"{history.id}: {fault}")
    return found, unread


def main(show: str = "open") -> None:
    """Print the table; ``show``: which single histories to list, ``open``, ``all`` or ``none``."""
    fresh = open_session()
    tables = {}
    ways = {
        "from plain phrases": worked,
        f"from phrases and {QUESTIONS} questions": asked,
        "from exact answers": answered,
    }
    for name, work in ways.items():
        found, unread = scores(fresh, work)
        print(f"\n{name.capitalize()}")
        for one in found:
            if show == "all" or (show == "open" and not one.history.held_out):
                truth = f"{one.history.cause[0]} > {one.history.defect[0]}"
                place = f"{one.cause:4} {one.defect:3} {one.probability:6.1%}"
                print(f"{place}  {one.history.id}: {truth}  {' | '.join(one.missed)}")
        print(*unread, sep="\n")
        tables[name] = {part: summary(some) for part, some in groups(found)}
        put_table(tables[name])
    for name, table in tables.items():
        print(json.dumps({name: table["all"]}))


def put_table(table: dict[str, dict[str, float]]) -> None:
    """Print one table, a part of the histories a line."""
    columns = [*next(iter(table.values()))]
    print(f"{'':14}" + "".join(f"{column:>17}" for column in columns))
    for name, row in table.items():
        cells = (f"{v:17.0f}" if c == "histories" else f"{v:17.2f}" for c, v in row.items())
        print(f"{name:14}" + "".join(cells))


if __name__ == "__main__":
    main(*sys.argv[1:])
