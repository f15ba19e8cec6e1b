"""All that is worked out for a kind of job, as plain arrays; done once, then it is kept."""

from __future__ import annotations

import numpy as np

from diagnose.basics.arrayfile import Array
from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.frame import frame_arrays
from diagnose.engine.looktable import LookTable, looks_arrays
from diagnose.engine.model import Model
from diagnose.engine.needs import chance_of_needs
from diagnose.engine.network import Figures, Finding, Link, Network, network_arrays
from diagnose.engine.ragged import narrow, padded
from diagnose.engine.stability import first_draws
from diagnose.reasoning.accounts import ordered_links
from diagnose.reasoning.likelihoods import Paths, called_table, look_tables
from diagnose.reasoning.setup import (
    CALLED,
    FOR_LOOKS,
    RUNS,
    SEED,
    Names,
    account_log_priors,
    window_for,
)
from diagnose.rulebase.book import Book, Check, Measurement
from diagnose.rulebase.book import Link as BookLink
from diagnose.rulebase.graph import Account, accounts, live_links
from diagnose.rulebase.job import Job


def desk_arrays(book: Book, job: Job) -> dict[str, Array]:
    """Return all that is worked out for a job, as plain arrays."""
    paths = tuple(accounts(book, job))
    builder = Builder(book, job, Names(book, job), paths)
    network, figures = builder.network(), builder.figures()
    needs = [builder.needed(account) for account in paths]
    chances = chance_of_needs(network, figures, [builder.on_path(a) for a in paths], needs)
    log_besides = np.append(np.log(chances), 0.0)
    log_besides[:-1] += np.log([book.figure(book.defects[a.defect].scrapped) for a in paths])
    strengths, links = builder.strengths(), builder.account_links()
    log_prior = account_log_priors(
        network, figures.leak, strengths, links, log_besides, book.scale.none_of_these
    )
    tables = builder.look_tables()
    model = Model(network, figures, log_prior, tables)
    return {
        **network_arrays(network, figures),
        **frame_arrays(model.frame),
        **looks_arrays(tables),
        "finders": narrow(np.array(builder.finders_in_book, np.int64)),
        "at rest": model.all_at_rest(),
        "log besides": log_besides,
        "log prior": log_prior,
        "strengths": strengths,
        "draws": first_draws(SEED, RUNS * (_figures(network, strengths) + FOR_LOOKS)),
        "paths": narrow(padded([builder.on_path(a) for a in paths])),
        "account links": narrow(links),
    }


def _figures(network: Network, strengths: Floats) -> int:
    """Return how many figures there are to be shaken."""
    sides = sum(len(finding.low) + len(finding.high) for finding in network.findings)
    return network.conditions + len(strengths) + sides


class Builder:
    """Works out the arrays of a desk, one public method each."""

    def __init__(self, book: Book, job: Job, names: Names, paths: tuple[Account, ...]) -> None:
        self.book = book
        self.job = job
        self.conditions, self.looks = names.conditions, names.looks
        self.paths = paths
        self.defects = {name: number for number, name in enumerate(book.defects)}
        self.links = list(live_links(book, job))
        entries: list[Check | Measurement] = [*book.checks.values(), *book.measurements.values()]
        # What speaks only for conditions that this job cannot have says nothing here, and neither
        # does a reading for which this job has no window.
        self.finders_in_book = [
            place
            for place, entry in enumerate(entries)
            if job.holds_for(entry.scope) and any(self._sides(entry))
        ]
        self.finders = [entries[place] for place in self.finders_in_book]

    def network(self) -> Network:
        """Return the shape of the network."""
        inner = [(start, link) for start, link in self.links if link.to in self.conditions]
        findings = []
        for entry in self.finders:
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
        sides = [self._sides(entry) for entry in self.finders]
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

    def _ordered_links(self) -> list[BookLink]:
        return ordered_links(self.book, self.job, self.conditions)

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
