"""What to do now, step by step: the proofs of the suspects, or the questions of an open note."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from diagnose.notes.note import PlanStep, Step, Suspect


def plan(
    suspects: Sequence[Suspect], shares: Sequence[float], to_ask: Iterable[Step]
) -> tuple[PlanStep, ...]:
    """Return the steps in the order in which to take them.

    The proof comes first that has the largest probability of its cause to a minute of work; one
    that proves several causes by the same outcome stands once and counts for all of them. Behind
    them stand the questions, in their own order. ``shares``: probabilities of the suspects.
    """
    proofs: dict[tuple[str, str], tuple[Step, list[str], float]] = {}
    for suspect, share in zip(suspects, shares, strict=True):
        if (step := suspect.step) is not None:
            key = (step.ask, step.bears_out)
            _, names, before = proofs.get(key, (step, [], 0.0))
            proofs[key] = (step, [*names, suspect.name], before + share)
    in_order = sorted(proofs.values(), key=lambda one: -one[2] / max(one[0].minutes, 0.5))
    return (
        *(PlanStep(step, tuple(names)) for step, names, _ in in_order),
        *(PlanStep(step) for step in to_ask),
    )
