"""The verdict in sections: what is named first, what is left out, and what is not claimed."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from diagnose.basics.layout import Line, Section
from diagnose.notes.verdict import BAR, SHOWN, WORTH_SHOWING, changes, pushes, shares, verdict
from diagnose.notes.wording import percent
from diagnose.reasoning.ranking import Share
from diagnose.reasoning.reasons import Change, Push
from diagnose.reasoning.setup import NONE
from diagnose.reject.reject import Reject
from diagnose.session.session import Session
from tests.notes.rejects import REJECTS, opened


def section(sections: list[Section], title: str) -> Section:
    (found,) = (one for one in sections if one.title.startswith(title))
    return found


def texts(of: Section) -> list[str]:
    return [line.text for line in of.lines]


def test_a_likely_cause_is_said_in_the_first_line() -> None:
    session = opened(REJECTS["likely"])
    sections = verdict(session)
    first = session.causes()[0]
    assert first.probability >= 0.5
    headline = texts(section(sections, "The verdict"))[0]
    assert headline == f"Very likely: {first.name}."
    assert section(sections, f"Why: {first.name}").lines
    assert texts(section(sections, "How it comes about"))[0].endswith(".")


def test_where_several_contend_none_is_named_as_the_likely_one() -> None:
    session = opened(REJECTS["contest"])
    first = session.causes()[0]
    headline = texts(section(verdict(session), "The verdict"))[0]
    assert first.probability < 0.5
    assert headline == f"Open. The first of several is: {first.name}."


def test_that_no_cause_fits_is_said(start: Callable[..., Session]) -> None:
    session = start(Reject(name="odd"))
    session.answer("fault-form", "wrong-shape")
    session.answer("size-error", "sizes-right")
    session.answer("bow", "straight")
    session.answer("feature", "all-there")
    session.answer("stock-left", "cleans-up")
    first = session.causes()[0]
    assert first.id == NONE
    if first.probability < 0.5:
        expected = "Open. No cause in the book fits well so far."
        assert texts(section(verdict(session), "The verdict"))[0] == expected


def test_bars_and_keys_are_for_the_screen_alone() -> None:
    session = opened(REJECTS["contest"])
    plain, screen = verdict(session), verdict(session, on_screen=True)
    causes = section(plain, "Likely causes"), section(screen, "Likely causes")
    assert texts(causes[0]) == texts(causes[1])
    assert all("#" not in line.left for line in causes[0].lines)
    assert all(re.match(rf"[#.]{{{BAR}}} ", line.left) for line in causes[1].lines)
    assert "press its number" not in section(plain, "What would change it").title
    assert "press its number" in section(screen, "What would change it").title


def test_no_section_is_empty() -> None:
    for reject in REJECTS.values():
        assert all(one.lines for one in verdict(opened(reject)))


def test_what_does_not_fit_is_told() -> None:
    session = opened(REJECTS["likely"])
    session.answer("hole-wall", "no-hole")
    told = [one for one in verdict(session) if one.title == "What does not fit"]
    assert [line.text for one in told for line in one.lines] == [
        text if text.endswith(".") else f"{text}." for text in session.warnings()
    ]


def test_shares_are_cut_where_they_say_nothing_and_stand_in_line() -> None:
    these = [Share(f"d{k}", f"fault {k}", p) for k, p in enumerate((0.9, 0.08, 0.011, 0.004))]
    rows = shares(these, 0)
    assert [line.text for line in rows] == ["fault 0", "fault 1", "fault 2"]
    assert these[3].probability < WORTH_SHOWING
    assert len({len(line.left) for line in rows}) == 1
    assert [line.left.strip() for line in rows] == [percent(p) for p in (0.9, 0.08, 0.011)]
    many = [Share(f"d{k}", "x", 0.1) for k in range(SHOWN + 3)]
    assert len(shares(many, 4)) == SHOWN


def test_findings_come_with_their_sign_and_those_that_weigh_nothing_are_left_out() -> None:
    session = opened(REJECTS["likely"])
    (push, *_) = session.explain(session.causes()[0].id)
    for_it = replace(push, text="wet", decibans=6.0, words="speaks for it")
    against = replace(push, text="dry", decibans=-6.0, words="speaks against it")
    nothing = replace(push, text="blue", decibans=0.4)
    assert pushes([for_it, against, nothing]) == (
        Line("wet (speaks for it)", "+  "), Line("dry (speaks against it)", "-  "),
    )  # fmt: skip
    assert pushes([nothing]) == (Line("Nothing said so far speaks for or against it."),)
    assert isinstance(push, Push)


def test_what_would_change_it_is_numbered_and_says_how_long_it_takes() -> None:
    session = opened(REJECTS["contest"])
    these: list[Change] = session.would_change()
    rows = list(changes(these))
    assert len(rows) == len(these) > 0
    for number, (row, change) in enumerate(zip(rows, these, strict=True), 1):
        assert row.left == f"{number}  "
        assert row.text.startswith(f"{change.text}: then {change.leads_to}. Takes ")
