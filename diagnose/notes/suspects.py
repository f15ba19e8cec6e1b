"""What a note says of one cause: how it brings the fault about, how to prove it, what to change."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, zip_longest
from typing import TYPE_CHECKING

from diagnose.notes.amounts import amounts
from diagnose.notes.findings import finding_in_words, following
from diagnose.notes.note import Correction, Suspect
from diagnose.notes.proof import best_proof, outcomes_for, step_of
from diagnose.notes.wording import either, percent, sentence
from diagnose.reasoning.asking import BANDS, Prospect
from diagnose.reasoning.corrections import actions_for
from diagnose.reject.found import CHECK, SURE
from diagnose.rulebase.book import Action, Book
from diagnose.rulebase.job import job_of

if TYPE_CHECKING:
    from diagnose.reasoning.ranking import Cause
    from diagnose.reasoning.reasons import Push
    from diagnose.session.session import Session

_CLEAR = 3.0
"""Decibans from which a finding is worth naming against a cause: odds shifted twofold."""

IN_FULL = 3
"""Cautions that a note prints in full."""

_MOSTLY = 0.5
"""Share of cases with a cause that an outcome must show, so that it bears the cause out."""


def suspect(session: Session, cause: Cause, proof: Prospect | None) -> Suspect:
    """Return what the note says of one cause, and of what would prove it."""
    book = session.book
    pushes = session.explain(cause.id)
    outcomes = outcomes_for(book, cause.id)
    return Suspect(
        name=cause.name,
        area=book.areas[cause.area].name,
        percent=percent(cause.probability),
        how_it_comes=tuple(sentence(text) for text in session.mechanism(cause.id)),
        proved_by=tuple(_proved_by(session, cause.id, pushes)),
        against=tuple(_against(session, pushes)),
        besides=tuple(_besides(session, pushes)),
        step=None if proof is None else step_of(session.desk, proof, outcomes[proof.id]),
        correction=_correction(
            session, actions_for(book, session.likeliest_path(cause.id), job_of(session.reject))
        ),
    )


def proof_for(session: Session, cause: str, prospects: Sequence[Prospect]) -> Prospect | None:
    """Return the open check or measurement that would best prove a cause; None without one."""
    column = session.desk.roots.index(cause)
    return best_proof(prospects, outcomes_for(session.book, cause), column)


def _proved_by(session: Session, cause: str, pushes: Iterable[Push]) -> Iterator[str]:
    """Yield the findings that show the cause itself."""
    outcomes = outcomes_for(session.book, cause, _MOSTLY)
    speaks_for = {push.entry for push in pushes if push.decibans > 0}
    said = [found for found in session.reject.findings if found.chance >= SURE]
    came_out = {found.id: found.answer for found in said if found.kind == CHECK}
    for reading in session.readings():
        came_out[reading.id] = BANDS[reading.chances.index(max(reading.chances))]
    for found in said:
        if found.id in speaks_for and outcomes.get(found.id) == came_out.get(found.id, ""):
            yield finding_in_words(session, found)
    for entry, text in following(session):
        if outcomes.get(entry) == came_out[entry]:
            yield text


def _against(session: Session, pushes: Iterable[Push]) -> Iterator[str]:
    """Yield the findings that speak most clearly against a cause, two at most."""
    against = [push.entry for push in pushes if push.decibans <= -_CLEAR and not push.besides]
    for found in session.reject.findings:
        if found.id in against[:2]:
            yield finding_in_words(session, found)


def _besides(session: Session, pushes: Iterable[Push]) -> Iterator[str]:
    """Yield the findings that are signs of something else only, with what that is."""
    besides = {push.entry: push.besides for push in pushes if push.besides}
    for found in session.reject.findings:
        if found.id in besides:
            yield f"{finding_in_words(session, found)}, points to {either(besides[found.id])}"


def _correction(session: Session, actions: Sequence[Action]) -> Correction | None:
    if not actions:
        return None
    first, *rest = actions
    return Correction(
        name=first.name,
        what=sentence(first.what),
        how_much=" ".join([sentence(first.how_much), *amounts(session, first)]),
        who=first.who,
        watch=f"{sentence(first.watch)} {_invited(session.book, first)}".strip(),
        verify=sentence(first.verify),
        besides=tuple(action.name for action in rest),
    )


def _invited(book: Book, action: Action) -> str:
    """Say which new faults an action can bring about, but for those that its own text names."""
    names = [book.defects[name].name for name in action.invites]
    names = [name for name in names if name not in action.watch.lower()]
    return f"Overdone: {'; '.join(names)}." if names else ""


def cautions(
    book: Book, areas: Iterable[str], actions: Iterable[Action], to_do: Iterable[str]
) -> tuple[str, ...]:
    """Return the cautions that belong beside actions, checks and measurements.

    Those of the actions stand in full, ``IN_FULL`` at most, the chief one of each before the
    second of any, for nobody reads the sixth; where there is no action, those of the checks
    (``to_do``: their ids). The rest, and those of the areas, are named in one line.
    """
    in_turn = zip_longest(*(action.caution for action in actions))
    named = [caution for turn in in_turn for caution in turn if caution is not None]
    of_actions = len(dict.fromkeys(named))
    for name in to_do:
        entry = book.checks.get(name) or book.measurements.get(name)
        named += entry.caution if entry else ()
    here = set(areas)
    named += [name for name, caution in book.cautions.items() if here & set(caution.areas)]
    each = list(dict.fromkeys(named))
    count = min(of_actions or IN_FULL, IN_FULL)
    full = tuple(sentence(book.cautions[name].say) for name in each[:count])
    rest = [name.replace("-", " ") for name in each[count:]]
    return (*full, f"The works' rules on these hold as well: {', '.join(rest)}.") if rest else full


def source_keys(book: Book, path: Sequence[str], actions: Iterable[Action]) -> list[str]:
    """Return the keys of the sources of an account's conditions and links and of actions."""
    keys: list[str] = []
    for name, onward in pairwise(path):
        condition = book.conditions[name]
        keys += condition.source
        keys += [key for link in condition.leads_to if link.to == onward for key in link.source]
    keys += [key for action in actions for key in action.source]
    return keys
