"""What is out of order here, whatever made the reject: proved, acting too, likely, possible.

- *proved*: present with ``PROVED`` by a finding on itself, and on a way to the likely fault. Where
  one finding is the sign of several conditions and one of them is present with that chance, they
  are proved together, the nearest first.
- *acting too*: present with ``ACTING`` by a finding on itself, and on a way to the likely fault,
  whether or not it ranks first: to be put right as well.
- *likely*, *possible*: responsible with ``LIKELY``, ``POSSIBLE``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import Evidence, by_root
from diagnose.engine.presence import Presence
from diagnose.reasoning.asking import cause_name
from diagnose.reasoning.corrections import actions_for
from diagnose.reasoning.ranking import likeliest
from diagnose.reasoning.readings import CLEARLY, readings_of
from diagnose.reasoning.setup import NONE, Desk
from diagnose.reject.found import CHECK, SURE
from diagnose.reject.reject import Reject

PROVED, ACTING, LIKELY, POSSIBLE = 0.8, 0.5, 0.5, 0.15
"""Measured on the histories that are not held out: what a finding on itself shows to be present
with 0.8 was the cause or on its way in 42 of 43 (``tests.golden.words``)."""
PROVED_WORD = "proved"
WORDS = (PROVED_WORD, "acting too", "likely", "possible")
MOSTLY = 0.5
"""A finding is one on a condition itself where it comes with it at least so often."""
A_FAULT = 0.15
"""A fault from this chance is one that what is out of order may have led to."""
STRAY = 0.02
"""A cause below this is no twin worth naming."""


@dataclass(frozen=True, slots=True)
class Standing:
    """How one condition, or several that cannot be parted, stands.

    ``ids``: the nearest first. ``word``: one of ``WORDS``. ``present``: P(one of them is present),
    0 where no finding in the shop can bear on them. ``responsible``: P(one of them did it).
    ``by``: ids of the findings that show it.
    """

    ids: tuple[str, ...]
    names: tuple[str, ...]
    word: str
    present: float
    responsible: float
    by: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The names as one."""
        return " or ".join(self.names)


def standings(
    desk: Desk, reject: Reject, evidence: Evidence, probabilities: Floats
) -> list[Standing]:
    """Return everything that stands out, by word and then by the chance of being responsible."""
    judge = _Judge(desk, reject, evidence, probabilities)
    shown = judge.shown()
    named = {name for one in shown for name in one.ids}
    rest = judge.ranked(named)
    return sorted(
        [*shown, *rest], key=lambda one: (WORDS.index(one.word), -one.responsible, -one.present)
    )


class _Judge:
    def __init__(
        self, desk: Desk, reject: Reject, evidence: Evidence, probabilities: Floats
    ) -> None:
        self.desk, self.reject = desk, reject
        self.probabilities = probabilities
        self.presence = Presence(desk.model, evidence, probabilities)
        roots = by_root(desk.model, probabilities).tolist()
        self.responsible = dict(zip(desk.roots, roots, strict=True))

    def _reaching(self) -> set[str]:
        """Return the conditions on a way to a fault that is likely here."""
        network, names = self.desk.model.network, list(self.desk.conditions)
        shares = np.bincount(network.defect[:-1], self.probabilities[:-1])
        far = np.isin(network.defect[:-1], np.flatnonzero(shares >= A_FAULT))
        return {names[c] for c in np.unique(self.desk.accounts.paths[far]).tolist() if c >= 0}

    def _signs(self) -> dict[str, tuple[str, ...]]:
        """Return finding -> the conditions that it is a sign of, of all that came out bad."""
        book, found = self.desk.book, {}
        for one in self.reject.findings:
            if one.kind == CHECK and one.chance >= SURE and one.answer == book.checks[one.id].bad:
                found[one.id] = book.checks[one.id].reveals
        for reading in readings_of(self.desk, self.reject):
            entry = book.measurements[reading.id]
            if reading.chances[0] >= CLEARLY:
                found[reading.id] = entry.low_speaks_for
            elif reading.chances[2] >= CLEARLY:
                found[reading.id] = entry.high_speaks_for
        return {
            entry: tuple(n for n, figure in signs.items() if book.figure(figure) >= MOSTLY)
            for entry, signs in found.items()
            if entry in self.desk.findings
        }

    def shown(self) -> list[Standing]:
        """Return what is proved or acting, by findings on itself."""
        reaching = self._reaching()
        by: dict[str, list[str]] = {}
        together: list[Standing] = []
        signs = self._signs()
        for entry, names in signs.items():
            for name in names:
                if name in reaching and name in self.desk.conditions:
                    by.setdefault(name, []).append(entry)
        found = {name: self._standing([name], entries) for name, entries in by.items()}
        for entry, names in signs.items():
            mine = [n for n in names if n in found]
            if len(mine) > 1 and not any(found[n].present >= PROVED for n in mine):
                group = self._standing(mine, [entry])
                if group.present >= PROVED:
                    together.append(group)
        grouped = {name for group in together for name in group.ids}
        alone = [s for name, s in found.items() if name not in grouped and s.present >= ACTING]
        return [*together, *alone]

    def _standing(self, names: Sequence[str], entries: Sequence[str]) -> Standing:
        book = self.desk.book
        ids = sorted(names, key=lambda name: -self.responsible.get(name, 0.0))
        try:
            present = self.presence.any_of([self.desk.conditions[name] for name in ids])
        except LookupError:  # in several cliques: at least what the likeliest has
            present = max(self.presence.any_of([self.desk.conditions[n]]) for n in ids)
        return Standing(
            tuple(ids),
            tuple(book.conditions[name].name for name in ids),
            WORDS[0] if present >= PROVED else WORDS[1],
            present,
            sum(self.responsible.get(name, 0.0) for name in ids),
            tuple(dict.fromkeys(entries)),
        )

    def ranked(self, named: set[str]) -> list[Standing]:
        """Return what is likely or possible by responsibility, twins in one line."""
        lines: dict[str, Standing] = {}
        for name in sorted(self.responsible, key=lambda name: -self.responsible[name]):
            if name in named or name == NONE or self.responsible[name] < STRAY:
                continue
            key = self._correction(name) or name
            one = Standing((name,), (cause_name(self.desk, name),), "", 0.0, self.responsible[name])
            if key in lines:
                twin = lines[key]
                one = replace(
                    twin, ids=(*twin.ids, name), names=(*twin.names, *one.names),
                    responsible=twin.responsible + one.responsible,
                )  # fmt: skip
            lines[key] = one
        return [
            replace(one, word=word, present=self._present(one.ids[0]))
            for one in lines.values()
            if (word := _by_share(one.responsible))
        ]

    def _present(self, name: str) -> float:
        number = self.desk.conditions[name]
        known = number in self.presence.variable
        return self.presence.any_of([number]) if known else 0.0

    def _correction(self, name: str) -> str:
        account = likeliest(self.desk, self.probabilities, name)
        actions = actions_for(self.desk.book, account.path, self.desk.job) if account else []
        ids = {id(action): key for key, action in self.desk.book.actions.items()}
        return ids[id(actions[0])] if actions else ""


def _by_share(responsible: float) -> str:
    if responsible >= LIKELY:
        return WORDS[2]
    return WORDS[3] if responsible >= POSSIBLE else ""
