"""A book of a few measurements, made up, and the shop file of a made-up foundry."""

from __future__ import annotations

from diagnose.rulebase.book import Book, Measurement, Scale, Scope, Window

SCALE = Scale(
    base_rates={}, shares={}, none_of_these=0.04, odd_sample=0.05, stray_reading=0.02,
    mis_seen=0.02, named_right=0.7, named_look_alike=0.2, handling=0.5, worth_asking=0.01,
    source=("common practice",),
)  # fmt: skip
GREY, GREEN = ("grey iron",), ("green sand",)


def window(
    low: float | None,
    high: float | None,
    section: tuple[float | None, float | None] | None = None,
    metal: tuple[str, ...] = GREY,
) -> Window:
    scope = Scope(metal=metal, process=GREEN, section=section)
    return Window(source=("common practice",), low=low, high=high, scope=scope)


def measurement(
    name: str, unit: str, possible: tuple[float, float], scatter: float, *windows: Window
) -> Measurement:
    return Measurement(
        name=name, unit=unit, possible=possible, repeatability=scatter, minutes=5, how="Read it.",
        windows=windows, source=("common practice",),
        also=(name.split()[-1],) if unit in ("%", "AFS") else (),
    )  # fmt: skip


BOOK = Book(
    scale=SCALE,
    metals={"grey iron": ("gray iron",), "ductile iron": (), "steel": ()},
    processes={"green sand": ("greensand",), "dry sand": ()},
    measurements={
        "sand-moisture": measurement(
            "moulding sand moisture", "%", (0.3, 15), 0.15,
            window(3.0, 4.8), window(3.2, 5.0, (None, 12)), window(3.0, 4.5, (40, None)),
        ),
        "pouring-temperature": measurement(
            "pouring temperature", "degC", (1100, 1600), 9,
            window(1320, 1440), window(1380, 1450, (None, 10)), window(1260, 1340, (50, None)),
        ),
        "superheat": measurement("superheat", "K", (-60, 450), 12, window(60, None)),
        "sand-permeability": measurement("sand permeability", "AFS", (1, 600), 5),
    },
)  # fmt: skip
SHOP = """\
shop: Brook Lane Foundry
metal: gray iron
process: green sand
windows:
  moulding sand moisture: {low: 3.0, high: 3.8, unit: "%", why: mill card of March}
  pouring temperature:
    - {section: [null, 10], low: 2516, high: 2606, unit: degF}
    - {low: 1340, high: 1400, unit: degC}
  superheat: {low: 90, unit: degF}
  sand-permeability: {high: 120}
repeatability: {moulding sand moisture: "0.1 %", pouring temperature: 9 degF}
"""
