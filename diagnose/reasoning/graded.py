"""What was heard in words, as graded evidence: likelihoods under each answer instead of one answer.

A phrase that means an answer with probability p multiplies what speaks for that answer by p over
how often it is the true one, and leaves the rest to saying nothing. Two phrases about one question
multiply, so that words that contradict each other weaken each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.findings import Weights
from diagnose.engine.posterior import finding_rate, likelihood_of, look_rates
from diagnose.reasoning.setup import CALLED as NAMES
from diagnose.reasoning.setup import Desk
from diagnose.reject.found import CALLED, CHECK, LOOK, RULED_OUT, Hearing

Likelihoods = dict[int, tuple[float, ...]]
"""Number of a look -> likelihood of what was heard under each of its answers."""
MOST = 0.97
"""Words are never surer than this that they mean something at all."""


def heard_looks(desk: Desk, heard: Iterable[Hearing], answered: set[str]) -> Likelihoods:
    """Return the likelihoods of all looks of which something was heard and nothing answered.

    A look that makes sense only under some answers of another says so much of that other one,
    unless that one was answered or heard of itself.
    """
    found: Likelihoods = {}
    hearings = [h for h in heard if h.kind in (LOOK, RULED_OUT, CALLED)]
    for (look, _, contrary), said in _by_phrase(hearings).items():
        if look in desk.looks and look not in answered:
            number = desk.looks[look]
            rates = look_rates(desk.model, number)
            names = desk.answers[number]
            _multiply(found, number, _likelihood(names, rates, said, contrary=contrary))
    own = {*answered, *(h.id for h in hearings)}
    for other, (allowed, chance) in _called_for(desk, hearings, own).items():
        number = desk.looks[other]
        fits = [name in allowed for name in desk.answers[number]]
        found[number] = _one_of(fits, look_rates(desk.model, number), chance)
    return found


def heard_checks(desk: Desk, heard: Iterable[Hearing], answered: set[str]) -> dict[int, Weights]:
    """Return finding -> weights of what was heard of checks that nobody answered."""
    checks = [h for h in heard if h.kind == CHECK and h.id in desk.findings]
    found: dict[int, Weights] = {}
    for name in dict.fromkeys(h.id for h in checks if h.id not in answered):
        weights = check_likelihood(desk, name, checks) @ desk.outcomes(name)
        a, b, c, d = weights.tolist()
        found[desk.findings[name]] = (a, b, c, d)
    return found


def check_likelihood(desk: Desk, name: str, heard: Iterable[Hearing]) -> Floats:
    """Return the likelihood of what was heard of a check under its bad answer and its good one."""
    number, check = desk.findings[name], desk.book.checks[name]
    rates = np.array([finding_rate(desk.model, number, w) for w in desk.outcomes(name)])
    names = (check.bad, *(answer for answer in check.answers if answer != check.bad))
    total = np.ones(2)
    for (_, _, contrary), said in _by_phrase(h for h in heard if h.id == name).items():
        total = total * np.array(_likelihood(names, rates, said, contrary=contrary))
    return np.asarray(total)


def _by_phrase(hearings: Iterable[Hearing]) -> Mapping[tuple[str, str, bool], dict[str, float]]:
    """Return (question, phrase, whether ruled out) -> the answers that it says, by probability."""
    found: dict[tuple[str, str, bool], dict[str, float]] = {}
    for h in hearings:
        named = h.kind == CALLED
        said = found.setdefault((NAMES if named else h.id, h.phrase, h.kind == RULED_OUT), {})
        key = h.id if named else h.answer
        said[key] = max(said.get(key, 0.0), h.probability)
    return found


def _likelihood(
    names: Sequence[str], rates: Floats, said: Mapping[str, float], *, contrary: bool
) -> tuple[float, ...]:
    """Return the likelihood under each answer of what one phrase says, or says is not so."""
    whole = sum(said.values())
    share = min(1.0, MOST / whole) if whole else 1.0
    places = {names.index(a): p * share for a, p in said.items() if a in names}
    if not contrary:
        return likelihood_of(places, rates)
    chance = max(places.values(), default=0.0)
    fits = [number not in places for number in range(len(names))]
    return _one_of(fits, rates, chance)


def _one_of(fits: Sequence[bool], rates: Floats, chance: float) -> tuple[float, ...]:
    """Return the likelihood under each answer of words that say only: one of these."""
    among = np.asarray(fits)
    whole = max(float(rates[among].sum()), 1e-3)
    return tuple(((1.0 - chance) + chance * among / whole).tolist())


def _multiply(found: Likelihoods, look: int, more: tuple[float, ...]) -> None:
    before = found.get(look, (1.0,) * len(more))
    found[look] = tuple(a * b for a, b in zip(before, more, strict=True))


def _called_for(
    desk: Desk, hearings: Iterable[Hearing], own: set[str]
) -> dict[str, tuple[set[str], float]]:
    """Return look -> answers under which something heard makes sense, and how likely it was said.

    Of several things heard the surest counts, so that one phrase does not say it twice.
    """
    found: dict[str, tuple[set[str], float]] = {}
    for h in hearings:
        if h.kind != LOOK or h.id not in desk.book.looks:
            continue
        for other, allowed in desk.book.looks[h.id].only_if.items():
            if other in own or other not in desk.looks:
                continue
            if other not in found or found[other][1] < h.probability:
                found[other] = ({*allowed}, min(h.probability, MOST))
    return found
