"""What to do next, what is out of order and why, as lines that a note can take."""

from __future__ import annotations

from itertools import groupby

from diagnose.basics.duration import about
from diagnose.notes.wording import either, percent, sentence
from diagnose.reasoning.places import CASTING
from diagnose.reasoning.plan import CORRECT, PlanStep
from diagnose.reasoning.present import WORDS
from diagnose.reasoning.reasons import entry_title
from diagnose.reasoning.setup import NONE
from diagnose.session.session import Session

PROVED, ACTING, *_ = WORDS


def plan_lines(session: Session) -> tuple[str, ...]:
    """Return the plan, a step a line, and when to stop."""
    plan = session.plan()
    runs = groupby(plan.steps, key=lambda step: step.step)
    return (*(_step(session, number, list(run)) for number, run in runs), plan.stop)


def _step(session: Session, number: int, run: list[PlanStep]) -> str:
    minutes = about(sum(step.minutes for step in run))
    if len(run) > 1 and run[0].place == CASTING:
        titles = [entry_title(session.desk, step.id) for step in run]
        return f"{number}. Look at the casting: {', '.join(titles)} ({minutes})."
    step = run[0]
    share = f"; settles {percent(step.settles)}" if step.settles >= 0.005 else ""
    took = minutes if step.kind != CORRECT else f"{minutes} of work"
    return f"{number}. {sentence(step.says)} ({took}{share})"


def standing_lines(session: Session) -> tuple[str, ...]:
    """Return what is out of order or suspected, a line each, in the order of its say."""
    lines = [one for one in session.standings() if one.responsible > 0.0 or one.present > 0.0]
    order = [one for one in lines if one.word in (PROVED, ACTING)]
    head: tuple[str, ...] = ()
    if len(order) > 1:
        head = (f"{len(order)} things were out of order: put all right, this one first.",)
    return (
        *head,
        *(
            f"{one.word.capitalize()}: {either(list(one.names))}"
            f" ({percent(one.responsible)} that it did this)."
            for one in lines
        ),
    )


def colleague_lines(session: Session) -> tuple[str, ...]:
    """Return three sentences on each of the first two causes."""
    causes = [cause for cause in session.causes() if cause.id != NONE][:2]
    told = [session.colleague(cause.id) for cause in causes]
    return tuple(line for one in told for line in (one.how, one.speaks_for, one.otherwise))
