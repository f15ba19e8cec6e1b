"""What two sessions entered into one reject: nothing that either said is lost."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.reject.found import Called, Found, Hearing, Looked, Measured, Unsure
from diagnose.reject.reject import Reject
from diagnose.session.together import together

WALL, ROUGH = Looked("wall", "smooth"), Looked("wall", "rough")
WET = Measured("moisture", (4.6,), "4.6 %")
HEARD = Hearing("look", "wall", "smooth", 0.9, "slick", "slick holes")
BASE = Reject(name="cover", found=(WALL,), heard=(HEARD,), not_understood=("hm",))


def test_what_each_side_entered_is_there() -> None:
    mine = replace(BASE, found=(WALL, WET), section=8.0)
    theirs = replace(BASE, found=(WALL, Unsure("core")), not_understood=("hm", "aha"))
    both, clashes = together(BASE, mine, theirs)
    assert clashes == ()
    assert both.found == (WALL, Unsure("core"), WET)
    assert (both.section, both.not_understood) == (8.0, ("hm", "aha"))


def test_what_one_side_took_back_is_gone() -> None:
    mine, theirs = replace(BASE, found=()), replace(BASE, heard=(), not_understood=())
    assert together(BASE, mine, theirs) == (Reject(name="cover"), ())


@pytest.mark.parametrize(
    ("mine", "theirs", "clash"),
    [
        ({"found": (ROUGH,)}, {"found": ()}, "wall"),
        ({"found": (WALL, Called("blow"))}, {"found": (WALL, Called("shrink"))}, "called"),
        ({"section": 8.0}, {"section": 9.0}, "section"),
        ({"other_readings": (("x", "1"),)}, {"other_readings": (("x", "2"),)}, "x"),
    ],
)
def test_what_both_changed_and_not_to_the_same_clashes(
    mine: dict[str, object], theirs: dict[str, object], clash: str
) -> None:
    here = replace(BASE, **mine)  # type: ignore[arg-type]
    both, clashes = together(BASE, here, replace(BASE, **theirs))  # type: ignore[arg-type]
    assert clashes == (clash,)
    assert both == here


FOUND = st.lists(
    st.sampled_from([WALL, ROUGH, WET, Unsure("core"), Called("blow"), Called("shrink")]),
    max_size=4,
)
PHRASES = st.lists(st.sampled_from("abc"), max_size=3)


@st.composite
def reject(draw: st.DrawFn) -> Reject:
    made = Reject(section=draw(st.sampled_from([None, 8.0])))
    found: list[Found] = draw(FOUND)
    for one in found:
        made = made.with_found(one)
    return made.with_phrases(draw(PHRASES))


@given(reject(), reject(), reject())
def test_nothing_new_is_lost(base: Reject, mine: Reject, theirs: Reject) -> None:
    both, clashes = together(base, mine, theirs)
    assert not clashes or {*clashes} <= {"wall", "moisture", "core", "called", "section"}
    if not clashes:
        new = {*mine.found, *theirs.found} - {*base.found}
        assert new <= {*both.found}
        phrases = {*mine.not_understood, *theirs.not_understood} - {*base.not_understood}
        assert phrases <= {*both.not_understood}
    assert together(base, mine, base) == (mine, ())
    same, none = together(base, mine, mine)
    assert none == ()
    assert {*same.found} == {*mine.found}
