"""The rule base made ready for one kind of job: a metal, a process, a ruling section.

The desk turns names into the numbers that ``diagnose.engine`` works with, and back.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.findings import check_outcomes, reading_outcomes
from diagnose.engine.model import Model
from diagnose.engine.needs import chance_of_needs
from diagnose.engine.network import Figures, Finding, Link, Network
from diagnose.reasoning.likelihoods import LookTable, Paths, called_table, look_tables
from diagnose.rulebase.book import (
    Book,
    Check,
    Measurement,
    Window,
)
from diagnose.rulebase.graph import Account, accounts, live_links
from diagnose.rulebase.job import Job, whole_process

CALLED = "called"
NONE = "none-of-these"
Keep = Callable[[str, Callable[[], Any], Any], Any]
"""Something that keeps what was worked out under a name: see ``rulebase.cache.cached``."""


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


@dataclass(frozen=True, slots=True)
class Desk:
    """A rule base with its engine model, and the numbers of everything in it.

    ``accounts``: all but the last, "none of these". ``account_links``: (accounts, longest path)
    indices into ``strengths``, -1 beyond the end. ``log_besides``: (accounts) what else weighs an
    account, in logarithms: P(what it needs) and how often its defect is scrapped. ``answers``: for
    each look its answer ids. Readings taken on the casting stand among the looks, their bands among
    the answers.
    """

    book: Book
    job: Job
    conditions: dict[str, int]
    looks: dict[str, int]
    answers: tuple[tuple[str, ...], ...]
    findings: dict[str, int]
    accounts: tuple[Account, ...]
    strengths: Floats
    account_links: Ints
    log_besides: Floats
    look_tables: tuple[LookTable, ...]
    model: Model

    @property
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
    """Make the desk for a job. ``keep`` lets slow parts be found again at the next start."""
    keep = keep or (lambda _name, build, _like: build())
    conditions = {
        name: number
        for number, name in enumerate(
            name for name, entry in book.conditions.items() if job.holds_for(entry.scope)
        )
    }
    paths = tuple(accounts(book, job))
    builder = _Builder(book, job, conditions, paths)
    network, figures = builder.network(), builder.figures()
    kept = keep(
        f"desk-{job.metal}-{job.process}-{job.section}",
        lambda: _slow_parts(network, figures, builder),
        {"order": [0], "log needs": [0.0]},
    )
    log_besides = np.array([*kept["log needs"], 0.0])
    log_besides[:-1] += np.log([book.figure(book.defects[a.defect].scrapped) for a in paths])
    strengths, account_links = builder.strengths(), builder.account_links()
    log_prior = account_log_priors(
        network, figures.leak, strengths, account_links, log_besides, book.scale.none_of_these
    )
    tables = builder.look_tables()
    model = Model(
        network,
        figures,
        log_prior,
        [table.log_likelihood for table in tables],
        kept["order"],
    )
    return Desk(
        book, job, conditions, builder.looks, builder.answers, builder.findings, paths,
        strengths, account_links, log_besides, tables, model,
    )  # fmt: skip


def _slow_parts(network: Network, figures: Figures, builder: _Builder) -> dict[str, list[float]]:
    needs = [builder.needed(account) for account in builder.paths]
    chances = chance_of_needs(network, figures, [builder.on_path(a) for a in builder.paths], needs)
    shape = Model(network, figures, np.zeros(len(network.sets)), [])
    return {"order": [int(v) for v in shape.order], "log needs": np.log(chances).tolist()}


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


class _Builder:
    """Works out the arrays of a desk, one public method each."""

    def __init__(
        self, book: Book, job: Job, conditions: dict[str, int], paths: tuple[Account, ...]
    ) -> None:
        self.book = book
        self.job = job
        self.conditions = conditions
        self.paths = paths
        self.defects = {name: number for number, name in enumerate(book.defects)}
        self.links = list(live_links(book, job))
        looks = [n for n, look in book.looks.items() if job.holds_for(look.scope)]
        looks += [n for n, one in book.measurements.items() if one.bands and self._measured(one)]
        self.looks = {name: number for number, name in enumerate([*looks, CALLED])}
        self.answers = (*(tuple(book.answers_of(name)) for name in looks), tuple(book.defects))
        told = [(n, c) for n, c in book.checks.items() if job.holds_for(c.scope)]
        read = [(n, m) for n, m in book.measurements.items() if job.holds_for(m.scope)]
        finders: list[tuple[str, Check | Measurement]] = [*told, *read]
        # What speaks only for conditions that this job cannot have says nothing here, and neither
        # does a reading for which this job has no window.
        self.finders = [(n, entry) for n, entry in finders if any(self._sides(entry))]
        self.findings = {name: number for number, (name, _) in enumerate(self.finders)}

    def _measured(self, reading: Measurement) -> bool:
        """Tell whether a reading can be held against something in this job."""
        return self.job.holds_for(reading.scope) and window_for(reading, self.job) is not None

    def network(self) -> Network:
        """Return the shape of the network."""
        inner = [(start, link) for start, link in self.links if link.to in self.conditions]
        findings = []
        for _, entry in self.finders:
            low, high = self._sides(entry)
            findings.append(Finding(tuple(low), tuple(high)))
        number = self.conditions
        return Network(
            len(number),
            tuple(
                Link((number[start], *(number[n] for n in link.needs)), number[link.to])
                for start, link in inner
            ),
            tuple(findings),
            (*(self.on_path(a) + self.needed(a) for a in self.paths), ()),
            np.array([*(number[account.root] for account in self.paths), -1], dtype=np.intp),
            np.array([*(self.defects[a.defect] for a in self.paths), -1], dtype=np.intp),
        )

    def _sides(self, entry: Check | Measurement) -> tuple[dict[int, float], dict[int, float]]:
        """Return condition -> figure for the low (or bad) side and for the high side.

        A reading that has no window for this job, or one that is open at an end, says nothing
        about that side.
        """
        if isinstance(entry, Check):
            return self._figures_of(entry.reveals), {}
        window = window_for(entry, self.job)
        low = window is not None and window.low is not None
        high = window is not None and window.high is not None
        return (
            self._figures_of(entry.low_speaks_for if low else {}),
            self._figures_of(entry.high_speaks_for if high else {}),
        )

    def _figures_of(self, figures: dict[str, str | float]) -> dict[int, float]:
        return {
            self.conditions[name]: self.book.figure(figure)
            for name, figure in figures.items()
            if name in self.conditions
        }

    def figures(self) -> Figures:
        """Return the judgements of the network."""
        rates = [self.book.conditions[name].base_rate for name in self.conditions]
        sides = [self._sides(entry) for _, entry in self.finders]
        return Figures(
            np.array([0.0 if r is None else self.book.figure(r, base_rate=True) for r in rates]),
            np.array(
                [self.book.figure(x.strength) for _, x in self.links if x.to in self.conditions]
            ),
            tuple(np.array(list(low.values())) for low, _ in sides),
            tuple(np.array(list(high.values())) for _, high in sides),
        )

    def on_path(self, account: Account) -> tuple[int, ...]:
        """Return the conditions that an account runs through."""
        return tuple(self.conditions[name] for name in account.path)

    def needed(self, account: Account) -> tuple[int, ...]:
        """Return what an account needs besides, in ascending order."""
        extra = {name for link in account.links for name in link.needs} - set(account.path)
        return tuple(sorted(self.conditions[name] for name in extra))

    def strengths(self) -> Floats:
        """Return the strength of every live link, those to conditions first."""
        return np.array([self.book.figure(link.strength) for link in self._ordered_links()])

    def _ordered_links(self) -> list[Any]:
        inner = [link for _, link in self.links if link.to in self.conditions]
        return inner + [link for _, link in self.links if link.to not in self.conditions]

    def account_links(self) -> Ints:
        """Return, for each account, which strengths its path runs over; -1 fills up."""
        number = {id(link): k for k, link in enumerate(self._ordered_links())}
        longest = max((len(account.links) for account in self.paths), default=1)
        table = np.full((len(self.paths), longest), -1, dtype=np.intp)
        for r, account in enumerate(self.paths):
            table[r, : len(account.links)] = [number[id(link)] for link in account.links]
        return table

    def look_tables(self) -> tuple[LookTable, ...]:
        """Return the likelihoods of every look, the name given to the defect last."""
        longest = max((len(account.path) for account in self.paths), default=1)
        path = np.full((len(self.paths), longest), -1, dtype=np.intp)
        for r, account in enumerate(self.paths):
            path[r, : len(account.path)] = self.on_path(account)
        defect = np.array([self.defects[a.defect] for a in self.paths], dtype=np.intp)
        looks = [name for name in self.looks if name != CALLED]
        told = look_tables(self.book, looks, self.conditions, self.defects, Paths(path, defect))
        return (*told, called_table(self.book, self.defects, defect))


def answer_numbers(desk: Desk, look: str, answers: Sequence[str]) -> tuple[int, ...]:
    """Return the numbers of a look's answers."""
    known = desk.answers[desk.looks[look]]
    return tuple(sorted(known.index(answer) for answer in answers))
