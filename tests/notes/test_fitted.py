"""Every note fits: the first page in 60 lines of 79 columns, in a browser on one page of A4.

Held against the golden histories, whose causes are known, and against Debian's Chromium (package
``chromium``) where it is installed. A4 is 210 mm by 297 mm (ISO 216). What belongs on a page that a
moulder carries is common practice, no source.
"""

from __future__ import annotations

import io
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from pypdf import PdfReader

from diagnose.basics.layout import WIDTH
from diagnose.notes.compose import compose
from diagnose.notes.fitted import ROOM, fitted
from diagnose.notes.note import CONTEST, LIKELY, OPEN, Note
from diagnose.notes.render import FORMS, first_page_lines, render_note
from diagnose.session.session import Session
from tests.batch.pack.browser import installed, printed
from tests.golden.score import answered, histories

TICKET = {
    "pattern": "P-4711 left hand", "date": "2026-03-14", "heat": "99", "bad": "6 of 40",
    "moulder": "A. Example", "core_maker": "B. Example", "box": "box 3, second impression",
}  # fmt: skip
"""An invented ticket with something in every entry."""
SIGNED = "Name, date: contained"


@pytest.fixture(scope="module")
def notes(first: Session) -> dict[str, Note]:
    """The note of every golden history, from exact answers, with a whole ticket and a long name."""
    made = {}
    for history in histories():
        session = answered(history, first)
        session.about(name=f"{history.id} " + "x" * (99 - len(history.id)), **TICKET)
        made[history.id] = compose(session)
    return made


def test_every_golden_note_has_a_first_page_of_sixty_lines(notes: dict[str, Note]) -> None:
    assert len(notes) >= 80
    assert {note.kind for note in notes.values()} == {LIKELY, CONTEST, OPEN}
    for name, note in notes.items():
        page = render_note(note, "txt", second=False)
        lines = page.splitlines()
        assert len(lines) <= ROOM, name
        assert max(map(len, lines)) <= WIDTH, name
        assert lines[-1].startswith(SIGNED), name
        for part in ("WHAT IT IS", "CONTAIN IT NOW", "TAKE CARE"):
            assert part in lines, (name, part)


def test_a_moulder_is_not_told_what_is_from_memory(notes: dict[str, Note]) -> None:
    """It stands on the second page, with what it is about."""
    said = 0
    for name, note in notes.items():
        page, _, second = render_note(note, "txt").partition("SECOND PAGE")
        assert "from memory" not in page, name
        assert bool(note.from_memory) == ("Figures from memory" in second), name
        said += bool(note.from_memory)
    assert said > 10


def test_what_is_cut_on_the_first_page_stands_whole_on_the_second(notes: dict[str, Note]) -> None:
    for name, note in notes.items():
        short = fitted(note, first_page_lines, 40)
        second = " ".join(render_note(short, "txt").partition("SECOND PAGE")[2].split())
        whole = [
            (one.step.how, new.step.how) for one, new in zip(note.plan, short.plan, strict=True)
        ]
        whole += zip(note.contain, short.contain, strict=True)
        whole += zip(note.cautions, short.cautions, strict=True)
        for one, new in zip(note.suspects, short.suspects, strict=True):
            if one.correction and new.correction:
                for part in ("what", "how_much", "watch", "verify"):
                    whole.append((getattr(one.correction, part), getattr(new.correction, part)))
        for before, after in whole:
            assert before == after or " ".join(before.split()) in second, (name, before)


def test_cut_to_the_bone_a_note_still_says_what_hurts(notes: dict[str, Note]) -> None:
    for note in notes.values():
        bare = fitted(note, first_page_lines, 0)
        assert len(bare.cautions) == len(note.cautions)
        for before, after in zip(note.cautions, bare.cautions, strict=True):
            assert before.startswith(after.split(". ")[0][:40])
        for one, new in zip(note.suspects, bare.suspects, strict=True):
            if one.correction and new.correction:
                assert one.correction.how_much.count("Safety: ") == (
                    new.correction.how_much.count("Safety: ")
                )


@pytest.mark.skipif(
    not installed(),
    reason="no note was printed: no chromium (apt-get install chromium)",
)
@pytest.mark.parametrize("kind", [LIKELY, CONTEST, OPEN])
def test_the_longest_notes_print_on_one_page_of_a4_and_one_behind_it(
    notes: dict[str, Note], kind: str, tmp_path: Path
) -> None:
    """The longest of each kind, and the longest that still has large type."""
    of_kind = sorted((n for n in notes.values() if n.kind == kind), key=first_page_lines)
    large = [note for note in of_kind if first_page_lines(note) <= 44]
    for note in {id(n): n for n in (of_kind[-1], *large[-1:])}.values():
        for second, count in ((True, 2), (False, 1)):
            page = tmp_path / "note.html"
            page.write_text(render_note(note, "html", second=second), encoding="utf-8")
            pages = PdfReader(io.BytesIO(printed(page, tmp_path))).pages
            assert len(pages) == count, note.reject
            height, width = (float(side) * 25.4 / 72 for side in (
                pages[0].mediabox.height, pages[0].mediabox.width
            ))  # fmt: skip
            assert (round(width), round(height)) == (210, 297)
            text = pages[0].extract_text()
            assert "Contained (name, date)" in text
            assert "What was found" not in text


@pytest.mark.parametrize("form", FORMS)
def test_the_ticket_stands_at_the_head(notes: dict[str, Note], form: str) -> None:
    note = next(iter(notes.values()))
    assert note.job == (
        "Pattern P-4711 left hand; poured 2026-03-14; heat 99; 6 of 40 bad; moulder A. Example; "
        "core maker B. Example; box or plate box 3, second impression."
    )
    text = " ".join(render_note(note, form).split())
    assert note.job in text
    assert text.index(note.job) < text.lower().index("what it is")


def test_without_a_ticket_nothing_is_said_of_one(first: Session) -> None:
    note = compose(first.another())
    assert (note.job, note.castings) == ("", "")
    assert "\n\n" not in render_note(note, "txt", second=False)


def test_drawings_are_large_and_stand_beside_their_words(notes: dict[str, Note]) -> None:
    note = next(one for one in notes.values() if one.drawings)
    page = render_note(note, "html")
    assert page.count("<figure>") == len(note.drawings) > 0
    for panel in note.drawings:
        assert panel.said in page
    assert all(int(mm) >= 60 for mm in re.findall(r"figure svg \{[^}]*width: (\d+)mm", page))


# the plan


def test_the_proof_that_settles_most_to_the_minute_comes_first(notes: dict[str, Note]) -> None:
    seen = 0
    for note in notes.values():
        if note.kind != CONTEST or len(note.plan) < 2:
            continue
        seen += 1
        share = {one.name: float(one.percent.split()[-2]) for one in note.suspects}
        rates = [sum(share[n] for n in s.proves) / max(s.step.minutes, 0.5) for s in note.plan]
        assert all(a >= 0.85 * b for a, b in pairwise(rates)), note.reject
    assert seen > 5


def test_what_was_worked_out_elsewhere_takes_the_place_of_the_rest(notes: dict[str, Note]) -> None:
    """The note has places for a better plan, for what is proved and for what acts as well."""
    note = next(one for one in notes.values() if one.kind == LIKELY and one.plan)
    told = replace(
        note,
        plan=(replace(note.plan[0], settles="Settles 43 %."),),
        plan_says="Stop when it is proved.",
        proved=("core vent blocked, by the blowing.",),
        acting=("moulding sand too wet.",),
        explained=("It is like this.",),
    )
    for form in FORMS:
        text = " ".join(render_note(told, form).replace("**", "").split())
        text = re.sub("<[^>]*>", "", text)
        for said in ("Settles 43.", "Stop when it is proved.",
                     "Proved: core vent blocked, by the blowing.",
                     "Acting too: moulding sand too wet.", "It is like this."):  # fmt: skip
            assert said in text.replace("\u00a0%", "").replace(" %", "")
        assert "Borne out already" not in text
