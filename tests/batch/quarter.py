"""The made-up foundry's quarter: ``python -m tests.batch.quarter`` writes it anew, byte for byte.

Brook Lane Foundry is invented, and so are its people, patterns, heats, faults and readings; no rate
is anybody's. What was planted is told in ``knowledge/worked/quarter/key.md``, which is written here
as well. Only ``random.Random.random`` is used, whose numbers are the same in every Python.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from tests.conftest import ROOT

FOLDER = ROOT / "knowledge" / "worked" / "quarter"
SEED = 20_260_105
FIRST, LAST = date(2026, 1, 5), date(2026, 3, 31)
DRIFT_FROM, STEP_AT = date(2026, 2, 9), date(2026, 3, 2)
HEATS, LADLES, PLACES = 6, 2, 6
"""Heats a day, ladles a heat, moulds a ladle."""
CORE_MAKERS = ("E. Okell", "R. Tarn", "S. Vane")
MOULDERS = ("A. Birk", "D. Crane", "J. Hale", "M. Stobbs")


@dataclass(frozen=True)
class Pattern:
    number: str
    plates: tuple[str, ...]
    in_mould: int
    kilos: float
    cored: bool
    at_night: float  # share of its moulds that the night shift pours


PATTERNS = (
    Pattern("P-101", ("1",), 4, 6.5, False, 0.5),
    Pattern("P-104", ("2", "3"), 2, 18.0, True, 0.5),
    Pattern("P-107", ("7",), 6, 3.2, False, 0.88),
    Pattern("P-110", ("4", "5"), 2, 22.5, True, 0.4),
    Pattern("P-112", ("6",), 4, 9.0, False, 0.4),
    Pattern("P-115", ("8",), 4, 7.8, False, 0.4),
    Pattern("P-121", ("9", "10"), 3, 12.4, True, 0.4),
)


@dataclass(frozen=True)
class Mould:
    day: date
    minute: int
    shift: str
    heat: int
    ladle: int
    place: int
    pattern: Pattern
    plate: str
    moulder: str
    core_maker: str


class Dice:
    """Chance out of one stream of numbers."""

    def __init__(self, seed: int) -> None:
        self.roll = random.Random(seed).random

    def one_of(self, things):  # type: ignore[no-untyped-def]
        return things[int(self.roll() * len(things))]

    def hits(self, chance: float) -> bool:
        return self.roll() < chance

    def normal(self) -> float:
        return sum(self.roll() for _ in range(12)) - 6.0

    def of(self, count: int, chance: float) -> int:
        return sum(self.hits(chance) for _ in range(count))


def working_days() -> list[date]:
    days = (FIRST + timedelta(n) for n in range((LAST - FIRST).days + 1))
    return [day for day in days if day.weekday() < 5]


def moisture(day: date, minute: int, wander: float) -> float:
    """Per cent: 3.4, and from the ninth of February on slowly up to 4.5."""
    since = max(0.0, (day - DRIFT_FROM).days + minute / 1440.0)
    return 3.4 + 1.1 * since / (LAST - DRIFT_FROM).days + wander


def moulds(dice: Dice) -> list[Mould]:
    found = []
    heat = 400
    for day in working_days():
        for turn in range(HEATS):
            heat += 1
            night = turn >= HEATS // 2
            begin = (7 * 60 + 20 + 150 * turn) if not night else (15 * 60 + 10 + 150 * (turn - 3))
            for ladle in range(1, LADLES + 1):
                pattern = _pattern(dice, night)
                plate = dice.one_of(pattern.plates)
                moulder = dice.one_of(MOULDERS)
                maker = dice.one_of(CORE_MAKERS) if pattern.cored else ""
                minute = begin + 25 * ladle + int(5 * dice.roll())
                found += [
                    Mould(day, minute + place, "N" if night else "D", heat, ladle, place, pattern,
                          plate, moulder, maker)
                    for place in range(1, PLACES + 1)
                ]  # fmt: skip
    return found


def _pattern(dice: Dice, night: bool) -> Pattern:
    chances = [one.at_night if night else 1.0 - one.at_night for one in PATTERNS]
    left = dice.roll() * sum(chances)
    for pattern, chance in zip(PATTERNS, chances, strict=True):
        left -= chance
        if left < 0.0:
            return pattern
    return PATTERNS[-1]


def rates(mould: Mould, wet: float, dirty: float) -> dict[str, float]:
    """Return the chance of each fault for one casting: what was planted."""
    from_gas = math.exp(1.5 * (wet - 3.4))
    found = {
        "misrun": 0.055 if mould.pattern.number == "P-107" else 0.004,
        "cold-shut": 0.035 if mould.place >= 5 else 0.004,
        "blow-mould-gas": 0.0045 * from_gas,
        "pinholes": 0.003 * from_gas,
        "shift": 0.05 if mould.plate == "3" and mould.day >= STEP_AT else 0.004,
        "sticker": 0.045 if mould.plate == "5" else 0.002,
        "slag-inclusion": 0.007 * dirty,
        "sand-inclusion": 0.009,
        "shrinkage-cavity": 0.006 if mould.pattern.kilos > 12 else 0.001,
        "run-out": 0.0015,
        "broken-in-handling": 0.002,
    }
    if mould.pattern.cored:
        found["blow-core-gas"] = 0.075 if mould.core_maker == "R. Tarn" else 0.011
        found["core-shift"] = 0.005
    return found


WORDS = {
    "misrun": ("misrun", "misrun", "misrun", "m/run", "short run", "MISRUN", "misrn", "not run"),
    "cold-shut": ("cold shut", "cold shut", "c/shut", "cold shuts", "coldshut", "C.S.", "cold lap"),
    "blow-mould-gas": ("blow", "blow", "blows", "blown", "gas", "blow hole"),
    "pinholes": ("pinholes", "pinholes", "pin holes", "p/holes", "pins", "gas"),
    "blow-core-gas": ("core blow", "blow", "blow", "core blow", "c/blow", "blown", "corre blow"),
    "core-shift": ("core shift", "C/shift", "core off"),
    "shift": ("shift", "shift", "mismatch", "x-joint", "shifted"),
    "sticker": ("sticker", "stuck", "sticker", "bad draw"),
    "slag-inclusion": ("slag", "slag", "dirt", "slag incl.", "dirty"),
    "sand-inclusion": ("sand", "sand incl", "sand hole", "dirt", "sand"),
    "shrinkage-cavity": ("shrink", "shrinkage", "draw", "shrnk"),
    "run-out": ("run out", "runout", "r/out"),
    "broken-in-handling": ("broken", "B.I.H.", "bust"),
}
REMARKS = {
    "misrun": ("thin edge not filled", "round edges, far end", "corner missing, smooth"),
    "cold-shut": ("seam, far from gate", "last boxes off ladle", "lap across flat", "end of ladle"),
    "blow-mould-gas": (
        "smooth round holes, top",
        "cope side, away from core",
        "shiny holes up top",
    ),
    "pinholes": ("tiny holes under skin", "pinheads all over", "seen after machining"),
    "blow-core-gas": ("big smooth hole at core", "next to core", "above core, smooth inside"),
    "core-shift": ("wall thin one side", "bore off centre"),
    "shift": ("step at joint 2mm", "step all round joint", "halves out"),
    "sticker": ("face torn, same spot", "sand stuck on plate", "rough patch same place"),
    "slag-inclusion": ("glassy lumps top", "grey lumps cope side", ""),
    "sand-inclusion": ("sand in cope", "loose sand in hole", "dirt near gate"),
    "shrinkage-cavity": ("jagged hole in boss", "rough hole thick part"),
    "run-out": ("box empty half", "iron on floor"),
    "broken-in-handling": ("lug off", "dropped", ""),
}
ODD_WORDS = ("rework?", "see Ted", "QX", "BL7")


@dataclass
class Line:
    mould: Mould
    fault: str
    quantity: int


def lost(dice: Dice, every: list[Mould]) -> tuple[list[Line], dict[tuple[date, int], float]]:
    """Return the castings scrapped, and the moisture of the sand at each test."""
    found: list[Line] = []
    wanders: dict[tuple[date, int], float] = {}
    wander, dirty, heat = 0.0, 1.0, 0
    for mould in every:
        if mould.heat != heat:
            heat = mould.heat
            wander = 0.6 * wander + 0.09 * dice.normal()
            wanders[mould.day, mould.heat] = wander
            dirty = math.exp(0.8 * dice.normal() - 0.32)
        wet = moisture(mould.day, mould.minute, wander)
        left = mould.pattern.in_mould
        for fault, chance in rates(mould, wet, dirty).items():
            bad = dice.of(left, chance)
            left -= bad
            if bad:
                found.append(Line(mould, fault, bad))
    return found, wanders


# the sheets


def number(value: float, places: int = 1) -> str:
    return f"{value:.{places}f}".replace(".", ",")


def when(dice: Dice, day: date) -> str:
    """Write a date as one of two inspectors does."""
    if dice.hits(0.8):
        return f"{day.day:02d}/{day.month:02d}/{day.year}"
    if dice.hits(0.6):
        return f"{day.day}.{day.month}.{day.year % 100}"
    return f"{day.day}-{day:%b}-{day.year % 100}"


def poured_sheet(every: list[Mould]) -> bytes:
    rows = ["Date;Time;Shift;Heat No;Ladle;Order in ladle;Pattern;Plate;Moulder;Core maker;"
            "Castings poured"]  # fmt: skip
    rows += [
        f"{m.day};{m.minute // 60:02d}:{m.minute % 60:02d};{m.shift};{m.heat};{m.ladle};"
        f"{m.place};{m.pattern.number};{m.plate};{m.moulder};{m.core_maker};{m.pattern.in_mould}"
        for m in every
    ]
    return ("\n".join(rows) + "\n").encode()


def readings_sheet(dice: Dice, every: list[Mould], wanders: dict[tuple[date, int], float]) -> bytes:
    """Write a sand test before every heat and an analysis of it, as the laboratory keeps them."""
    rows = ["Date;Time;Heat;Moisture %;Compactability %;Permeability AFS;Green strength kN/m2;"
            "Pouring temp. °C;C %;Si %;Mn %;S %;Rain mm"]  # fmt: skip
    rain = 0.0
    seen: set[int] = set()
    day = None
    for mould in every:
        if mould.heat in seen:
            continue
        seen.add(mould.heat)
        if mould.day != day:
            day = mould.day
            rain = round(6.0 * dice.roll(), 1) if dice.hits(0.35) else 0.0
        clock = f"{(mould.minute - 20) // 60:02d}:{(mould.minute - 20) % 60:02d}"
        wet = moisture(mould.day, mould.minute, wanders[mould.day, mould.heat])
        wet += 0.03 * dice.normal()
        rows.append(
            f"{day.isoformat()};{clock};;{number(wet, 2)};"
            f"{number(38 + 6 * (wet - 3.4) + dice.normal(), 0)};"
            f"{number(120 - 9 * (wet - 3.4) + 4 * dice.normal(), 0)};"
            f"{number(98 - 6 * (wet - 3.4) + 3 * dice.normal(), 0)};;;;;;{number(rain)}"
        )
        clock = f"{mould.minute // 60:02d}:{mould.minute % 60:02d}"
        rows.append(
            f"{day.isoformat()};{clock};{mould.heat};;;;;{number(1378 + 11 * dice.normal(), 0)};"
            f"{number(3.38 + 0.05 * dice.normal(), 2)};{number(2.05 + 0.07 * dice.normal(), 2)};"
            f"{number(0.62 + 0.04 * dice.normal(), 2)};{number(0.085 + 0.008 * dice.normal(), 3)};"
        )
    return ("\n".join(rows) + "\n").encode()


HEADINGS = (
    "Dt poured", "Ptn No.", "Plate", "Ht Nr", "Ldl", "Order in ladle", "Mouldr", "What wrong",
    "Qty", "Wt kg", "Remarks (insp.)", "Initials",
)  # fmt: skip


def scrap_sheet(dice: Dice, lines: list[Line]) -> bytes:
    """Write the castings scrapped as two inspectors do, with the slips that they make."""
    rows = [["Brook Lane Foundry (made up)"], ["Scrap, first quarter 2026"], [], [*HEADINGS]]
    month, above, total = 1, None, 0
    for place, line in enumerate(lines):
        if line.mould.day.month != month:
            rows.append([f"Total month {month}", *[""] * 7, str(total), "", "", ""])
            rows.append([])
            month, total = line.mould.day.month, 0
        row = _scrap_row(dice, line)
        total += line.quantity
        if above is not None and above.mould.heat == line.mould.heat and dice.hits(0.25):
            row[0] = row[3] = '"'
        rows.append(row)
        above = line
        rows += _slips(dice, place, row)
    rows += [
        ["Total quarter", *[""] * 7, str(sum(one.quantity for one in lines)), "", "", ""],
        [],
        [],
    ]
    rows += [["Reason", "Total"], ["misrun", "312"], ["blow", "280"], ["cold shut", "190"]]
    text = "\r\n".join(";".join(_quoted(cell) for cell in row) for row in rows)
    return (text + "\r\n").encode("cp1252")


def _quoted(cell: str) -> str:
    return '""""' if cell == '"' else cell


def _scrap_row(dice: Dice, line: Line) -> list[str]:
    mould = line.mould
    word = dice.one_of(WORDS[line.fault]) if dice.hits(0.985) else dice.one_of(ODD_WORDS)
    remark = dice.one_of(REMARKS[line.fault]) if dice.hits(0.5) else ""
    if dice.hits(0.02) and remark:
        word = ""
    moulder = mould.moulder if dice.hits(0.9) else mould.moulder.lower().replace(". ", ".")
    pattern = mould.pattern.number if dice.hits(0.85) else mould.pattern.number.replace("-", "")
    return [
        when(dice, mould.day), pattern, mould.plate, str(mould.heat), str(mould.ladle),
        str(mould.place) if dice.hits(0.93) else "", moulder if dice.hits(0.97) else "", word,
        str(line.quantity), number(line.quantity * mould.pattern.kilos), remark,
        dice.one_of(("KB", "TP")),
    ]  # fmt: skip


def _slips(dice: Dice, place: int, row: list[str]) -> list[list[str]]:
    """Return the rows that a person slips in after some others."""
    if place in (90, 610):
        return [[*row]]  # copied twice
    if place == 150:
        return [[*row[:8], "-1", *row[9:]]]
    if place == 260:
        return [["32/01/2026", *row[1:]]]
    if place == 340:
        return [[*row[:8], "many", *row[9:]]]
    if place == 420:
        return [[*row[:8], "60", *row[9:]]]  # more than were poured
    if place in (300, 700):
        return [[], [*HEADINGS]]  # the next page of the pad
    if place == 500:
        return [["furnace relined over the weekend", *[""] * 11]]
    return []


KEY = """\
# The made-up quarter, and what was planted in it

Brook Lane Foundry is made up. Its people, patterns, heats, faults and readings are invented, and no
rate here is anybody's. Written by `python -m tests.batch.quarter` (seed {seed}): change nothing by
hand.

- `scrap.csv`: {scrap} castings scrapped, in {lines} true rows, as two inspectors wrote them.
- `poured.csv`: {poured} castings poured in {moulds} moulds, {first} to {last}.
- `readings.csv`: a sand test before each heat, and an analysis of it.

Planted, as the chance for one casting:

| What | Where | Else |
|---|---|---|
| blow from core gas | 7.5 % with cores of R. Tarn | 1.1 % with those of others (cored patterns) |
| blow from mould gas | 0.45 %, times 4.5 for each per cent of moisture above 3.4 | |
| pinholes | 0.30 %, times 4.5 for each per cent of moisture above 3.4 | |
| moisture of the sand | 3.4 %, from 9 February on rising slowly to 4.5 % on 31 March | |
| misrun | 5.5 % of P-107, the thin plate | 0.4 %; nothing to do with the shift |
| night shift | pours most of P-107, and so looks guilty of misruns: it is not | |
| cold shut | 3.5 % in the fifth and sixth mould of a ladle | 0.4 % in the first four |
| shift | 5.0 % on plate 3 from 2 March on | 0.4 % |
| sticker | 4.5 % on plate 5 | 0.2 % |
| slag | 0.7 %, very unlike from heat to heat (the logarithm has a spread of 0.8) | |
| sand, shrinkage, run-out, core shift, broken | at chance everywhere | |

True castings scrapped, before words and slips:

| Fault | Castings |
|---|---|
{faults}

Slips in `scrap.csv`: two rows copied twice, a count of -1, a count of "many", a date of 32 January,
a row with 60 castings of a mould that holds far fewer, headings of a new page twice, a line about
the furnace, totals of each month and of the quarter, and a small table of totals at the end. Words
that nobody can know ({odd}) stand in about one row of seventy.
"""


def key(every: list[Mould], lines: list[Line]) -> bytes:
    """Write what was planted, and how many castings of each fault there are."""
    counts: dict[str, int] = {}
    for line in lines:
        counts[line.fault] = counts.get(line.fault, 0) + line.quantity
    ranked = sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))
    text = KEY.format(
        seed=SEED, scrap=sum(counts.values()), lines=len(lines),
        poured=sum(m.pattern.in_mould for m in every), moulds=len(every), first=FIRST, last=LAST,
        faults="\n".join(f"| {fault} | {count} |" for fault, count in ranked),
        odd=", ".join(ODD_WORDS),
    )  # fmt: skip
    return text.encode()


def quarter() -> dict[str, bytes]:
    """Return file -> content of the whole quarter."""
    dice = Dice(SEED)
    every = moulds(dice)
    lines, wanders = lost(dice, every)
    return {
        "scrap.csv": scrap_sheet(dice, lines),
        "poured.csv": poured_sheet(every),
        "readings.csv": readings_sheet(dice, every, wanders),
        "key.md": key(every, lines),
    }


def main(folder: Path = FOLDER) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in quarter().items():
        (folder / name).write_bytes(content)
        print(f"{folder / name}: {len(content)} bytes")


if __name__ == "__main__":
    main()
