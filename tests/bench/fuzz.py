"""Throw damaged and odd input at every way in: ``python -m tests.bench.fuzz [N]``.

The ways: reject files, tables as text and as workbooks, shop files, scripts of the plain
conversation, sums, and keys on the screens. Nothing but a ``Fault`` may come of an input, within
``PATIENCE`` seconds, and what was taken down must be read back from the file the same. The input is
made from sound examples by ``random`` with a seed, so a failure can be had again. The last line is
JSON: for each way how many inputs there were, how many were refused, and how many failed.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy: threads would wait in turn

import asyncio
import io
import json
import random
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from types import FrameType

from diagnose.basics.errors import Fault
from diagnose.session.autosave import Bench, new_bench, resumed_bench
from diagnose.session.rejectfile import read_reject, save
from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf
from diagnose.session.windows.read import read_shop
from diagnose.sheets.given import Given
from diagnose.sheets.opened import open_tables
from diagnose.sheets.reading import read_sheet
from diagnose.shop.calculation import Input
from diagnose.shop.catalogue import calculations
from diagnose.shop.work import form, inputs_from, named, work
from diagnose.terminal.plain.console import EndOfInput, Talk
from diagnose.terminal.plain.conversation import Conversation
from diagnose.terminal.plain.words import WORDS, Leave

ROOT = Path(__file__).resolve().parents[2]
SMALL_BOOK = ROOT / "tests" / "terminal" / "screens" / "small-book"
FILES = ROOT / "tests" / "sheets" / "files"
PATIENCE = 20
"""Seconds that one input may take; the slowest sound one takes about one."""
REJECT = """\
reject: cover
metal: grey iron
process: green sand
section: 8 mm
seen:
- {look: cavity-wall, answer: smooth, said: slick}
- {look: beside-core, not: at-a-core}
- {called: blow-mould-gas, heard: 0.8, said: gas hole, in: a gas hole}
- {said: 2e7}
checked: [{check: core-vent-open, answer: 'no'}]
measured: {sand-moisture: '4.4; 4.6 %'}
unsure: [cavity-place]
"""
SHOP = """\
shop: Invented works
metal: grey iron
windows:
  sand-moisture: {low: 3, high: 4, unit: '%', why: common practice}
repeatability: {sand-moisture: 0.1 %}
"""
CSV = "Date;Heat;Moisture (%);Perm\n14.03.2026;17;4,6;80\n15.03.2026;18;3,8;n/a\n"
LINES = (
    "smooth holes", "gas hole", "1", "2", "0", "n", "y", "s", "", "", "8 mm", "moisture 4.6 %",
    "reading moisture 4.6 %", "take back 1", "work moisture moist=50g dry=48.3g", "sheet x.csv",
    *(word for word in WORDS if word not in ("quit", "note")), "quit",
)  # fmt: skip
KEYS = (
    *"123450yumswix", "enter", "enter", "tab", "up", "down", "left", "right", "pageup", "pagedown",
    "escape", "backspace", *(f"f{number}" for number in range(1, 11)), "ctrl+c", "space", "a", "e",
)  # fmt: skip
ODD = (
    b"\0", b"\xff", b"\xdf", b"\xed\xa0\x80", b"\xef\xbb\xbf", b"\x1b[2J", b"\r", b"\n", b"\t",
    b'"\\UFFFFFFFF"', b"\xc2\xb2/2 in", b"9" * 400, b"9" * 5000, b"1e999", b"-0", b"2e7", b"nan",
    b"inf", b"&a *a", b"!!python/object:x", b"{", b"[" * 60, b"]", b": ", b"- ", b"'", b"%", b"=",
    b"__proto__", b"../../x", b"\xe2\x80\xae", b"\xf0\x9f\x92\xa5", b"a" * 1500, b"0x1F", b"~",
    b"31.02.2026", b"1/0", b",,,,", b";;;;", b"\xd9\xa3", b"null", b"yes", b"<<: *x",
)  # fmt: skip


class Hangs(BaseException):
    """Raised where an input takes too long."""


@dataclass(slots=True)
class Tally:
    """What came of one way: ``failed`` holds what went wrong, with the input."""

    inputs: int = 0
    refused: int = 0
    seconds: float = 0.0
    failed: list[str] = field(default_factory=list)


def damaged(draw: random.Random, sound: bytes) -> bytes:
    """Return an example with a few things put in, taken out, doubled, swapped or cut off."""
    made = bytearray(sound)
    for _ in range(draw.choice((0, 1, 1, 2, 3, 6))):
        at = draw.randrange(len(made) + 1)
        end = min(len(made), at + draw.randrange(1, 12))
        way = draw.randrange(6)
        if way <= 1:
            made[at:at] = draw.choice(ODD)
        elif way == 2:
            del made[at:end]
        elif way == 3:
            made[at:at] = made[at:end]
        elif way == 4 and at < len(made):
            made[at] = draw.randrange(256)
        elif way == 5:
            del made[at + draw.randrange(40) :]
    return bytes(made)


@contextmanager
def patience() -> Iterator[None]:
    """Raise Hangs in what takes too long."""

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise Hangs

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(PATIENCE)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def same(one: Bench, other: Bench) -> bool:
    """Tell whether two rejects hold the same; a file has looks before checks before readings."""
    first, second = (
        replace(bench.session.reject, found=tuple(sorted(bench.session.reject.found, key=repr)))
        for bench in (one, other)
    )
    return first == second


class Ways:
    """Every way in, with a folder of its own to work in."""

    def __init__(self, folder: Path, draw: random.Random, session: Session) -> None:
        self.folder = folder
        self.draw = draw
        self.session = session
        self.sums = list(calculations().values())

    def reject(self) -> object:
        """A reject file, read as one of a person's and as one that was kept."""
        sound = REJECT
        if self.draw.random() < 0.03:  # these take the reader of words, a hundred times as long
            sound = REJECT.replace("seen:", "seen:\n- a gas hole").replace(
                "'}", "', odd gauge: 4 kN}"
            )
        raw = damaged(self.draw, sound.encode())
        path = self.folder / "reject.yaml"
        path.write_bytes(raw)
        worked = self.session.another()
        read_reject(path, worked, begun=self.draw.random() < 0.5)
        self._comes_back(worked)
        return raw

    def _comes_back(self, worked: Session) -> None:
        path = self.folder / "again.yaml"
        save(worked, path)
        again = self.session.another()
        read_reject(path, again, begun=True)
        assert again.reject == worked.reject, "it is read back otherwise than it was written"

    def table(self) -> object:
        """A table as text; now and then as a workbook, which takes a process of its own."""
        path = self.folder / "table.csv"
        if self.draw.random() < 0.01:
            sound = self.draw.choice([*FILES.glob("*.xls*"), *FILES.glob("*.ods")]).read_bytes()
        else:
            some = [CSV.encode(), *(one.read_bytes() for one in sorted(FILES.glob("*.csv"))[:4])]
            sound = self.draw.choice(some)
        path.write_bytes(damaged(self.draw, sound))
        read_sheet(open_tables(path), self.session.book, Given())
        return sound

    def shop(self) -> object:
        """A shop file."""
        raw = damaged(self.draw, SHOP.encode())
        path = self.folder / "shop.yaml"
        path.write_bytes(raw)
        read_shop(path, self.session.book)
        return raw

    def sum(self) -> object:
        """The words of ``diagnose work``."""
        one = self.draw.choice(self.sums)
        pairs = [
            form(each).replace("...", f"{self._value(each):g}").strip('"') for each in one.inputs
        ]
        words = [
            damaged(self.draw, word.encode()).decode("utf-8", "surrogateescape")
            if self.draw.random() < 0.15
            else word.replace('"', "")
            for word in (one.name, *pairs)
        ]
        found = named(words[0] if self.draw.random() < 0.3 else one.name)
        work(found, inputs_from(found, words[1:]))
        return words

    def _value(self, one: Input) -> float:
        """Return a number that mostly fits an input."""
        low, high = max(one.low, -10.0), min(one.high, 1000.0)
        return self.draw.choice((0.0, -3.0, 1e9, *[low + self.draw.random() * (high - low)] * 12))

    def plain(self) -> object:
        """A script of the plain conversation; what was entered is on the shelf afterwards."""
        lines = [self.draw.choice(LINES).encode() for _ in range(self.draw.randrange(25))]
        raw = b"\n".join(damaged(self.draw, line) for line in lines)
        shelf = Shelf(Path(tempfile.mkdtemp(dir=self.folder)))
        bench = new_bench(self.session, shelf)
        stdin = io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8")
        with suppress(EndOfInput, Leave):
            Conversation(bench, Talk(stdin, io.StringIO())).run()
        assert not bench.trouble, bench.trouble
        if bench.file.path is not None:
            again = resumed_bench(self.session, shelf, bench.file.path)
            assert same(again, bench), "something entered is lost"
        return raw

    def keys(self) -> object:
        """Keys on the screens; what was entered is on the shelf afterwards."""
        keys = ["1", *(self.draw.choice(KEYS) for _ in range(30))]
        asyncio.run(self._press(keys))
        return keys

    async def _press(self, keys: list[str]) -> None:
        from diagnose.terminal.screens.app import DiagnoseApp

        shelf = Shelf(Path(tempfile.mkdtemp(dir=self.folder)))
        app = DiagnoseApp(self.session.another(), shelf)
        async with app.run_test() as pilot:
            for key in keys:
                await pilot.press(key)
        if app.bench is not None and app.bench.file.path is not None:
            again = resumed_bench(self.session, shelf, app.bench.file.path)
            assert same(again, app.bench), "something entered is lost"


SHARES = {"reject": 0.4, "table": 0.2, "shop": 0.1, "sum": 0.2, "plain": 0.1, "keys": 0.0005}
"""Part of all inputs that goes to each way; keys take seconds each, the others some hundredths."""


def fuzz(inputs: int, seed: int = 13) -> dict[str, Tally]:
    """Return what came of so many inputs, by way."""
    before = Path.cwd()
    tallies = {}
    session = open_session(folder=SMALL_BOOK)
    with tempfile.TemporaryDirectory(prefix="fuzz-") as folder:
        os.chdir(folder)
        try:
            for name, share in SHARES.items():
                ways = Ways(Path(folder), random.Random(f"{seed} {name}"), session)
                tallies[name] = _tried(getattr(ways, name), max(1, round(inputs * share)))
        finally:
            os.chdir(before)
    return tallies


def _tried(way: Callable[[], object], times: int) -> Tally:
    tally = Tally()
    begun = time.perf_counter()
    for number in range(times):
        tally.inputs += 1
        try:
            with patience():
                way()
        except Fault:
            tally.refused += 1
        except (Exception, Hangs):
            tally.failed.append(f"input {number}: {traceback.format_exc()[-1500:]}")
    tally.seconds = round(time.perf_counter() - begun, 1)
    return tally


def main(inputs: int = 20_000) -> None:
    """Print the table, what failed, and the JSON."""
    begun = time.perf_counter()
    tallies = fuzz(inputs)
    print(f"{'way':<8}{'inputs':>8}{'refused':>9}{'failed':>8}")
    for name, one in tallies.items():
        print(f"{name:<8}{one.inputs:>8}{one.refused:>9}{len(one.failed):>8}")
    for one in tallies.values():
        print(*one.failed[:3], sep="\n", end="")
    told = {name: asdict(one) | {"failed": len(one.failed)} for name, one in tallies.items()}
    print(json.dumps({"seconds": round(time.perf_counter() - begun, 1), **told}))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
