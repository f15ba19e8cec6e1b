"""The rule base made ready for one kind of job: a metal, a process, a ruling section.

The desk turns names into the numbers that ``diagnose.engine`` works with, and back.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from diagnose.basics.arrayfile import Array, check_shapes
from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.findings import check_outcomes, reading_outcomes
from diagnose.engine.frame import FRAME_LIKE, frame_from
from diagnose.engine.looktable import LOOKS_LIKE, looks_from
from diagnose.engine.model import Model
from diagnose.engine.network import NETWORK_LIKE, Network, network_from
from diagnose.engine.ragged import Arrays
from diagnose.reasoning.accounts import Accounts
from diagnose.rulebase.book import Book, Measurement, Window
from diagnose.rulebase.job import Job, whole_process

CALLED = "called"
NONE = "none-of-these"
SEED, RUNS = 20_26, 32
"""Of the draws by which every figure is shaken, and how often (``Reasons.stability``)."""
FOR_LOOKS = 1500
"""Draws a run that are kept for the tables of the looks answered; there are more where needed."""
Keep = Callable[[str, Callable[[], dict[str, Array]], Callable[[Arrays], Any]], Any]
"""Something that keeps arrays under a name: see ``rulebase.cache.cached_arrays``."""


def section_limits(book: Book) -> list[float]:
    """Return the ends of all sections that something in a book is limited to, in order."""
    entries: list[Any] = [
        *book.conditions.values(), *book.defects.values(), *book.looks.values(),
        *book.checks.values(), *book.measurements.values(),
    ]  # fmt: skip
    entries += [link for one in book.conditions.values() for link in one.leads_to]
    entries += [window for one in book.measurements.values() for window in one.windows]
    scopes = [entry.scope for entry in entries if entry.scope is not None]
    ends = [end for scope in scopes if scope.section is not None for end in scope.section]
    return sorted({float(end) for end in ends if end is not None})


@dataclass(frozen=True)
class Desk:
    """A rule base with its engine model, and the numbers of everything in it.

    ``accounts``: all but the last, "none of these". ``strengths``: of every live link, those to
    conditions first; ``accounts.links`` are indices into it. ``log_besides``: (accounts) what else
    weighs an account, in logarithms: P(what it needs) and how often its defect is scrapped.
    ``answers``: for each look its answer ids. Readings taken on the casting stand among the looks,
    their bands among the answers. ``draws``: the first by which figures are shaken.
    """

    book: Book
    job: Job
    conditions: dict[str, int]
    looks: dict[str, int]
    answers: tuple[tuple[str, ...], ...]
    findings: dict[str, int]
    accounts: Accounts
    strengths: Floats
    log_besides: Floats
    model: Model
    draws: Floats

    @cached_property
    def roots(self) -> list[str]:
        """Root conditions in the order of ``model.root_number``; "none of these" comes first."""
        names = list(self.conditions)
        return [NONE if number < 0 else names[number] for number in self.model.root_number]

    def window(self, measurement: Measurement) -> Window | None:
        """Return the window that holds for this job, the most closely scoped one first."""
        return window_for(measurement, self.job)

    def outcomes(self, name: str) -> Floats:
        """Return what a check or measurement may show, as weights over its basis."""
        scale = self.book.scale
        if name in self.book.checks:
            return check_outcomes(self.book.figure(self.book.checks[name].false_alarm))
        window = self.window(self.book.measurements[name])
        sides = (
            window is not None and window.low is not None,
            window is not None and window.high is not None,
        )
        return reading_outcomes(sides, scale.stray_reading, scale.odd_sample)


def window_for(measurement: Measurement, job: Job) -> Window | None:
    """Return the window that holds for a job; one that names more wins, then the earlier.

    One for the very way of a process goes before those for the process at large, and does not
    hold where the way is not known.
    """
    process = job.process or ""

    def closeness(window: Window) -> int:
        where = window.scope
        if where is None:
            return 0
        this_way = process != whole_process(process) and process in where.process
        at_large = bool(where.metal) + bool(where.process) + 2 * (where.section is not None)
        return at_large + 4 * this_way

    fitting = [
        window
        for window in measurement.windows
        if job.holds_for(window.scope) and not _finer(window, process)
    ]
    if job.section is None:
        fitting = [w for w in fitting if w.scope is None or w.scope.section is None] or fitting[:1]
    return max(fitting, key=closeness, default=None)


def _finer(window: Window, process: str) -> bool:
    """Tell whether a window is only for ways of a process of which the way is not known."""
    named = window.scope.process if window.scope else ()
    return bool(named) and not {process, whole_process(process)} & {*named}


def set_up(book: Book, job: Job, keep: Keep | None = None) -> Desk:
    """Make the desk for a job. ``keep`` lets its arrays be found again at the next start."""
    name = f"desk-{job.metal}-{job.process}-{job.section}"

    def build() -> dict[str, Array]:
        from diagnose.reasoning.layout import desk_arrays

        return desk_arrays(book, job)

    def make(arrays: Arrays) -> Desk:
        return desk_from(book, job, arrays)

    return make(build()) if keep is None else keep(name, build, make)


DESK_LIKE = {
    **NETWORK_LIKE, **FRAME_LIKE, **LOOKS_LIKE,
    "finders": "i findings", "at rest": "f *", "log besides": "f all", "log prior": "f all",
    "draws": "f *", "strengths": "f *",
    "paths": "i accounts longest", "account links": "i accounts longest",
}  # fmt: skip


def desk_from(book: Book, job: Job, arrays: Arrays) -> Desk:
    """Return the desk that arrays hold. Raises ValueError or LookupError where they hold none."""
    check_shapes(arrays, DESK_LIKE)
    names = Names(book, job)
    asked = [*book.checks, *book.measurements]
    findings = {asked[place]: number for number, place in enumerate(arrays["finders"].tolist())}
    network, figures = network_from(arrays)
    if network.conditions != len(names.conditions) or len(arrays["looks"]) != len(names.looks):
        raise ValueError("kept for another book")
    model = Model(
        network,
        figures,
        arrays["log prior"],
        looks_from(arrays, [len(answers) for answers in names.answers]),
        frame_from(arrays),
        arrays["at rest"],
    )
    paths, links = (arrays[name].astype(np.intp) for name in ("paths", "account links"))
    if links.max(initial=-1) >= len(arrays["strengths"]):
        raise ValueError("a link without its strength")
    return Desk(
        book, job, names.conditions, names.looks, names.answers, findings,
        Accounts(book, job, names.conditions, paths, links),
        arrays["strengths"], arrays["log besides"], model, arrays["draws"],
    )  # fmt: skip


class Names:
    """The names that a job has, in the order of their numbers."""

    def __init__(self, book: Book, job: Job) -> None:
        live = [name for name, entry in book.conditions.items() if job.holds_for(entry.scope)]
        self.conditions = {name: number for number, name in enumerate(live)}
        looks = [name for name, look in book.looks.items() if job.holds_for(look.scope)]
        looks += [name for name, one in book.measurements.items() if _is_sight(one, job)]
        self.looks = {name: number for number, name in enumerate([*looks, CALLED])}
        self.answers = (*(tuple(book.answers_of(name)) for name in looks), tuple(book.defects))


def _is_sight(reading: Measurement, job: Job) -> bool:
    """Tell whether a reading is taken on the casting and can be held against something here."""
    held = bool(reading.bands) and job.holds_for(reading.scope)
    return held and window_for(reading, job) is not None


def account_log_priors(
    network: Network, leak: Floats, strengths: Floats, links: Ints, log_besides: Floats, none: float
) -> Floats:
    """Return log prior of every account, "none of these" last: (..., accounts).

    prior of an account ∝ leak of its root * strengths along its path * what ``log_besides`` holds.
    """
    steps = np.concatenate([np.log(strengths), np.zeros((*strengths.shape[:-1], 1))], axis=-1)
    weights = np.log(leak[..., network.root[:-1]]) + steps[..., links].sum(axis=-1)
    weights = weights + log_besides[:-1]
    weights = weights - np.logaddexp.reduce(weights, axis=-1, keepdims=True) + np.log1p(-none)
    last = np.full((*weights.shape[:-1], 1), np.log(none))
    return np.concatenate([weights, last], axis=-1)


def answer_numbers(desk: Desk, look: str, answers: Sequence[str]) -> tuple[int, ...]:
    """Return the numbers of a look's answers."""
    known = desk.answers[desk.looks[look]]
    return tuple(sorted(known.index(answer) for answer in answers))
