"""Small sheets of a made-up foundry: two patterns, two core makers, one of them with bad cores.

Everything in them is invented. ``write`` puts them into a folder as a shop would keep them.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

BEGIN = date(2026, 1, 5)
POURED = 12
"""Castings of one pattern and core maker on a day."""


@dataclass(frozen=True, slots=True)
class Sheets:
    scrap: Path
    poured: Path
    readings: Path


def write(
    folder: Path, *, days: int = 40, bad_maker: float = 0.2, begin: date = BEGIN, seed: int = 7
) -> Sheets:
    """Write scrap, castings poured and readings; ``bad_maker``: rate of blows of core maker B."""
    chance = random.Random(seed)
    scrap = ["Date;Pattern;Heat;Core maker;Fault;Scrapped;Weight kg;Remarks"]
    poured = ["Date;Pattern;Heat;Core maker;Castings poured"]
    readings = ["Date;Heat;Moisture %"]
    for number in range(days):
        day = begin + timedelta(days=number)
        heat = f"H{number + 1}"
        readings.append(f"{day.isoformat()};{heat};{3.2 + 0.2 * chance.random():.2f}")
        for pattern in ("P-1", "P-2"):
            for maker in ("A", "B"):
                start = f"{day.isoformat()};{pattern};{heat};{maker}"
                poured.append(f"{start};{POURED}")
                rates = {
                    "blow from core gas": bad_maker if maker == "B" else 0.02,
                    "misrun": 0.03,
                }
                for fault, rate in rates.items():
                    count = sum(chance.random() < rate for _ in range(POURED // 2))
                    if count:
                        scrap.append(f"{start};{fault};{count};{4.5 * count:.1f};")
    scrap.append(f"{begin.isoformat()};P-1;H1;A;misrun;-2;;")
    scrap.append("Total;;;;;99;;")
    found = Sheets(*(folder / f"{name}.csv" for name in ("scrap", "poured", "readings")))
    for path, rows in ((found.scrap, scrap), (found.poured, poured), (found.readings, readings)):
        path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return found
