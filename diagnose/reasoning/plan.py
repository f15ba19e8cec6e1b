"""What to do next, in which order, until the cause is found and put right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.basics.duration import about
from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import Evidence
from diagnose.engine.troubleshoot import Trouble, choose
from diagnose.reasoning.asking import Prospect
from diagnose.reasoning.branches import Case, case_of, minutes_of
from diagnose.reasoning.corrections import first_actions
from diagnose.reasoning.places import CASTING, place_words, places
from diagnose.reasoning.reasons import entry_title
from diagnose.reasoning.setup import Desk
from diagnose.reject.found import CHECK, LOOK
from diagnose.reject.reject import Reject

MOST_STEPS, MOST_IN_ONE, MOST_LOOKED = 7, 5, 12
"""So many steps, so many looks in one of them, so many looks, checks, readings and trials in all.
"""
SETTLED = 0.8
"""A correction with this chance is taken to be the right one."""
CORRECT = "correct"
"""The kind of a step that tries a correction."""
ANY = 0.005
"""A step that settles less than this settles nothing."""


@dataclass(frozen=True, slots=True)
class PlanStep:
    """One step of a plan.

    ``step``: its number, from 1; looks at the casting that settle nothing by themselves and follow
    one another are one step, with one number. ``kind``: look, check, measurement, or ``correct``
    with the id of an action. ``minutes``: with its handling, without walking. ``place``: where it
    is done. ``settles``: the chance, as things stand now, that the search ends here. ``says``: in
    words. ``branch``: the answer with which the next step is reached; empty at the end.
    """

    step: int
    kind: str
    id: str
    minutes: float
    place: str
    settles: float
    says: str
    branch: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """The order of steps, followed along the branch on which nothing is found.

    ``minutes``: expected, walking and trials counted in. ``found``: the chance that one of the
    steps ends the search. ``stop``: when to stop, in one sentence.
    """

    steps: tuple[PlanStep, ...]
    minutes: float
    found: float
    stop: str


def plan_for(
    desk: Desk, reject: Reject, evidence: Evidence, probabilities: Floats,
    prospects: Sequence[Prospect], here: str, proved: Sequence[str] = (),
) -> Plan:  # fmt: skip
    """Return the plan for a reject as it stands.

    ``here``: the place where one stands. ``proved``: conditions that are out of order for sure and
    lead to this fault; they are put right first, whatever else there may be.
    """
    case = case_of(desk, reject, evidence, probabilities, prospects, here)
    walker = _Walker(desk, case)
    first = first_actions(desk)
    for name in proved:
        if first.get(name) in case.corrections and walker.goes_on:
            walker.put_right(case.corrections.index(first[name]))
    while walker.goes_on and walker.has_room:
        walker.take_one()
    found = min(1.0, sum(step.settles for step in walker.steps))
    return Plan(tuple(walker.steps), walker.spent, found, walker.stop(found))


class _Walker:
    """Walks along the branch of a plan on which nothing is found."""

    def __init__(self, desk: Desk, case: Case) -> None:
        self.desk = desk
        self.case = case
        self.now: Trouble = case.trouble
        self.here = case.here
        self.open = list(range(len(case.steps)))
        self.reach, self.spent = 1.0, 0.0
        self.steps: list[PlanStep] = []
        self.goes_on = bool(case.corrections)

    @property
    def has_room(self) -> bool:
        """Whether one more can be taken into the plan."""
        last = self.steps[-1] if self.steps else None
        in_run = last is not None and last.place == CASTING and last.settles < ANY
        room = last is None or last.step < MOST_STEPS or in_run
        return room and len(self.steps) < MOST_LOOKED

    def take_one(self) -> None:
        """Add the best step, or end the plan where there is none."""
        choice = choose(self.now, self.here, self.open, deep=not self.steps)
        if choice.step >= 0:
            self._ask(choice.step)
        elif choice.correction >= 0:
            self.put_right(choice.correction)
        else:
            self.goes_on = False

    def _ask(self, number: int) -> None:
        prospect, now = self.case.steps[number], self.now
        self.spent += self.reach * float(now.cost(self.here)[number])
        joint = now.told[number] * now.chance
        mass = joint.sum(axis=-1)
        live = mass > 0.0
        shares = np.zeros((len(mass), now.corrections))
        shares[live] = now.shares(joint[live] / mass[live, None])
        ends = live & (shares.max(axis=-1) >= SETTLED)
        likely = np.where(ends, -1.0, mass)
        go_on = int(likely.argmax())
        settles = self.reach * float(mass[ends].sum())
        says = self._asked(prospect, ends, shares)
        branch = "" if ends[live].all() else _answer_words(self.desk, prospect, go_on)
        self._add(
            prospect.kind, prospect.id, minutes_of(self.desk, prospect), settles, says, branch
        )
        self.here = int(now.place[number])
        self.open.remove(number)
        self.goes_on = bool(branch)
        if branch:
            self.reach *= 1.0 - float(mass[ends].sum())
            self.now = now.after(number, now.told[number, go_on])

    def put_right(self, correction: int) -> None:
        """Add the trial of a correction."""
        now, name = self.now, self.case.corrections[correction]
        share = float(now.shares(now.chance)[correction])
        minutes = float(now.trial[correction])
        self.spent += self.reach * minutes
        action = self.desk.book.actions[name]
        says = f"Put right and try with a casting or two: {action.name}."
        self._add(CORRECT, name, minutes, self.reach * share, says, "it does not help")
        self.reach *= 1.0 - share
        self.goes_on = self.reach > ANY
        if self.goes_on:
            self.now = now.after_failing(correction)

    def _add(
        self, kind: str, name: str, minutes: float, settles: float, says: str, branch: str
    ) -> None:
        place = "" if kind == CORRECT else places(self.desk.book)[name]
        last = self.steps[-1] if self.steps else None
        number = 1 if last is None else last.step + 1
        run = [one for one in self.steps if last and one.step == last.step]
        in_run = last and place == last.place == CASTING and len(run) < MOST_IN_ONE
        if last and in_run and max(settles, last.settles) < ANY:
            number = last.step
        self.steps.append(PlanStep(number, kind, name, minutes, place, settles, says, branch))

    def _asked(self, prospect: Prospect, ends: Floats, shares: Floats) -> str:
        """Say what to look at and which outcome names the correction."""
        title = entry_title(self.desk, prospect.id)
        where = (
            ""
            if prospect.kind == LOOK
            else f" ({place_words(places(self.desk.book)[prospect.id])})"
        )
        told: dict[str, list[str]] = {}
        for answer in np.flatnonzero(ends)[:3].tolist():
            name = self.case.corrections[int(shares[answer].argmax())]
            words = _answer_words(self.desk, prospect, answer)
            told.setdefault(self.desk.book.actions[name].name, []).append(f"“{words}”")
        if not told:
            return f"{title}{where}: narrows it down."
        outcomes = "; ".join(f"if {' or '.join(words)}: {what}" for what, words in told.items())
        return f"{title}{where}; {outcomes}."

    def stop(self, found: float) -> str:
        """Say when to stop."""
        if not self.steps:
            return "Nothing in the book is likely enough to be worth looking for or trying."
        last = self.steps[-1]
        if len(self.steps) == 1 and last.kind == CORRECT:
            return "Stop asking: nothing left to ask is worth its minutes before this is tried."
        share = f"{100 * found:.0f} %"
        return (
            f"Expected {about(self.spent)}; then found with {share}. Stop as soon as one step "
            "names the cause, and put that right."
        )


def _answer_words(desk: Desk, prospect: Prospect, answer: int) -> str:
    """Return an answer of a step in words."""
    book, name = desk.book, prospect.id
    key = prospect.answers[answer]
    if prospect.kind == LOOK and name in book.looks:
        return book.looks[name].answers[key].say
    if prospect.kind == CHECK:
        return book.checks[name].answers[key]
    if name in desk.looks:
        return book.measurements[name].bands[key].say
    reading = book.measurements[name]
    window = desk.window(reading)
    edge = {"below": window and window.low, "above": window and window.high}.get(key)
    return f"{key} {edge:g} {reading.unit}".strip() if edge is not None else f"{key} its window"


def plan_data(plan: Plan) -> list[dict[str, object]]:
    """Return a plan's steps as they stand in the JSON."""
    return [
        {
            "step": step.step, "kind": step.kind, "id": step.id, "minutes": step.minutes,
            "place": step.place, "settles": step.settles, "says": step.says, "if_not": step.branch,
        }
        for step in plan.steps
    ]  # fmt: skip
