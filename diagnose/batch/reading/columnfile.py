"""What the columns of a sheet hold, in a small file beside it: confirmed once, then read.

order: dmy
decimal: ","
columns:
  "Wo gefunden": "-"
  "Ptn": pattern
same:
  moulder: {Hargeaves: Hargreaves}
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from diagnose.basics.atomic_write import write_whole
from diagnose.basics.errors import Fault, Problem
from diagnose.batch.reading.given import Given
from diagnose.batch.reading.holds import FACTORS
from diagnose.sheets.dates import ORDERS
from diagnose.sheets.numbers import MARKS

END = ".columns.yaml"
LIMIT = 200_000
"""Bytes of the file."""
KEYS = ("columns", "order", "decimal", "carry", "duplicates", "same")
HEAD = "# What the columns of {name} hold; read by 'diagnose batch', and yours to change.\n"


def column_file(sheet: Path) -> Path:
    """Return the file in which the columns of a sheet are kept.

    >>> column_file(Path("march/scrap.xlsx")).name
    'scrap.xlsx.columns.yaml'
    """
    return sheet.with_name(sheet.name + END)


def kept_columns(sheet: Path, given: Given) -> tuple[dict[str, str], Given]:
    """Return heading -> what it holds, and what was said with what is kept beside the sheet.

    What was said now goes before what is kept. Raises Fault with the place of what is wrong.
    """
    path = column_file(sheet)
    if not path.is_file():
        return {}, given
    from diagnose.rulebase.yamlread import read

    document = read(path, str(path), LIMIT)
    data = document.data
    if not isinstance(data, dict) or set(data) - set(KEYS):
        what = f"This is no file of columns; its headings are {', '.join(KEYS)}."
        raise Fault(Problem(document.place_of(()), what, "Delete it to be asked anew."))
    columns = data.get("columns") or {}
    if not isinstance(columns, dict):
        raise Fault(
            Problem(document.place_of(("columns",)), "Write 'heading: what it holds' lines.")
        )
    found = {
        str(heading): "-" if holds is None else str(holds) for heading, holds in columns.items()
    }
    return found, _with_kept(given, data, document)


def _with_kept(given: Given, data: Mapping[str, Any], document: Any) -> Given:
    order, decimal = data.get("order", ""), data.get("decimal", "")
    if order not in ("", *ORDERS):
        raise Fault(Problem(document.place_of(("order",)), f"{order!r} is none of dmy, mdy, ymd."))
    if decimal not in ("", *MARKS):
        raise Fault(Problem(document.place_of(("decimal",)), "The mark is '.' or ','."))
    same = [
        (factor, str(one), str(other))
        for factor, pairs in (data.get("same") or {}).items()
        if factor in FACTORS and isinstance(pairs, dict)
        for one, other in pairs.items()
    ]
    carry = data.get("carry")
    return replace(
        given,
        order=given.order or order,
        decimal=given.decimal or decimal,
        carry=given.carry if given.carry is not None or not isinstance(carry, bool) else carry,
        duplicates=given.duplicates or str(data.get("duplicates", "")),
        same=(*given.same, *same),
    )


def keep_columns(sheet: Path, columns: Mapping[str, str], given: Given) -> Path:
    """Keep what the columns of a sheet hold; raise Fault where it cannot be written."""
    import yaml

    data: dict[str, Any] = {"columns": dict(columns)}
    if given.order:
        data["order"] = given.order
    if given.decimal:
        data["decimal"] = given.decimal
    if given.carry is not None:
        data["carry"] = given.carry
    if given.duplicates:
        data["duplicates"] = given.duplicates
    for factor, one, other in given.same:
        data.setdefault("same", {}).setdefault(factor, {})[one] = other
    text = yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=100)
    path = column_file(sheet)
    try:
        write_whole(path, (HEAD.format(name=sheet.name) + text).encode())
    except OSError as error:
        raise Fault(f"{path} could not be written: {error.strerror or error}.") from None
    return path
