"""Measure the reading of a large scrap sheet: ``python -m tests.bench.batch [ROWS]``.

A sheet of a million rows (or ROWS) and one of castings poured are made up and written as CSV. Each
way reads them in a process of its own, one after the other: the program, from the file to expected
castings of each fault in each cell; and the plain pandas way, which reads the file as it comes and
groups by the same factors, each fault word one fault. Peak memory is that of the process. The last
line is JSON.
"""

from __future__ import annotations

import json
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROWS = 1_000_000
WAYS = ("program", "pandas")
FACTORS = ["Pattern", "Plate", "Moulder", "Shift"]
WORDS = (
    "misrun",
    "c/shut",
    "blow",
    "core blow",
    "sand",
    "slag",
    "shift",
    "pulled",
    "run out",
    "gas",
)


def write(folder: Path, rows: int) -> None:
    """Write a scrap sheet of so many rows, and the castings poured, of ten years."""
    roll = random.Random(7).random
    first = date(2016, 1, 4)
    days = [first + timedelta(n) for n in range(3650)]
    with (folder / "scrap.csv").open("w") as file:
        file.write("Date;Pattern;Heat No;Plate;Moulder;Shift;Fault;Qty;Weight kg\n")
        for number in range(rows):
            day = number * len(days) // rows
            pattern = int(roll() * 40)
            file.write(
                f"{days[day]:%d/%m/%Y};P-{pattern + 100};{day * 8 + int(roll() * 8)};"
                f"{pattern % 25};M{int(roll() * 12)};{'DN'[int(roll() * 2)]};"
                f"{WORDS[int(roll() * len(WORDS))]};{1 + int(roll() * 2)};{4 + pattern * 0.5:.1f}\n"
            )
    with (folder / "poured.csv").open("w") as file:
        file.write("Date;Pattern;Castings poured\n")
        for place, day in enumerate(days):
            each = 3 * (rows // len(days) // 40 + 1) + 60
            for pattern in range(40):
                file.write(f"{day:%d/%m/%Y};P-{pattern + 100};{each + place % 7}\n")


def by_the_program(folder: Path) -> float:
    """Return the castings that were counted."""
    from diagnose.batch.reading.read import read_batch
    from diagnose.rulebase.load import load
    from diagnose.session.library import Library

    shown = [0.0]

    def tell(share: float, what: str) -> None:
        if share >= shown[0] + 0.1:
            shown[0] = share
            print(f"  {share:.0%} {what}", file=sys.stderr)

    data = read_batch(
        [folder / "scrap.csv"], library=Library(load()), poured=folder / "poured.csv", progress=tell
    )
    print(f"  {len(data.cells.day)} and {len(data.scrap.day)} cells", file=sys.stderr)
    return float(data.cells.scrapped.sum())


def by_pandas(folder: Path) -> float:
    """Return the castings that were counted, as somebody would who knows pandas and the sheet."""
    import pandas as pd

    scrap = pd.read_csv(folder / "scrap.csv", sep=";")
    poured = pd.read_csv(folder / "poured.csv", sep=";")
    for table in (scrap, poured):
        table["Date"] = pd.to_datetime(table["Date"], format="%d/%m/%Y")
    cells = scrap.groupby(["Date", "Heat No", *FACTORS, "Fault"], as_index=False)[
        ["Qty", "Weight kg"]
    ].sum()
    rates = scrap.groupby(["Date", "Pattern", "Fault"], as_index=False)["Qty"].sum()
    made = poured.groupby(["Date", "Pattern"], as_index=False)["Castings poured"].sum()
    both = rates.merge(made, on=["Date", "Pattern"], how="outer")
    assert len(cells)
    return float(both["Qty"].sum())


def one(way: str, folder: str) -> None:
    """Run one way and print what it took."""
    begin = time.perf_counter()
    counted = (by_the_program if way == "program" else by_pandas)(Path(folder))
    seconds = time.perf_counter() - begin
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps({"seconds": seconds, "megabytes": peak, "castings": counted}))


def measured(rows: int) -> dict[str, dict[str, float]]:
    """Return what each way took."""
    with tempfile.TemporaryDirectory() as folder:
        write(Path(folder), rows)
        size = (Path(folder) / "scrap.csv").stat().st_size / 1e6
        print(f"{rows} rows, {size:.0f} MB; {os.cpu_count()} cores")
        found = {}
        for way in WAYS:
            done = subprocess.run(
                [sys.executable, "-m", "tests.bench.batch", "--way", way, folder],
                cwd=ROOT, stdout=subprocess.PIPE, text=True, check=False,
                env=os.environ | {"OPENBLAS_NUM_THREADS": "1"},
            )  # fmt: skip
            lines = done.stdout.splitlines()
            found[way] = json.loads(lines[-1]) if done.returncode == 0 and lines else {}
    return found


def main() -> None:
    """Print seconds, rows a second and peak memory of each way."""
    if len(sys.argv) > 1 and sys.argv[1] == "--way":
        return one(sys.argv[2], sys.argv[3])
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else ROWS
    found = measured(rows)
    for way, took in found.items():
        if not took:
            print(f"{way:8} came to no end (out of memory?)")
            continue
        print(
            f"{way:8} {took['seconds']:7.1f} s {rows / took['seconds']:10,.0f} rows/s "
            f"{took['megabytes']:7.0f} MB at most"
        )
    print(json.dumps({"rows": rows, **{way: took for way, took in found.items() if took}}))
    return None


if __name__ == "__main__":
    main()
