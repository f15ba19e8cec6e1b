"""What was found on a reject and heard of it, as evidence for the engine."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from diagnose.engine.findings import Weights, check_weights, reading_weights
from diagnose.engine.posterior import Evidence, log_looks, normalised
from diagnose.reasoning.graded import heard_checks, heard_looks
from diagnose.reasoning.readings import readings_of
from diagnose.reasoning.setup import CALLED, Desk, answer_numbers
from diagnose.reasoning.sighted import sight_of
from diagnose.reject.found import CALLED as NAMED
from diagnose.reject.found import CHECK, LOOK, MEASUREMENT, RULED_OUT, SURE, Looked
from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Book
from diagnose.rulebase.sights import sights


def known_answers(book: Book, reject: Reject, *, heard: bool = False) -> dict[str, frozenset[str]]:
    """Return, for every look of which something is known, the answers that it may have.

    ``heard``: what words surely say counts as an answer, as it does for what is worth asking.

    An answer given to a look that makes sense only under certain answers of another look says
    so much about that other one, unless it was answered itself or others say the contrary. An
    answer that was ruled out leaves the others.
    """
    told = [f for f in reject.findings if f.chance >= SURE] if heard else reject.found
    given = {f.id: f.answer for f in told if f.kind == LOOK}
    implied: dict[str, set[str]] = {}
    for found in told:
        if found.kind == RULED_OUT and found.id not in given:
            implied[found.id] = {*book.looks[found.id].answers} - {*found.answers}
    for look in given:
        for other, allowed in _called_for(book, look).items():
            if other not in given:
                implied[other] = implied.get(other, allowed) & allowed
    known = {look: frozenset([answer]) for look, answer in given.items()}
    return known | {look: frozenset(answers) for look, answers in implied.items() if answers}


def excluding(book: Book, reject: Reject) -> list[tuple[Looked, Looked]]:
    """Return the pairs of answered looks that cannot both be right.

    A look makes sense only under certain answers of another one; two answers exclude each other
    where they call for different answers of the same look.
    """
    said = [found for found in reject.found if found.kind == LOOK]
    fitting = [{found.id: {found.answer}} | _called_for(book, found.id) for found in said]
    return [
        (earlier, later)
        for k, later in enumerate(said)
        for n, earlier in enumerate(said[:k])
        if any(not fitting[k][look] & fitting[n][look] for look in fitting[k].keys() & fitting[n])
    ]


def _called_for(book: Book, look: str) -> dict[str, set[str]]:
    """Return look -> answers under which ``look`` makes sense at all."""
    fitting: dict[str, set[str]] = {}
    todo = [look] if look in book.looks else []
    while todo:
        for other, allowed in book.looks[todo.pop()].only_if.items():
            fitting[other] = fitting.get(other, {*allowed}) & {*allowed}
            todo.append(other)
    return fitting


def evidence_of(desk: Desk, reject: Reject) -> Evidence:
    """Turn everything found on a reject, and heard of it, into evidence for the engine."""
    looks = {
        desk.looks[look]: answer_numbers(desk, look, sorted(answers))
        for look, answers in known_answers(desk.book, reject).items()
        if look in desk.looks and len(answers) < len(desk.book.looks[look].answers)
    }
    named = [f.id for f in reject.found if f.kind == NAMED]
    if named:
        looks[desk.looks[CALLED]] = answer_numbers(desk, CALLED, named)
    answered = {f.id for f in reject.found if f.kind != RULED_OUT}
    answered |= {CALLED} if named else set()
    graded = heard_looks(desk, reject.heard, answered) | _measured_sights(desk, reject)
    for look in graded.keys() & looks.keys():  # answers that were ruled out, or follow from others
        may = looks.pop(look)
        graded[look] = tuple(x if k in may else 0.0 for k, x in enumerate(graded[look]))
    findings = heard_checks(desk, reject.heard, answered) | _findings(desk, reject)
    return Evidence(*_once_a_sight(desk, looks, findings, graded))


def _measured_sights(desk: Desk, reject: Reject) -> dict[int, tuple[float, ...]]:
    """Return the likelihoods of the readings taken on the casting, under each of their bands."""
    return {
        desk.looks[found.id]: sight_of(
            measurement,
            desk.window(measurement),
            found.readings,
            measurement.repeatability,
        )
        for found in reject.found
        if found.kind == MEASUREMENT and found.id in desk.looks
        for measurement in [desk.book.measurements[found.id]]
    }


def _findings(desk: Desk, reject: Reject) -> dict[int, Weights]:
    """Return the weights of the checks that were answered and of the readings."""
    scale = desk.book.scale
    findings = {}
    for found in reject.found:
        if found.kind == CHECK and found.id in desk.findings:
            check = desk.book.checks[found.id]
            weights = check_weights(found.answer == check.bad, desk.book.figure(check.false_alarm))
            findings[desk.findings[found.id]] = weights
    readings = readings_of(desk, reject)
    replaced = {name for reading in readings for name in reading.replaces}
    for reading in readings:
        if reading.id in desk.findings and reading.id not in replaced:
            sides = (reading.low is not None, reading.high is not None)
            odd = 1.0 - (1.0 - scale.odd_sample) * reading.fresh
            weights = reading_weights(reading.chances, sides, scale.stray_reading, odd)
            findings[desk.findings[reading.id]] = weights
    return findings


def _once_a_sight(
    desk: Desk,
    looks: dict[int, tuple[int, ...]],
    findings: dict[int, Weights],
    graded: dict[int, tuple[float, ...]],
) -> tuple[dict[int, tuple[int, ...]], dict[int, Weights], dict[int, tuple[float, ...]]]:
    """Let looks that ask after one fact count once: what was answered or measured before words.

    Of several such, what says most counts.

    A look that makes sense only under some answers of another one refines it, so both count. What
    each says is measured over the accounts as they stand before anything is known.
    """
    for group in {frozenset(g) for g in sights(desk.book).values() if len(g) > 1}:
        told = [n for n in sorted(group) if n in desk.looks]
        told = [n for n in told if desk.looks[n] in looks or desk.looks[n] in graded]
        if len(told) < 2:
            continue
        ranks = {n: _rank(desk, looks, graded, desk.looks[n]) for n in told}
        best = max(told, key=ranks.__getitem__)
        for name in told:
            refined = {*_called_for(desk.book, name), name}
            refines = {*_called_for(desk.book, best), best}
            if best not in refined and name not in refines:
                looks.pop(desk.looks[name], None)
                graded.pop(desk.looks[name], None)
    return looks, findings, graded


def _rank(
    desk: Desk,
    looks: Mapping[int, tuple[int, ...]],
    graded: Mapping[int, tuple[float, ...]],
    number: int,
) -> tuple[bool, bool, float]:
    """Return how a look ranks among those that ask after the same fact."""
    measured = list(desk.looks)[number] in desk.book.measurements
    answered = measured or len(looks.get(number, ())) == 1
    return answered, measured or number in looks, _says(desk, looks, graded, number)


def _says(
    desk: Desk,
    looks: Mapping[int, tuple[int, ...]],
    graded: Mapping[int, tuple[float, ...]],
    number: int,
) -> float:
    """Return how much what is known of a look says, in natural units."""
    one = Evidence(
        {number: looks[number]} if number in looks else {},
        {},
        {number: graded[number]} if number in graded else {},
    )
    model = desk.model
    before = np.exp(model.log_prior)
    after = normalised(model.log_prior + log_looks(model, one))
    ratio = np.log(np.maximum(after, 1e-300)) - model.log_prior
    return float((after * ratio * (before > 0.0)).sum())
