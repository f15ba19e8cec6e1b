"""A reject as data: what gives way to what, and what was heard beside what was answered."""

from __future__ import annotations

import pytest

from diagnose.reject.found import (
    CALLED,
    LIKELY,
    LOOK,
    RULED_OUT,
    Called,
    Checked,
    Hearing,
    Looked,
    RuledOut,
    Unsure,
)
from diagnose.reject.reject import Reject, one_line

SMOOTH = Looked("wall", "smooth")
ROUGH = Looked("wall", "rough")
NOT_SMOOTH = RuledOut("wall", ("smooth",))


def hearing(
    answer: str, probability: float, phrase: str, entry: str = "wall", kind: str = LOOK
) -> Hearing:
    return Hearing(kind, entry, answer, probability, phrase, phrase)


# what was found


def test_a_later_finding_takes_the_place_of_an_earlier_one_and_comes_last() -> None:
    vent = Checked("vent", "open")
    reject = Reject().with_found(SMOOTH).with_found(vent).with_found(ROUGH)
    assert reject.found == (vent, ROUGH)


def test_the_old_reject_stays_as_it_was() -> None:
    before = Reject().with_found(SMOOTH)
    before.with_found(ROUGH)
    assert before.found == (SMOOTH,)


def test_one_name_of_a_fault_gives_way_to_another() -> None:
    reject = Reject().with_found(Called("blow")).with_found(Called("scab"))
    assert [one.id for one in reject.found] == ["scab"]


def test_that_an_answer_is_not_so_adds_nothing_to_another_answer() -> None:
    assert Reject().with_found(ROUGH).with_found(NOT_SMOOTH).found == (ROUGH,)


def test_that_the_answer_given_is_not_so_takes_its_place() -> None:
    assert Reject().with_found(SMOOTH).with_found(NOT_SMOOTH).found == (NOT_SMOOTH,)


def test_answers_that_are_not_so_are_gathered() -> None:
    first = RuledOut("wall", ("smooth",), said="not smooth")
    second = RuledOut("wall", ("rough", "smooth"), said="nor rough")
    (found,) = Reject().with_found(first).with_found(second).found
    assert found == RuledOut("wall", ("smooth", "rough"), "not smooth; nor rough")


def test_what_could_not_be_told_gives_way_to_an_answer() -> None:
    assert Reject().with_found(Unsure("wall")).with_found(SMOOTH).found == (SMOOTH,)
    assert Reject().with_found(Unsure("wall")).with_found(NOT_SMOOTH).found == (NOT_SMOOTH,)


def test_taking_back_takes_what_was_heard_as_well() -> None:
    reject = Reject().with_found(SMOOTH).with_heard([hearing("rough", 0.9, "rough inside")])
    assert reject.without("wall") == Reject()
    assert reject.without_heard("wall").found == (SMOOTH,)


def test_taking_one_name_of_a_fault_back_takes_all_names_that_were_heard() -> None:
    heard = [hearing("", 0.5, "gas hole", entry, CALLED) for entry in ("mould-gas", "core-gas")]
    assert Reject().with_heard(heard).without_heard("core-gas").heard == ()


# what was heard


def test_the_same_words_count_once() -> None:
    first = hearing("smooth", 0.9, "Smooth  inside.")
    again = hearing("smooth", 0.8, "smooth inside")
    reject = Reject().with_heard([first, again]).with_heard([again])
    assert reject.heard == (first,)


def test_what_was_heard_is_a_finding_until_it_is_answered() -> None:
    reject = Reject().with_heard([hearing("smooth", 0.9, "smooth inside")])
    (found,) = reject.findings
    assert (found.answer, found.chance, found.said) == ("smooth", 0.9, "smooth inside")
    assert reject.finding("wall") == found
    assert reject.about("wall") is None
    assert reject.with_found(ROUGH).findings == (ROUGH,)


def test_what_is_hardly_heard_is_no_finding() -> None:
    assert Reject().with_heard([hearing("smooth", LIKELY - 0.01, "slick")]).findings == ()
    assert len(Reject().with_heard([hearing("smooth", LIKELY, "slick")]).findings) == 1


def test_two_phrases_for_two_answers_are_contrary_and_share_the_whole() -> None:
    heard = [hearing("smooth", 0.9, "smooth inside"), hearing("rough", 0.6, "rough inside")]
    (found,) = Reject().with_heard(heard).findings
    assert found.contrary
    assert found.answer == "smooth"
    assert dict(found.chances) == pytest.approx({"smooth": 0.6, "rough": 0.4})


def test_one_phrase_for_two_answers_is_not_contrary() -> None:
    heard = [hearing("smooth", 0.5, "even"), hearing("rough", 0.4, "even")]
    (found,) = Reject().with_heard(heard).findings
    assert not found.contrary
    assert dict(found.chances) == pytest.approx({"smooth": 0.5, "rough": 0.4})


def test_that_an_answer_is_not_so_goes_without_saying_where_another_was_heard() -> None:
    no = hearing("smooth", 0.9, "not smooth", kind=RULED_OUT)
    yes = hearing("rough", 0.9, "rough")
    assert [one.kind for one in Reject().with_heard([no]).findings] == [RULED_OUT]
    assert [one.kind for one in Reject().with_heard([no, yes]).findings] == [LOOK]


def test_a_name_that_was_given_silences_the_names_that_were_heard() -> None:
    heard = [hearing("", 0.9, "scab", "scab", CALLED)]
    reject = Reject().with_heard(heard)
    assert [one.id for one in reject.findings] == ["scab"]
    assert [one.id for one in reject.with_found(Called("blow")).findings] == ["blow"]


# words and readings that nobody knows


def test_phrases_are_kept_once_and_a_later_reading_takes_the_place_of_an_earlier() -> None:
    reject = Reject().with_phrases(["a", "b", "a"]).with_phrases(["b", "c"])
    assert reject.not_understood == ("a", "b", "c")
    reject = reject.with_reading("tint", "3").with_reading("gloss", "4").with_reading("tint", "5")
    assert reject.other_readings == (("gloss", "4"), ("tint", "5"))


@pytest.mark.parametrize("text", ["a\x1b[2Jb", "a\u202eb", "a\r\nb", "a\x00b", "a\u2028b"])
def test_nothing_that_a_person_wrote_steers_a_screen(text: str) -> None:
    assert one_line(text).isprintable()
    assert one_line(text)[0] == "a"
    assert one_line(text)[-1] == "b"
