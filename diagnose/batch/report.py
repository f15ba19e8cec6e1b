"""A scrap batch as data for machines: the keys that docs/batch.md names."""

from __future__ import annotations

from dataclasses import asdict
from math import isfinite
from typing import Any

from diagnose.batch.charts.control import signals
from diagnose.batch.result import Batch


def as_data(batch: Batch) -> dict[str, Any]:
    """Return a batch as plain data; days as 2026-04-03, what is beyond all numbers as none.

    ``rows``: read = used + set_aside. Figures are not rounded.
    """
    rows = batch.rows
    plain = _plain(asdict(batch))
    told: dict[str, Any] = {
        "source": batch.source,
        "rows": {"read": rows.read, "used": rows.used, "set_aside": len(rows.aside)},
        "set_aside": plain["rows"]["aside"],
        "scrapped": plain["scrapped"],
        "poured": plain["poured"],
        "rate": plain["rate"],
        "first": plain["first"],
        "last": plain["last"],
        "pareto": plain["pareto"],
        "signals": [
            {"chart": chart.name, "defect": chart.defect, "at": point.at, "rule": point.rule}
            for chart in batch.charts
            for point in signals(chart)
        ],
        "causes": [one | {"shares": dict(one["shares"])} for one in plain["causes"]],
    }
    same = ("changes", "concentration", "readings", "tells", "unknown_words", "warnings", "charts")
    told |= {key: plain[key] for key in same}
    told["by_pattern"] = [
        {"pattern": name, "scrapped": scrapped, "poured": poured}
        for name, scrapped, poured in batch.by_pattern
    ]
    told["headings"] = dict(batch.headings)
    return told


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(each) for each in value]
    if hasattr(value, "isoformat"):
        return value.isoformat()
    if isinstance(value, float) and not isfinite(value):
        return None
    return value
