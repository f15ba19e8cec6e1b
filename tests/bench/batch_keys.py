"""Count the keys from the sheet to the pack: ``python -m tests.bench.batch_keys``.

The made-up quarter is read and walked as a meeting would: the three faults that scrap most are
gone down into, an action with owner and date is agreed on the likeliest cause of each, minutes and
pack are written. The last line is JSON: keys in all, those typed as text, the machine's seconds.
"""

from __future__ import annotations

import asyncio
import json
import tempfile
import time
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from diagnose.batch.actions import read_actions
from diagnose.batch.analyse import analyse
from diagnose.batch.result import Batch
from diagnose.batch.walk import Walk
from diagnose.rulebase.job import Job
from diagnose.session.session import open_session
from diagnose.terminal.screens.batch import BatchApp
from tests.conftest import ROOT

QUARTER = ROOT / "knowledge" / "worked" / "quarter"
TODAY = date(2026, 4, 1)
OWNER = "A. Example"
FAULTS = (1, 2, 3)
CONFIRMED = 3
"""Enter for the headings of each of three sheets, the first time that they are read."""
NAMES = {" ": "space", ".": "full_stop"}


@dataclass(slots=True)
class Count:
    """Keys pressed: ``steering`` moves, ``typing`` writes."""

    steering: int = CONFIRMED
    typing: int = 0
    seconds: dict[str, float] = field(default_factory=dict)


async def walk(batch: Batch, folder: Path, faults: tuple[int, ...] = FAULTS) -> Count:
    """Walk a batch through to its pack and return the keys that it took; ``faults``: their keys."""
    count = Count()
    app = BatchApp(Walk(batch, folder / "scrap-actions.yaml", folder / "pack", TODAY))
    async with app.run_test(size=(80, 24)) as pilot:

        async def press(*keys: str) -> None:
            count.steering += len(keys)
            await pilot.press(*keys)

        async def write(text: str) -> None:
            count.typing += len(text)
            await pilot.press(*(NAMES.get(letter, letter) for letter in text))

        for number in faults:
            await press(str(number), "2", "1", "a", "enter")
            await write(OWNER)
            await press("enter")
            await write("14")
            await press("enter", "escape", "escape", "escape")
        begin = time.perf_counter()
        await press("p")
        count.seconds["pack"] = time.perf_counter() - begin
        await press("m", "escape", "q")
    assert len(read_actions(folder / "scrap-actions.yaml")) == len(faults)
    assert list((folder / "pack").glob("*.html"))
    return count


def main() -> None:
    """Read the quarter, walk it, and print what it took."""
    begin = time.perf_counter()
    batch = analyse(
        [QUARTER / "scrap.csv"], open_session().library, job=Job("grey iron", "green sand"),
        poured=QUARTER / "poured.csv", readings=QUARTER / "readings.csv",
    )  # fmt: skip
    read = time.perf_counter() - begin
    with tempfile.TemporaryDirectory() as folder:
        count = asyncio.run(walk(batch, Path(folder)))
    count.seconds["read and weighed"] = read
    print(
        f"{count.steering} keys and {count.typing} letters typed, {len(FAULTS)} actions agreed; "
        f"{read:.0f} s of reading and weighing, {count.seconds['pack']:.1f} s for the pack"
    )
    told = {"keys": count.steering + count.typing, "typed": count.typing}
    print(json.dumps(told | {name: round(each, 1) for name, each in count.seconds.items()}))


if __name__ == "__main__":
    main()
