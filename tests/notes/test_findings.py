"""What was found, in the words of the book, sorted by what it does to a cause."""

from __future__ import annotations

from diagnose.notes.findings import anything, finding_in_words, not_understood, unsure, weighed
from diagnose.reject.found import UNSURE, Looked, Unsure
from diagnose.reject.reject import Reject
from tests.notes.rejects import REJECTS, opened


def test_a_reading_is_told_with_where_it_stands() -> None:
    session = opened(REJECTS["likely"])
    told = {one.id: finding_in_words(session, one) for one in session.reject.findings}
    assert told["sand-moisture"] == "moulding sand moisture: 5.2, 5.4 %, above its window"
    assert told["near-core"] == "nearness to a core: away from any core"


def test_what_could_not_be_told_is_nothing_found() -> None:
    assert not anything(opened(Reject()))
    assert not anything(opened(Reject(found=(Unsure("seam"),))))
    assert anything(opened(Reject(found=(Looked("seam", "none"),))))


def test_all_that_was_found_is_weighed_once_the_strongest_first() -> None:
    session = opened(REJECTS["likely"])
    cause = session.causes()[0].id
    groups = weighed(session, cause)
    texts = [text for group in groups for text in group.texts]
    known = [one for one in session.reject.findings if one.kind != UNSURE]
    assert sorted(texts) == sorted(finding_in_words(session, one) for one in known)
    strength = {push.entry: abs(push.decibans) for push in session.explain(cause)}
    first = max(known, key=lambda one: strength.get(one.id, 0.0))
    assert texts[0] == finding_in_words(session, first)
    assert all(group.weighs for group in groups)


def test_without_a_cause_they_stand_together_in_the_order_in_which_they_came() -> None:
    session = opened(REJECTS["likely"])
    (group,) = weighed(session, "")
    known = [one for one in session.reject.findings if one.kind != UNSURE]
    assert group.texts == tuple(finding_in_words(session, one) for one in known)
    assert group.weighs == ""


def test_what_was_not_told_and_not_understood_is_kept_apart() -> None:
    session = opened(REJECTS["likely"])
    assert unsure(session) == ("seam in the wall",)
    assert not_understood(session) == ("it went funny at the top",)
