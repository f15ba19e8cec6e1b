"""Lines counted into cells: Ibis expressions that mean the same on every engine.

They run unchanged on DuckDB, PostgreSQL and PySpark, and tests hold the answers against each other.
For that, counts are turned into floats before anything is divided, conditions are counted and never
cast, and no two columns differ only by the case of their letters.

The tables, wherever they lie:

- ``scrap``: a row for each used line. The factors and ``day`` (what a cell is told apart by),
  ``minute`` (of the day), ``word``, ``castings``, ``weight``, ``cost``.
- ``words``: ``word``, ``fault``, ``share``: how likely a fault word means a fault; the shares of
  a word add up to 1.
- ``poured``: factors, ``day``, ``minute``, ``castings``.
- ``readings``: ``moment`` (minutes since some start) and ``value`` of one quantity.
- ``pourings``: ``cell`` and its ``moment``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import ibis.expr.types as ir

AMOUNTS = ("castings", "weight", "cost")


def said(scrap: ir.Table, by: Sequence[str]) -> ir.Table:
    """Return castings, weight and cost of each word in each cell, as the lines have them."""
    sums = {name: scrap[name].cast("float64").sum() for name in AMOUNTS}
    return scrap.group_by([*by, "word"]).aggregate(minute=scrap["minute"].min(), **sums)


def bad(scrap: ir.Table, words: ir.Table, by: Sequence[str]) -> ir.Table:
    """Return castings, weight and cost of each fault in each cell: expected ones.

    A casting whose word may mean two faults is shared out between them.
    """
    meant = said(scrap, by).join(words, "word")
    shared = {name: (meant[name] * meant["share"].cast("float64")).sum() for name in AMOUNTS}
    return meant.group_by([*by, "fault"]).aggregate(minute=meant["minute"].min(), **shared)


def made(poured: ir.Table, by: Sequence[str]) -> ir.Table:
    """Return the castings poured in each cell, and the earliest minute."""
    return poured.group_by(list(by)).aggregate(
        made=poured["castings"].cast("float64").sum(), minute=poured["minute"].min()
    )


def rates(scrap: ir.Table, poured: ir.Table, by: Sequence[str]) -> ir.Table:
    """Return castings made and lost in each cell, and their ratio; none where none was made."""
    import ibis

    nought = ibis.literal(0.0, type="float64")
    keys = list(by)
    both = poured.select(*keys, made=poured["castings"].cast("float64"), lost=nought).union(
        scrap.select(*keys, made=nought, lost=scrap["castings"].cast("float64"))
    )
    sums = both.group_by(keys).aggregate(made=both["made"].sum(), lost=both["lost"].sum())
    return sums.mutate(rate=sums["lost"] / sums["made"].nullif(0.0))


def per_day(scrap: ir.Table, poured: ir.Table) -> ir.Table:
    """Return castings made and lost on each day."""
    return rates(scrap, poured, ["day"])


def per_heat(scrap: ir.Table, poured: ir.Table) -> ir.Table:
    """Return castings made and lost in each heat; heats may be numbered anew each day."""
    return rates(scrap, poured, ["day", "heat"])


def above(scrap: ir.Table, poured: ir.Table, by: Sequence[str]) -> ir.Table:
    """Return the cells in which more castings were lost than made."""
    cells = rates(scrap, poured, by)
    return cells.filter(cells["lost"] > cells["made"])


def crossed(scrap: ir.Table, words: ir.Table, poured: ir.Table, factor: str,
            strata: Sequence[str]) -> ir.Table:  # fmt: skip
    """Return for every stratum, level of a factor and fault: castings made, and lost by it."""
    keys = [*strata, factor]
    lost = bad(scrap, words, keys).select(*keys, "fault", "castings")
    return made(poured, keys).join(lost, keys).select(*keys, "fault", "made", lost="castings")


def before(pourings: ir.Table, readings: ir.Table, lag: int = 0) -> ir.Table:
    """Return the value of the last reading at or before each pouring, or ``lag`` readings earlier.

    Both are counted through in the order of time; so many readings stand before a pouring, and the
    last of them has that number. Pourings before the first reading have none and are left out.
    """
    import ibis

    none: Any = ibis.null("float64")
    marks = readings.select(
        "moment", kind=ibis.literal(0, type="int64"), cell=ibis.literal(-1, type="int64"),
        value=readings["value"].cast("float64"),
    ).union(
        pourings.select("moment", kind=ibis.literal(1, type="int64"),
                        cell=pourings["cell"].cast("int64"), value=none)
    )  # fmt: skip
    in_time = ibis.window(
        order_by=[marks["moment"], marks["kind"], marks["value"], marks["cell"]],
        preceding=None, following=0,
    )  # fmt: skip
    one = ibis.cases((marks["kind"] == 0, 1), else_=0).cast("int64")
    counted = marks.mutate(so_far=one.sum().over(in_time).cast("int64"))
    of_readings = counted.filter(counted["kind"] == 0)
    of_pourings = counted.filter(counted["kind"] == 1)
    values = of_readings.select(place=of_readings["so_far"] + lag, reading=of_readings["value"])
    wanted = of_pourings.select("cell", place=of_pourings["so_far"])
    return wanted.join(values, "place").select("cell", value="reading")
