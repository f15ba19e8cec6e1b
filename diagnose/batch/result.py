"""What was made of a scrap batch, as data: every screen, page and JSON is written from this."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True)
class SetAside:
    """A row of a sheet that is not used: where it stands, and why. ``text``: what stood there."""

    sheet: str
    row: int
    reason: str
    text: str = ""


@dataclass(frozen=True, slots=True)
class Rows:
    """The account of the rows: ``read`` = ``used`` + the length of ``aside``, always."""

    read: int
    used: int
    aside: tuple[SetAside, ...] = ()


@dataclass(frozen=True, slots=True)
class Bar:
    """One fault of the Pareto: how much of the scrap it is.

    ``count``: castings, a fraction where a word could mean two faults. ``share``: of all scrap,
    with its interval. ``weight`` in kg and ``cost`` in the sheet's own money: none where not known.
    """

    defect: str
    name: str
    count: float
    share: float
    low: float
    high: float
    weight: float | None = None
    cost: float | None = None


@dataclass(frozen=True, slots=True)
class Point:
    """One point of a chart: ``count`` of ``size`` on a day, in a heat or week named ``at``.

    ``low`` and ``high``: the limits of that point. ``rule``: the run rule that it breaks. ``p``:
    how often chance makes such a point, or such a run that ends here.
    """

    at: str
    count: float
    size: float
    value: float
    low: float
    high: float
    rule: str = ""
    p: float = 1.0


@dataclass(frozen=True, slots=True)
class Chart:
    """A control chart. ``kind``: ``p``, ``u``, ``laney p``, ``laney u``, ``ewma`` or ``shares``.

    ``spread``: sigma_z, the spread between points over that of chance alone; 1 where it is chance.
    """

    name: str
    kind: str
    defect: str
    centre: float
    points: tuple[Point, ...]
    spread: float = 1.0


@dataclass(frozen=True, slots=True)
class Change:
    """A step in the rate of a fault, between two dates. ``p``: of such a step by chance."""

    defect: str
    between: tuple[date, date]
    before: float
    after: float
    p: float


@dataclass(frozen=True, slots=True)
class Concentration:
    """Where a fault concentrates: its rate at one level of a factor and elsewhere.

    ``factor``: ``plate``, ``moulder``, ``ladle order``, or a pair joined by `` and ``. ``ratio``
    with its interval is stratified by pattern; ``p`` is a mid-p that allows for heats; ``q``: p
    with the whole family of tests allowed for. ``bad`` of ``poured`` there. ``explained_by``: the
    stronger finding of the same fault that leaves nothing of this one, if any.
    """

    factor: str
    level: str
    defect: str
    rate: float
    rate_elsewhere: float
    ratio: float
    low: float
    high: float
    p: float
    q: float
    bad: float
    poured: float
    explained_by: str = ""


@dataclass(frozen=True, slots=True)
class Dose:
    """One step of a dose curve: ``bad`` of ``poured``, with a reading in ``low`` to ``high``."""

    low: float
    high: float
    bad: float
    poured: float


@dataclass(frozen=True, slots=True)
class Movement:
    """A reading that moves with a fault.

    ``odds_ratio``: for one usual step of it (``per``, in ``unit``). ``lag``: rows of the readings
    between the reading and the pouring. ``curve``: the dose curve.
    """

    quantity: str
    name: str
    defect: str
    odds_ratio: float
    low: float
    high: float
    lag: int
    p: float
    q: float
    per: float
    unit: str
    curve: tuple[Dose, ...] = ()


@dataclass(frozen=True, slots=True)
class Reason:
    """What speaks for (``weight`` above 0) or against a cause, in bans times ten (decibans)."""

    text: str
    weight: float


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause of the batch: how likely it is at work, and which share of the scrap it explains.

    ``shares``: fault -> castings of that fault that it explains (expected). ``probability``: that
    it is at work for one group of rejects at least. ``caution``: cautions of its correction.
    """

    id: str
    name: str
    area: str
    probability: float
    share: float
    shares: tuple[tuple[str, float], ...]
    reasons: tuple[Reason, ...]
    action: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tell:
    """What would tell the two first causes apart soonest. ``kind``: look, check, reading or trial.

    ``castings``: how many to cut or to pour until the difference is seen with the chance ``power``.
    """

    kind: str
    text: str
    minutes: float | None = None
    castings: int | None = None
    power: float | None = None


@dataclass(frozen=True, slots=True)
class UnknownWord:
    """A fault word of the sheet that is not known, how often it stands, and what is near."""

    word: str
    count: int
    nearest: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Batch:
    """Everything that is known of a scrap batch.

    ``scrapped``, ``poured``: castings; the second none without a sheet of them. ``first`` and
    ``last``: days. ``by_pattern``: pattern, scrapped and poured. ``headings``: heading and what it
    was taken for. The ``spread`` of the charts says whether castings of one heat go together.
    ``rate``: interval of the share scrapped of those poured, with that allowed for.
    """

    source: str
    rows: Rows
    scrapped: float
    poured: float | None
    first: date | None
    last: date | None
    pareto: tuple[Bar, ...]
    charts: tuple[Chart, ...] = ()
    changes: tuple[Change, ...] = ()
    concentration: tuple[Concentration, ...] = ()
    readings: tuple[Movement, ...] = ()
    causes: tuple[Cause, ...] = ()
    tells: tuple[Tell, ...] = ()
    unknown_words: tuple[UnknownWord, ...] = ()
    warnings: tuple[str, ...] = ()
    by_pattern: tuple[tuple[str, float, float | None], ...] = ()
    headings: tuple[tuple[str, str], ...] = field(default=())
    rate: tuple[float, float] | None = None
