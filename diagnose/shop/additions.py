"""What to weigh in so that an iron reaches an element: alloys, magnesium, manganese, titanium."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, require, steps
from diagnose.shop.elements import MANGANESE, NITROGEN, SULPHUR, TITANIUM
from diagnose.shop.manganese import TIED as MANGANESE_TIED
from diagnose.shop.manganese import manganese_needed
from diagnose.shop.residuals import NITRIDE
from diagnose.shop.series import Reading, within

SULPHIDE: Final = 24.305 / 32.06
"""Weight of magnesium that one of sulphur takes into MgS (IUPAC atomic weights)."""

_WEIGHED = "Element lacking / (content of the addition x share that stays in the metal)."
_RECOVERY = (
    f"{_WEIGHED} Shares that stay, read: carbon 85 to 95 % charged with the metal, 75 % and less "
    "on a full furnace (note on charging, commercial). From memory: silicon 85 to 95 %, manganese "
    "80 to 90 %, titanium 50 to 70 %."
)
_YIELD = (
    "Magnesium given = (residual + 0.76 x sulphur taken up) / yield: trade lexicon on magnesium "
    "yield (read; its definition, the factor by atomic weights). Fade of 0.001 % a minute from "
    "memory; a supplier's sheet 28 (read) asks for about 0.05 % at the start with 0.02 % sulphur "
    "and 12 to 15 minutes' wait."
)
_DRY = "dry and warm tools and additions: damp under iron is thrown out as a blast"
_FLARE = "stand clear of the flare, shield down, nobody over the ladle, the pocket dry"


def addition_for(
    found: Reading, target: Reading, content: float, recovery: float, batch: float = 100.0
) -> Reading:
    """Return the kg to weigh into ``batch`` kg of metal to bring an element up to ``target``.

    ``found``, ``target``, ``content`` of the addition and ``recovery`` (the share that stays) in
    %. The small weight of the addition itself is left out of the batch.

    References: 14 lb of manganese lacking, 80 % alloy, 95 % recovery (page on charge sums, read,
    low authority) ask for 18.4 lb:

    >>> round(addition_for(0.0, 14.0, 80.0, 95.0, 100.0), 1)
    18.4
    """
    within("content", content, "%", 0, 100, above=True)
    within("recovery", recovery, "%", 0, 100, above=True)
    return batch * (target - found) / (content * recovery / 100.0)


def magnesium_needed(sulphur: Reading, residual: Reading, minutes: float = 0.0) -> Reading:
    """Return the magnesium in % that must come into the iron, by its sulphur before treatment.

    ``residual``: wanted at the last mould, in %; ``minutes``: from treatment to it. Sulphur
    binds 0.76 times its weight; magnesium fades by 0.001 % a minute (from memory).

    >>> round(magnesium_needed(0.02, 0.037, 13), 4)
    0.0652
    """
    within("sulphur", sulphur, "%", 0, 0.3)
    within("residual", residual, "%", 0, 0.2)
    return SULPHIDE * sulphur + residual + 0.001 * minutes


def alloy_again(found: Reading, target: Reading, sulphur: Reading) -> Reading:
    """Return by how much to multiply a treatment alloy that left ``found`` % of magnesium.

    >>> round(alloy_again(0.024, 0.045, 0.022), 2)
    1.52
    """
    within("found", found, "%", 0, 0.3)
    tied = SULPHIDE * sulphur
    within("magnesium taken up", found + tied, "%", above=True)
    return (target + tied) / (found + tied)


def _work_addition(
    batch: float, found: float, target: float, content: float, recovery: float
) -> Worked:
    require(target > found, f"found: {figure(found)} % has reached {figure(target)} % already.")
    value = addition_for(found, target, content, recovery, batch)
    lines = steps(
        "addition = batch x (wanted - found) / (content x share that stays)",
        f"{figure(batch)} x ({figure(target)} - {figure(found)}) / ({figure(content)} x "
        f"{figure(recovery / 100)})",
        value,
        "kg",
    )
    return Worked(value, "kg", lines, _RECOVERY, (_DRY,))


def _work_alloy(
    sulphur: float, residual: float, minutes: float, content: float, recovery: float
) -> Worked:
    needed = magnesium_needed(sulphur, residual, minutes)
    value = addition_for(0.0, needed, content, recovery)
    lines = (
        "magnesium to come in = residual + 0.76 x sulphur + 0.001 x minutes",
        f"= {figure(residual)} + {figure(SULPHIDE)} x {figure(sulphur)} + 0.001 x "
        f"{figure(minutes)} = {figure(needed)} %",
        f"alloy for 100 kg = {figure(needed)} x 100 / ({figure(content)} x "
        f"{figure(recovery / 100)})",
        f"= {figure(value)} kg",
    )
    return Worked(value, "kg", lines, _YIELD, (_FLARE,))


def _work_again(found: float, target: float, sulphur: float) -> Worked:
    value = alloy_again(found, target, sulphur)
    tied = figure(SULPHIDE)
    lines = steps(
        "times the alloy = (residual wanted + 0.76 x sulphur) / (residual found + 0.76 x sulphur)",
        f"({figure(target)} + {tied} x {figure(sulphur)}) / ({figure(found)} + {tied} x "
        f"{figure(sulphur)})",
        value,
        "times",
    )
    warnings = ["holds for the same iron, heat, pocket and wait", _FLARE]
    if value > 2.0:
        warnings.insert(0, "more than twice: look for damp, a bare pocket or a wrong alloy first")
    return Worked(value, "times", lines, _YIELD, tuple(warnings))


def _work_manganese(
    batch: float, manganese: float, sulphur: float, excess: float, content: float, recovery: float
) -> Worked:
    target = manganese_needed(sulphur, excess)
    require(
        target > manganese,
        f"manganese: {figure(manganese)} % is enough for {figure(sulphur)} % sulphur.",
    )
    value = addition_for(manganese, target, content, recovery, batch)
    lines = (
        f"manganese wanted = {figure(MANGANESE_TIED)} x {figure(sulphur)} + {figure(excess)} = "
        f"{figure(target)} %",
        f"= {figure(batch)} x ({figure(target)} - {figure(manganese)}) / ({figure(content)} x "
        f"{figure(recovery / 100)})",
        f"= {figure(value)} kg",
    )
    return Worked(value, "kg", lines, _RECOVERY, (_DRY,))


def _work_titanium(
    batch: float,
    nitrogen: float,
    titanium: float,
    limit: float,
    content: float,
    recovery: float,
) -> Worked:
    wanted = (nitrogen - limit) * NITRIDE / 1e4
    require(
        wanted > titanium,
        f"titanium: {figure(titanium)} % is enough to hold {figure(nitrogen)} ppm nitrogen.",
    )
    value = addition_for(titanium, wanted, content, recovery, batch) * 1000.0
    lines = (
        f"titanium wanted = ({figure(nitrogen)} - {figure(limit)}) ppm x {figure(NITRIDE)} = "
        f"{figure(wanted)} %",
        f"= {figure(batch)} x ({figure(wanted)} - {figure(titanium)}) / ({figure(content)} x "
        f"{figure(recovery / 100)}) x 1000",
        f"= {figure(value)} g",
    )
    warnings = [_DRY]
    if wanted > 0.03:
        warnings.insert(0, "over 0.03 % titanium spoils the graphite: cut the nitrogen instead")
    return Worked(value, "g", lines, _RECOVERY, tuple(warnings))


_BATCH = Input("batch", "metal treated", "kg", 1, 50000, default=100)


def _content(what: str, usual: float | None) -> Input:
    return Input("content", f"content of the {what}", "%", 0.1, 100, default=usual)


def _recovery(usual: float) -> Input:
    return Input("recovery", "share that stays in the metal", "%", 5, 100, default=usual)


CALCULATIONS = (
    Calculation(
        "addition-for",
        "Addition that brings an element up",
        (
            _BATCH,
            Input("found", "content found", "%", 0, 20),
            Input("target", "content wanted", "%", 0, 20),
            _content("element in the addition", None),
            _recovery(90),
        ),
        "kg",
        _RECOVERY,
        _work_addition,
    ),
    Calculation(
        "magnesium-alloy",
        "Treatment alloy for 100 kg of ductile iron",
        (
            Input("sulphur", "sulphur before treatment", "%", 0, 0.15),
            Input("residual", "magnesium wanted at the last mould", "%", 0.01, 0.1, default=0.045),
            Input("minutes", "time from treatment to the last mould", "min", 0, 30, default=0),
            _content("alloy in magnesium", 6),
            _recovery(45),
        ),
        "kg",
        _YIELD,
        _work_alloy,
    ),
    Calculation(
        "magnesium-again",
        "Treatment alloy beside what was given last time",
        (
            Input("found", "residual magnesium found", "%", 0, 0.2),
            Input("target", "residual magnesium wanted", "%", 0.01, 0.1, default=0.045),
            Input("sulphur", "sulphur before treatment", "%", 0, 0.15),
        ),
        "times",
        _YIELD,
        _work_again,
    ),
    Calculation(
        "manganese-addition",
        "Ferromanganese that balances the sulphur",
        (
            _BATCH,
            MANGANESE,
            SULPHUR,
            Input("excess", "manganese wanted besides", "%", 0, 0.6, default=0.3),
            _content("ferromanganese in manganese", 75),
            _recovery(85),
        ),
        "kg",
        _RECOVERY,
        _work_manganese,
    ),
    Calculation(
        "titanium-addition",
        "Ferrotitanium that holds nitrogen",
        (
            _BATCH,
            NITROGEN,
            TITANIUM,
            Input("limit", "nitrogen that may stay free", "ppm", 0, 500, default=80),
            _content("ferrotitanium in titanium", 70),
            _recovery(60),
        ),
        "g",
        _RECOVERY,
        _work_titanium,
    ),
)
