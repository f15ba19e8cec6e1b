"""What a column of a scrap sheet may hold, and what shops call it; common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping

HOLDS: Mapping[str, tuple[str, ...]] = {
    "date": (
        "date", "day", "date poured", "pour date", "poured on", "cast date", "date cast",
        "casting date", "pouring date", "mould date", "date moulded", "date made", "made on",
        "date time", "date and time", "datum", "dt", "pouring day",
    ),
    "date found": (
        "date found", "date inspected", "inspection date", "date scrapped", "scrap date",
        "date fettled", "found on", "date rejected", "reject date", "date of inspection",
    ),
    "time": (
        "time", "clock", "hour", "time poured", "pour time", "pouring time", "time of day",
        "tap time", "time cast", "hr",
    ),
    "shift": ("shift", "shift no", "turn", "gang", "sh", "day night", "d n"),
    "heat": (
        "heat", "heat no", "heat id", "melt", "melt no", "charge", "charge no", "cast no",
        "tap", "tap no", "ht", "ht no", "blow no",
    ),
    "ladle": ("ladle", "ladle no", "ladle id", "ldl", "ldl no", "lad", "ladle used"),
    "ladle order": (
        "ladle order", "order in ladle", "mould in ladle", "place in ladle", "position in ladle",
        "pour order", "pouring order", "order poured", "seq", "sequence", "seq in ladle",
        "mould order", "nth from ladle", "box in ladle",
    ),
    "pattern": (
        "pattern", "pattern no", "part", "part no", "job", "job no", "casting", "pattern number",
        "patt", "patt no", "pat", "pat no", "item", "article", "product", "part name", "model",
        "casting name", "description", "ptn", "ptn no", "job name", "code",
    ),
    "plate": (
        "plate", "plate no", "pattern plate", "pl", "pl no", "match plate", "matchplate", "board",
        "impression", "cavity", "impression no", "cavity no", "plt", "plt no",
    ),
    "box": (
        "box", "box no", "moulding box", "flask", "flask no", "bx", "bx no", "box pair", "pair",
        "moulding box no",
    ),
    "moulder": (
        "moulder", "molder", "mould by", "moulded by", "made by", "mldr", "moulder name",
        "mouldr", "operator", "moulder no",
    ),
    "core maker": (
        "core maker", "coremaker", "core by", "cores by", "cores made by", "core mkr", "cm",
        "core maker name", "core man", "core shop hand", "operator", "c maker", "c mkr",
        "core made by",
    ),
    "core box": ("core box", "corebox", "core box no", "c box"),
    "core batch": ("core batch", "core lot", "core batch no", "cores from", "core mix"),
    "sand batch": ("sand batch", "sand mix", "mill", "mill no", "sand batch no", "mix no"),
    "machine": (
        "machine", "machine no", "m c", "m c no", "mc", "mc no", "line", "moulding machine",
        "track", "line no", "floor", "bay",
    ),
    "furnace": ("furnace", "furnace no", "fce", "fce no", "cupola", "cupola no"),
    "pourer": ("pourer", "poured by", "caster", "ladle man", "pouring crew"),
    "fault": (
        "fault", "defect", "reason", "cause", "cause of scrap", "scrap reason", "reason for scrap",
        "defect code", "fault code", "reject reason", "reason for reject", "type of defect",
        "defect type", "fault type", "scrap code", "code", "what wrong", "complaint", "scrap type",
        "fault name", "defect name", "reason code", "why", "what for",
    ),
    "remark": (
        "remark", "remarks", "comment", "comments", "note", "notes", "observation", "observations",
        "details", "inspector s remarks", "inspectors remarks", "inspector remarks", "seen",
        "where on casting", "what seen", "rem",
    ),
    "quantity": (
        "quantity", "qty", "qnty", "no off", "pieces", "pcs", "count", "castings scrapped",
        "scrapped", "rejected", "no scrapped", "no rejected", "scrap qty", "qty scrapped",
        "reject qty", "qty rejected", "scrap pcs", "no of castings", "castings", "no scrap",
        "castings rejected", "castings lost", "lost", "bad", "no bad", "off", "how many",
        "no of rejects", "no of scrap", "no castings",
    ),
    "total": (
        "total", "total scrap", "scrap total", "total rejects", "total scrapped", "sum",
        "total bad", "all scrap", "total defects",
    ),
    "poured": (
        "poured", "castings poured", "cast", "made", "castings made", "no poured", "no cast",
        "qty poured", "qty cast", "qty made", "produced", "production", "castings produced",
        "output", "good bad", "total poured", "poured qty", "no made", "castings cast",
        "poured pcs", "pcs poured", "total cast", "total made",
    ),
    "moulds": ("moulds", "moulds poured", "boxes poured", "moulds cast", "no moulds", "boxes"),
    "per mould": (
        "per mould", "castings per mould", "castings mould", "per box", "castings per box",
        "impressions", "no per box", "castings box", "off per box",
    ),
    "weight": (
        "weight", "wt", "scrap weight", "scrap wt", "weight scrapped", "total weight", "mass",
        "kg", "scrap kg", "kilos", "total wt", "weight lost",
    ),
    "piece weight": (
        "piece weight", "unit weight", "weight each", "wt each", "casting weight", "weight ea",
        "wt ea", "piece wt", "unit wt", "each kg", "kg each",
    ),
    "cost": (
        "cost", "scrap cost", "total cost", "loss", "value", "money", "cost of scrap", "price",
        "scrap value", "eur", "gbp", "usd",
    ),
    "piece cost": ("piece cost", "unit cost", "cost each", "cost ea", "price each", "each cost"),
    "casting number": (
        "casting number", "serial", "serial no", "serial number", "tag", "tag no", "ticket",
        "ticket no", "casting id", "reject no", "reject number", "card", "card no", "s n", "sn",
    ),
    "-": (
        "inspector", "initials", "sign", "signed", "signature", "checked by", "insp", "page",
        "row", "id", "customer", "cust", "order no", "works order", "action",
        "disposition", "found at", "operation", "week", "wk", "month", "weekday", "grade",
        "iron grade", "metal", "alloy", "percent", "scrap percent", "scrap rate", "rate", "good",
        "good castings", "drawing", "drawing no", "status", "year", "inspected by", "entered by",
    ),
}  # fmt: skip
FACTORS = (
    "pattern", "heat", "ladle", "ladle order", "plate", "box", "moulder", "core maker", "core box",
    "core batch", "sand batch", "machine", "furnace", "pourer", "shift",
)  # fmt: skip
"""What castings are told apart by; ``hour`` is added where there are times."""
BY_CONTENT = ("scrap", "reject", "rejects", "defects", "faults", "scraps")
"""Headings of the fault where words stand below, and of the quantity where numbers do."""
NUMBERS = ("quantity", "total", "poured", "moulds", "per mould", "weight", "piece weight", "cost",
           "piece cost")  # fmt: skip
IN_WORDS = {
    "date": "date of pouring", "time": "time of pouring", "quantity": "castings scrapped",
    "total": "castings scrapped, all faults", "poured": "castings poured",
    "moulds": "moulds poured",
    "per mould": "castings in a mould", "weight": "weight of the scrap",
    "piece weight": "weight of one casting", "cost": "cost of the scrap",
    "piece cost": "cost of one casting", "fault": "fault word", "ladle order": "order in the ladle",
    "-": "left out",
}  # fmt: skip
