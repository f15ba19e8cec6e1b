"""What the rule base says, as frozen data: the one definition of every entry.

The same classes validate the YAML (``rulebase.load``), write the JSON Schema for editors
(``rulebase.schema``) and are read back from the cache without any validator. A field name with
an underscore is written with a space in YAML: ``base_rate`` is ``base rate``.

A *figure* is a probability in 0..1 or one of the words that ``knowledge/scale.yaml`` defines.
Sources are keys of ``knowledge/sources.yaml``, or ``common practice``, or ``from memory``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import Field, dataclass, field, fields
from functools import wraps
from typing import Any, Literal, TypeVar, cast

Figure = str | float
Id = str
End = str | float | None
"""An end of a band of readings: see ``Band``."""


def spaced(name: str) -> str:
    """Return the YAML spelling of a field name: underscores become spaces.

    >>> spaced("base_rate"), spaced("same_sight")
    ('base rate', 'same sight as')
    """
    return _SPELT.get(name, name.replace("_", " "))


_SPELT = {"same_sight": "same sight as"}
"""Field names that the YAML spells with a word more."""


class Entry:
    """Shared set-up of all entries: strict keys, spaced spelling in YAML.

    Entries compare, hash and print by their fields, as dataclasses do. They share these three
    methods, because writing them anew for each class costs more at start than reading the book.
    """

    __slots__ = ()
    __pydantic_config__ = {  # noqa: RUF012 - read by the validator, never changed
        "alias_generator": spaced,
        "extra": "forbid",
        "strict": False,
    }

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return NotImplemented
        return _values(self) == _values(other)

    def __hash__(self) -> int:
        return hash(_values(self))

    def __repr__(self) -> str:
        told = ", ".join(f"{f.name}={getattr(self, f.name)!r}" for f in _fields(self))
        return f"{type(self).__name__}({told})"


def _fields(entry: Entry) -> tuple[Field[Any], ...]:
    return fields(cast("Any", entry))


def _values(entry: Entry) -> tuple[Any, ...]:
    return tuple(getattr(entry, field.name) for field in _fields(entry))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Scope(Entry):
    """Where an entry holds; an empty list means everywhere.

    ``section`` is a range of ruling section in mm, ``[from, to]``; either end may be null.
    """

    metal: tuple[str, ...] = ()
    process: tuple[str, ...] = ()
    section: tuple[float | None, float | None] | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Drawing(Entry):
    """A small line drawing: the scene, and ``mark at spot`` for everything drawn into it.

    ``diagnose.drawing`` knows the scenes, their spots and the marks.
    """

    scene: str
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class AnswerDrawings(Entry):
    """One small drawing for each answer of a look, in the same scene.

    ``answers``: answer -> ``mark at spot`` for everything drawn into it; an answer left out shows
    the bare scene.
    """

    scene: str
    answers: dict[Id, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Link(Entry):
    """One thing bringing about another.

    ``strength``: of the moulds in which the first is present, and everything in ``needs`` too,
    the share in which it brings about the second **by itself**. The second's own base rate is
    left out of it.
    """

    to: Id
    strength: Figure
    because: str
    source: tuple[str, ...]
    needs: tuple[Id, ...] = ()
    scope: Scope | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Condition(Entry):
    """A state of the shop, present or absent when the casting was made.

    ``base_rate``: share of moulds in which it is present of its own accord, with none of its
    listed causes at work. Without one it is a mechanism: only other conditions bring it about.
    ``shows``: how a reject looks when this condition lies on the path, look -> answer -> figure.
    """

    name: str
    area: str
    source: tuple[str, ...]
    how: str
    also: tuple[str, ...] = ()
    base_rate: Figure | None = None
    leads_to: tuple[Link, ...] = ()
    shows: dict[Id, dict[Id, Figure]] = field(default_factory=dict)
    scope: Scope | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Defect(Entry):
    """What the trade calls the fault.

    ``contain``: what to quarantine and which other castings to look at. ``scrapped``: of the
    castings with this fault, the share that is scrapped for it, not dressed, mended or let pass.
    ``look_alikes``: defects it is often taken for. ``drawings``: where it sits, and what it is
    like close by.
    """

    name: str
    what: str
    contain: str
    shows: dict[Id, dict[Id, Figure]]
    source: tuple[str, ...]
    also: tuple[str, ...] = ()
    scrapped: Figure = 1.0
    look_alikes: tuple[Id, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    scope: Scope | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Answer(Entry):
    """One answer of a look.

    ``usual``: how often it is seen among rejects at large, whatever their cause (the neutral
    default); the figures of one look are scaled to add up to one.
    ``words``: everyday phrases that mean this answer. ``between_mm``: where the answer stands for a
    range of lengths, its low and high end; nothing for an open one. ``contain``: what to hold
    because of it, where it says which castings are in danger.
    """

    say: str
    usual: Figure
    contain: str = ""
    words: tuple[str, ...] = ()
    between_mm: tuple[float | None, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Look(Entry):
    """Something to see on the casting or to ask about it, with answers that exclude each other.

    ``only_if``: the look makes sense only where these other looks have one of these answers.
    ``not_if``: it need not be asked where one of these other looks is known to have such an answer.
    ``tells_where``: its answers say where, when or whose the bad ones are, so that none is meant
    where a phrase says that all is well. ``same_sight``: looks that ask after the same fact, so
    that whoever answers two of them has told it once (``rulebase.sights``).
    """

    ask: str
    how: str
    minutes: float
    answers: dict[Id, Answer]
    source: tuple[str, ...]
    name: str = ""
    only_if: dict[Id, tuple[Id, ...]] = field(default_factory=dict)
    not_if: dict[Id, tuple[Id, ...]] = field(default_factory=dict)
    tells_where: bool = False
    same_sight: tuple[Id, ...] = ()
    drawing: AnswerDrawings | None = None
    scope: Scope | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Pair(Entry):
    """Two defects that are taken for each other, and what separates them.

    ``by``: look -> answer -> the one of the two that this answer speaks for.
    """

    pair: tuple[Id, Id]
    by: dict[Id, dict[Id, Id]]
    say: str
    source: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Signature(Entry):
    """Which answer of a look the counts of a scrap sheet speak for, sorted by one factor.

    ``factor``: one of ``FACTORS``. ``one``: the answer where one level, whichever it is, has a
    rate of its own, above the others. ``only``: where one level has nearly all of the fault.
    ``levels``: level -> the answer where just this one has a rate of its own. ``even``: the answer
    where all levels have one rate. Answers not named say nothing.
    """

    factor: str
    look: Id
    source: tuple[str, ...]
    one: Id = ""
    only: Id = ""
    levels: dict[str, Id] = field(default_factory=dict)
    even: Id = ""


Place = Literal[
    "", "bench", "moulding floor", "sand plant", "core shop", "furnace", "ladle", "office"
]
"""Where one stands for a check or a reading; the casting that is looked at lies on the bench."""

FACTORS = (
    "pattern", "plate", "impression", "box", "moulder", "pourer", "shift", "machine", "heat",
    "ladle", "ladle order", "core maker", "core box", "core age", "core batch", "sand batch",
    "floor place", "wait after treatment", "time in heat", "time in shift", "weather", "season",
    "course of time", "change before", "rate",
)  # fmt: skip
"""By what a scrap sheet can be sorted, and what can be worked out from its columns."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Check(Entry):
    """Something to verify in the shop: two answers, of which ``bad`` is the one that tells.

    ``reveals``: condition -> share of cases with that condition in which the bad answer is found.
    ``false_alarm``: share of cases with none of them in which it is found all the same.
    ``place``: where one has to go for it, one of ``Place``; else where what it reveals belongs.
    """

    ask: str
    how: str
    minutes: float
    answers: dict[Id, str]
    bad: Id
    reveals: dict[Id, Figure]
    false_alarm: Figure
    source: tuple[str, ...]
    name: str = ""
    words: dict[Id, tuple[str, ...]] = field(default_factory=dict)
    caution: tuple[Id, ...] = ()
    scope: Scope | None = None
    place: Place = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Window(Entry):
    """The target band of a measurement, ``low`` to ``high`` in its unit, for a scope."""

    source: tuple[str, ...]
    low: float | None = None
    high: float | None = None
    scope: Scope | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Sum(Entry):
    """A sum of ``diagnose work``, with the readings that go into it.

    ``by``: the name of the sum. ``takes``: input -> measurement. ``given``: input -> fixed value.
    ``aims``: input -> measurement whose window it aims at (its middle, or its only end).
    ``replaces``: measurements that say nothing of their own once the sum has been worked, because
    their reading is in it.
    """

    by: str
    takes: dict[str, Id]
    given: dict[str, float | str] = field(default_factory=dict)
    aims: dict[str, Id] = field(default_factory=dict)
    replaces: tuple[Id, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Band(Entry):
    """One band of a reading that is taken on the casting, as an answer of a look is.

    ``between``: its low and high end in the measurement's unit; nothing for an open one; ``low`` or
    ``high`` for the end of the job's window, ``0.85 low`` for that part of it. ``usual``: as of
    ``Answer``.
    """

    say: str
    usual: Figure
    between: tuple[End, End]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Amount(Entry):
    """How much to correct by, worked from the readings of the reject.

    Either a sum of ``diagnose work`` (``by``, with ``takes``, ``given`` and ``aims`` as of ``Sum``;
    ``ends``: input -> ``low`` or ``high``, where it aims at that end of the window and not at its
    middle), or a ``change`` of the thing that a reading measures, ``to`` a value (a number, or an
    end of the window as of ``Band``). ``way``: ``up`` or ``down``, so that a reading on the other
    side asks for nothing; ``times``: the change is a factor and not a difference, ``direct`` where
    the reading grows with the thing that is changed, ``inverse`` where it falls.

    ``way`` beside a sum that gives a factor: on which side of one it must lie.

    ``say``: the advice, with ``{amount}`` in it. ``least``: what the shop can weigh or measure, in
    the unit of the amount. ``at_once``: the most that is safe at one time (a factor for ``times``);
    None where too much does no harm; ``rounds``: what one such time is, in the plural; ``start``:
    the reading from which these are counted, where the amount is a temperature. ``most``: more than
    this never, by this way. ``care``: the safety rule beside it. ``otherwise``: said only where
    none before it could be worked.
    """

    say: str
    least: float
    source: tuple[str, ...]
    by: str = ""
    takes: dict[str, Id] = field(default_factory=dict)
    given: dict[str, float | str] = field(default_factory=dict)
    aims: dict[str, Id] = field(default_factory=dict)
    ends: dict[str, str] = field(default_factory=dict)
    change: Id = ""
    to: End = None
    way: str = ""
    times: str = ""
    at_once: float | None = None
    rounds: str = ""
    start: Id = ""
    most: float | None = None
    care: str = ""
    otherwise: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Measurement(Entry):
    """A reading with a unit.

    ``possible``: readings outside it are refused as slips of the pen.
    ``repeatability``: standard deviation of a repeated test on the same sand or metal.
    ``low_speaks_for`` / ``high_speaks_for``: condition -> share of cases with that condition in
    which the quantity really lies below / above the window. ``worked_out``: how it follows from
    other readings where it was not measured itself. ``keeps``: hours in which a reading loses
    half its say on what is poured then; None where it does not age. ``bands``: for a reading taken
    on the casting, that is, a sight with a number: defects and conditions say under ``shows`` how
    often each is found, and it speaks for no condition by itself. ``same_sight``: as of ``Look``.
    ``place``: as of ``Check``.
    """

    name: str
    unit: str
    possible: tuple[float, float]
    repeatability: float
    minutes: float
    how: str
    windows: tuple[Window, ...]
    source: tuple[str, ...]
    also: tuple[str, ...] = ()
    low_speaks_for: dict[Id, Figure] = field(default_factory=dict)
    high_speaks_for: dict[Id, Figure] = field(default_factory=dict)
    worked_out: Sum | None = None
    keeps: float | None = None
    bands: dict[Id, Band] = field(default_factory=dict)
    same_sight: tuple[Id, ...] = ()
    caution: tuple[Id, ...] = ()
    scope: Scope | None = None
    place: Place = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Action(Entry):
    """What to change, by how much, who does it, what to watch, and how to see that it worked.

    ``worked``: what says how much for the readings at hand. ``invites``: defects that the
    change can bring about where it is overdone.
    """

    name: str
    cures: tuple[Id, ...]
    what: str
    how_much: str
    who: str
    watch: str
    verify: str
    source: tuple[str, ...]
    worked: tuple[Amount, ...] = ()
    invites: tuple[Id, ...] = ()
    caution: tuple[Id, ...] = ()
    scope: Scope | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Caution(Entry):
    """A way to get hurt, in one or two sentences, and the areas whose actions must show it.

    ``words``: an action that says one of these must have it beside it.
    """

    say: str
    source: tuple[str, ...]
    areas: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Source(Entry):
    """A published source: what it is, and how much of it was read (``read`` or ``memory``)."""

    what: str
    trust: str
    extent: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Term(Entry):
    """A word of the trade and the other words for it; ``means`` in one sentence."""

    means: str
    source: tuple[str, ...]
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Area(Entry):
    """A part of the works; ``hazardous`` areas must put a caution beside every action."""

    name: str
    hazardous: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Scale(Entry):
    """The words that stand for figures, and the few figures that belong to no entry.

    ``base_rates`` and ``shares``: word -> probability. ``none_of_these``: prior share of rejects
    whose cause the book does not hold. ``odd_sample``: share of readings whose sample says
    nothing about the one mould. ``stray_reading``: share of moulds in which a quantity lies
    outside its window on one side for no reason that the book holds. ``mis_seen``: share of looks
    answered without regard to what is there. ``named_right``: how often a person names the defect
    rightly; ``named_look_alike``: how often they name one of its look-alikes instead.
    ``handling``: minutes that any question costs besides its own, to read it and to answer it.
    ``worth_asking``: bits per minute below which asking on is not worth it. ``walk``: minutes from
    one place of the works to another. ``trial``: minutes of trying a correction with a casting or
    two. ``giving_up``: minutes that it takes where the book's causes are not it.
    """

    base_rates: dict[str, float]
    shares: dict[str, float]
    none_of_these: float
    odd_sample: float
    stray_reading: float
    mis_seen: float
    named_right: float
    named_look_alike: float
    handling: float
    worth_asking: float
    source: tuple[str, ...]
    walk: float = 3.0
    trial: float = 30.0
    giving_up: float = 240.0


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Book(Entry):
    """The whole rule base; every section maps ids to entries.

    It has no slots, so that what follows from it can be kept with it (``once_a_book``).

    ``renamed``: ``entry=answer`` as it was once called -> as it is called now, for looks and
    checks (``rulebase.renamed``).
    """

    scale: Scale
    metals: dict[str, tuple[str, ...]] = field(default_factory=dict)
    processes: dict[str, tuple[str, ...]] = field(default_factory=dict)
    areas: dict[Id, Area] = field(default_factory=dict)
    sources: dict[Id, Source] = field(default_factory=dict)
    glossary: dict[str, Term] = field(default_factory=dict)
    cautions: dict[Id, Caution] = field(default_factory=dict)
    conditions: dict[Id, Condition] = field(default_factory=dict)
    defects: dict[Id, Defect] = field(default_factory=dict)
    pairs: dict[Id, Pair] = field(default_factory=dict)
    looks: dict[Id, Look] = field(default_factory=dict)
    checks: dict[Id, Check] = field(default_factory=dict)
    measurements: dict[Id, Measurement] = field(default_factory=dict)
    actions: dict[Id, Action] = field(default_factory=dict)
    signatures: dict[Id, Signature] = field(default_factory=dict)
    renamed: dict[str, str] = field(default_factory=dict)

    def taken_by_sums(self) -> frozenset[Id]:
        """Return the measurements that go into a quantity, or an amount, worked out from them."""
        sums = (measurement.worked_out for measurement in self.measurements.values())
        taken = {name for sum_ in sums if sum_ for name in sum_.takes.values()}
        amounts = [one for action in self.actions.values() for one in action.worked]
        taken |= {name for one in amounts for name in one.takes.values()}
        return frozenset(taken)

    def answers_of(self, name: Id) -> Mapping[Id, Answer | Band]:
        """Return the answers of a look, or the bands of a reading taken on the casting."""
        look = self.looks.get(name)
        return self.measurements[name].bands if look is None else look.answers

    def seen(self) -> tuple[Id, ...]:
        """Return all that is seen of the casting: the looks, then the readings with bands."""
        return (*self.looks, *(n for n, reading in self.measurements.items() if reading.bands))

    def figure(self, value: Figure, *, base_rate: bool = False) -> float:
        """Return a figure as a number; a word is looked up in the scale."""
        if isinstance(value, str):
            words = self.scale.base_rates if base_rate else self.scale.shares
            return words[value]
        return float(value)


Followed = TypeVar("Followed")


def once_a_book(work: Callable[[Book], Followed]) -> Callable[[Book], Followed]:
    """Keep with a book what follows from it; a book never changes, so it is worked out once.

    >>> from diagnose.rulebase.load import load
    >>> names = once_a_book(lambda book: list(book.areas))
    >>> book = load()
    >>> names(book) is names(book)
    True
    """
    key = f"{work.__module__}.{work.__qualname__}"

    @wraps(work)
    def kept(book: Book) -> Followed:
        followed: dict[str, Followed] = book.__dict__
        if key not in followed:
            followed[key] = work(book)
        return followed[key]

    return kept
