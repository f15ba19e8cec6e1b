"""Which matter of the shop every sum belongs to, for lists that people read."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from diagnose.shop.calculation import Calculation
from diagnose.shop.catalogue import calculations

MATTERS: Final[Mapping[str, tuple[str, ...]]] = {
    "sand": (
        "weighing", "clay", "bond_sums", "specimen", "permeability", "sieve", "grain", "windows",
        "batch", "circulation", "hot_sand", "dilution",
    ),
    "cores and moulds": ("cores", "mould"),
    "pattern and size": ("contraction", "tolerance", "proportion"),
    "charge and cupola": ("charge", "chargeplan", "cupola"),
    "iron": (
        "carbon", "liquidus", "arrest", "manganese", "residuals", "inoculation", "chill",
        "strength", "additions",
    ),
    "pouring and gating": (
        "ladle", "ladle_heat", "tap", "pouring", "gating", "poured", "sprue", "flow", "misrun",
    ),
    "freezing and feeding": ("shapes", "freezing", "expansion", "feeder"),
    "dust and gas in the air": ("exposure",),
}  # fmt: skip
"""Matter -> the modules of this folder that hold its sums, in the order of the work."""


def by_matter() -> dict[str, list[Calculation]]:
    """Return every sum under its matter, each matter in the order of the names.

    Raises KeyError for a sum of a module that stands under no matter.
    """
    matter_of = {module: matter for matter, modules in MATTERS.items() for module in modules}
    found: dict[str, list[Calculation]] = {matter: [] for matter in MATTERS}
    for each in calculations().values():
        found[matter_of[each.work.__module__.rpartition(".")[2]]].append(each)
    return found
