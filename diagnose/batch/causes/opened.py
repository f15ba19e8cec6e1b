"""One reject of a group, opened with what the sheet knows of it already filled in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from diagnose.batch.causes.group import Group, Shop
from diagnose.batch.causes.signs import Sign, signs
from diagnose.engine.posterior import look_rates
from diagnose.reasoning.graded import MOST
from diagnose.reasoning.setup import Desk
from diagnose.reject.found import CALLED, LOOK, Hearing
from diagnose.reject.reject import Reject


def reject_of(desk: Desk, shop: Shop, group: Group, name: str = "") -> Reject:
    """Return a reject of a group: its job, the shop's findings, its fault, signs and remarks.

    What the sheet says is taken down as heard, with the probability under which words would say as
    much as its counts do; what is seen on the casting itself then outranks it.
    """
    job = shop.job
    reject = Reject(
        name=name or group.name,
        metal=job.metal or "",
        process=job.process or "",
        section=job.section,
        found=shop.found,
    )
    heard = [*_fault(desk, group), *_counts(desk, group), *_remarks(group)]
    return reject.with_heard(heard)


def _fault(desk: Desk, group: Group) -> Iterator[Hearing]:
    called = " or ".join(desk.book.defects[n].name for n, _ in group.defects
                         if n in desk.book.defects)  # fmt: skip
    for name, share in group.defects:
        if name in desk.book.defects:
            words = f"the sheet calls it {called}"
            yield Hearing(CALLED, name, "", share * MOST, words, words)


def _counts(desk: Desk, group: Group) -> Iterator[Hearing]:
    best: dict[str, tuple[float, Hearing]] = {}
    for sign in signs(desk.book, group):
        if sign.look in desk.looks:
            hearing = heard_as(desk, sign)
            if sign.look not in best or hearing.probability > best[sign.look][0]:
                best[sign.look] = (hearing.probability, hearing)
    for _, hearing in best.values():
        yield hearing


def heard_as(desk: Desk, sign: Sign) -> Hearing:
    """Return a sign as words that say as much: the answer it speaks for most, with its chance."""
    number = desk.looks[sign.look]
    rates: Mapping[str, float] = dict(
        zip(desk.answers[number], look_rates(desk.model, number).tolist(), strict=True)
    )
    answer = max(sign.factors, key=sign.factors.__getitem__)
    factor = sign.factors[answer]
    even = desk.book.signatures[sign.signature].even
    if factor < 1.0 and even in rates:
        answer, factor = even, 1.0 / factor
    more = max(factor - 1.0, 0.0) * rates[answer]
    return Hearing(LOOK, sign.look, answer, min(more / (1.0 + more), MOST), sign.text, sign.text)


def _remarks(group: Group) -> Iterator[Hearing]:
    """Yield what the remark that stands at most rejects says of each question."""
    asked: set[tuple[str, str]] = set()
    for remark in sorted(group.remarks, key=lambda one: -one.count):
        new = [h for h in remark.hearings if h.kind != CALLED and h.entry not in asked]
        asked |= {h.entry for h in new}
        yield from new
