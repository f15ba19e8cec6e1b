"""What the notes say: for the small book reject by reject, for the real one by properties."""

from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path

import pytest

from diagnose.notes.compose import EVEN, FAIR, compose
from diagnose.notes.note import CONTEST, LIKELY, OPEN, Note
from diagnose.notes.suspects import IN_FULL, cautions
from diagnose.notes.wording import sentence
from diagnose.reasoning.corrections import actions_for
from diagnose.reasoning.setup import NONE
from diagnose.reject.found import (
    Called,
    Checked,
    Found,
    Looked,
    Measured,
)
from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Book, Figure
from diagnose.rulebase.folder import knowledge_folder
from diagnose.rulebase.job import job_of
from diagnose.session.session import Session
from tests import shipped
from tests.notes.rejects import HOLE_BY_CORE, REJECTS, opened

FIRST_RULE = "Local rules and the works' own licensed practice come first."
WORKED = sorted((knowledge_folder() / "worked").glob("*.yaml"))
BOOK = shipped.book()
Start = Callable[..., Session]


def note_of(*found: Found) -> Note:
    return compose(opened(Reject(found=found)))


@pytest.mark.parametrize("kind", [LIKELY, CONTEST, OPEN])
def test_each_kind_of_note_has_its_reject(kind: str) -> None:
    assert compose(opened(REJECTS[kind])).kind == kind


def test_a_likely_cause_is_named_proved_corrected_and_verified() -> None:
    note = compose(opened(REJECTS["likely"]))
    (suspect,) = note.suspects
    assert "moulding sand too wet (moulding sand). Very likely" in note.verdict
    assert suspect.proved_by == ("moulding sand moisture: 5.2, 5.4 %, above its window",)
    assert suspect.correction is not None
    assert suspect.correction.who == "sand-mill hand"
    assert suspect.correction.verify.startswith("Moisture three times a shift")
    assert note.contain[0].startswith("Hold the castings of the same sand")


def test_sentences_of_the_book_get_a_capital_and_a_full_stop() -> None:
    (suspect,) = compose(opened(REJECTS["likely"])).suspects
    assert suspect.how_it_comes == (
        "Each spare gram of water makes steam, and the steam goes into the iron.",
    )


def test_a_contest_gives_each_suspect_its_own_proof() -> None:
    note = compose(opened(REJECTS["contest"]))
    assert [suspect.step and suspect.step.name for suspect in note.suspects] == [
        "core vent blown through", "core kept dry", "moulding sand moisture",
    ]  # fmt: skip
    assert note.verdict.startswith("Undecided.")


def test_the_reading_that_proves_a_cause_is_said_with_its_limit() -> None:
    note = compose(opened(REJECTS["contest"]))
    steps = [suspect.step for suspect in note.suspects if suspect.step]
    assert [step.bears_out for step in steps] == ["no air goes through", "damp floor", "above 4 %"]


def test_a_finding_against_a_suspect_is_not_kept_quiet() -> None:
    note = compose(opened(REJECTS["contest"]))
    assert note.suspects[2].against == ("nearness to a core: beside a core",)


def test_an_answered_proof_is_reported_and_not_asked_again() -> None:
    note = note_of(*HOLE_BY_CORE, Checked("vent-open", "shut"))
    (suspect,) = note.suspects
    assert suspect.name == "core vent blocked"
    assert suspect.proved_by == ("core vent blown through: no air goes through",)
    assert suspect.step is None


def test_the_action_most_about_the_cause_comes_first() -> None:
    note = note_of(*HOLE_BY_CORE, Checked("vent-open", "shut"))
    correction = note.suspects[0].correction
    assert correction is not None
    assert correction.name == "clear every core vent"
    assert correction.besides == ("store cores on a warm rack",)


def test_nothing_found_means_no_suspect_and_no_correction() -> None:
    note = compose(opened(REJECTS["open"]))
    assert note.suspects == ()
    assert note.find_out
    assert note.contain[0].startswith("Set the casting aside")


def test_evidence_that_fits_no_cause_leaves_the_note_open() -> None:
    note = note_of(
        Looked("hole-wall", "rough"),
        Looked("seam", "rounded"),
        Looked("same-spot", "anywhere"),
        Checked("vent-open", "open"),
        Checked("core-kept-dry", "dry"),
        Checked("ladle-warm", "warm"),
        Measured("sand-moisture", readings=(3.5,)),
        Measured("pouring-temperature", readings=(1350.0,)),
    )
    assert note.kind == OPEN
    assert "fits no cause in the book" in note.verdict
    assert note.suspects == ()
    assert note.contain


def test_a_cause_without_an_action_is_said_to_have_none() -> None:
    note = note_of(Looked("seam", "rounded"), Looked("same-spot", "same"),
                   Checked("ladle-warm", "warm"))  # fmt: skip
    assert note.suspects[0].name == "wall thinner than the iron can fill"
    assert note.suspects[0].correction is None


def test_other_causes_come_with_what_would_tell_them_apart() -> None:
    note = note_of(*HOLE_BY_CORE, Checked("core-kept-dry", "damp"))
    other = next(other for other in note.others if other.name == "core vent blocked")
    assert other.apart


def test_sources_say_what_was_read_what_recalled_and_what_has_none() -> None:
    note = compose(opened(REJECTS["contest"]))
    assert note.sources == (
        "Read, whole or part: A book of shop practice.",
        "Recalled, not looked at: A lecture heard long ago.",
        "No published source, only common practice and memory, for the rest.",
    )


def test_what_the_person_wrote_is_kept_on_one_line() -> None:
    odd = replace(REJECTS["likely"], name="a\n\x1b[2Jb", not_understood=("one\r\ntwo\x00",))
    note = compose(opened(odd))
    assert (note.reject, note.not_understood) == ("a [2Jb", ("one two",))


@pytest.mark.parametrize("cause", [c for c, entry in BOOK.conditions.items() if entry.base_rate])
def test_whatever_is_corrected_in_a_hazardous_area_stands_beside_a_caution(cause: str) -> None:
    area = BOOK.conditions[cause].area
    actions = actions_for(BOOK, (cause,), job_of(Reject()))[:1]
    if BOOK.areas[area].hazardous:
        assert cautions(BOOK, [area], actions, [])
    for action in actions:
        texts = cautions(BOOK, [], [action], [])
        assert len(texts) == min(len(set(action.caution)), IN_FULL + 1)


def test_no_more_than_three_cautions_are_printed_in_full_and_the_rest_by_name() -> None:
    """Common practice, no source: a page of warnings is not read. Each action's chief one leads."""
    torch, welder = BOOK.actions["dry-core-wash"], BOOK.actions["record-repairs"]
    texts = cautions(BOOK, ["core"], [torch, welder], [])
    firsts = [torch.caution[0], welder.caution[0], torch.caution[1]]
    assert texts[:IN_FULL] == tuple(sentence(BOOK.cautions[name].say) for name in firsts)
    assert len(texts) == IN_FULL + 1
    for name in {*torch.caution, *welder.caution} - {*firsts}:
        assert name.replace("-", " ") in texts[-1]


TOLD = 10


def telling(book: Book, defect: str) -> list[tuple[str, dict[str, Figure]]]:
    """Return the tables of a defect that any casting can have, those farthest from usual first."""

    def says(look: str, told: dict[str, Figure]) -> float:
        answers = book.looks[look].answers
        return max(book.figure(told[a]) / book.figure(answers[a].usual) for a in told)

    tables = [(k, t) for k, t in book.defects[defect].shows.items() if k in book.looks]
    plain = [(k, t) for k, t in tables if not book.looks[k].scope]
    return sorted(plain, key=lambda pair: -says(*pair))


@pytest.mark.parametrize("defect", BOOK.defects)
def test_every_defect_of_the_book_gets_a_whole_note(start: Start, defect: str) -> None:
    """A reject that looks as its defect usually looks, and is called by its name."""
    scope = BOOK.defects[defect].scope
    session = start(Reject(name=defect, metal=scope.metal[0] if scope else "grey iron"))
    session.call_it(defect)
    for look, told in telling(BOOK, defect)[:TOLD]:
        answer = max(told, key=lambda answer: BOOK.figure(told[answer]))
        session.answer(look, answer)
    note = compose(session)
    best = next(cause for cause in session.causes() if cause.id != NONE)
    assert BOOK.defects[defect].name in note.fault.lower()
    assert note.contain
    assert note.cautions[-1] == FIRST_RULE
    assert bool(note.suspects) == (best.probability >= FAIR and best == session.causes()[0])
    if note.kind == LIKELY:
        assert best.probability >= EVEN
    if note.kind == OPEN:
        assert note.find_out
    else:
        assert all(suspect.step or suspect.proved_by for suspect in note.suspects)
    assert all(getattr(note, field.name) is not None for field in fields(note))


@pytest.mark.parametrize("path", WORKED, ids=lambda path: path.stem)
def test_worked_rejects_are_told_apart_and_cured(session: Session, path: Path) -> None:
    from diagnose.session.rejectfile import read_reject

    read_reject(path, session)
    note = compose(session)
    assert note.kind == LIKELY
    assert note.suspects[0].proved_by
    assert note.suspects[0].correction is not None
    assert len(note.cautions) > 2


def test_a_name_given_by_the_person_is_among_the_findings() -> None:
    note = note_of(Looked("seam", "rounded"), Called("cold-shut"))
    assert any("cold shut" in text for group in note.findings for text in group.texts)


@pytest.mark.parametrize("metal", [*BOOK.metals, ""])
def test_every_metal_gets_a_note(start: Start, metal: str) -> None:
    session = start(Reject(metal=metal, process="" if not metal else "green sand"))
    session.answer("fault-form", "hole")
    note = compose(session)
    assert note.contain
    assert note.about


def test_a_lead_of_no_cause_that_is_not_even_is_not_said_to_fit_nothing(
    session: Session,
) -> None:
    for look, answer in (("cavity-wall", "jagged"), ("cavity-contents", "metal-bead")):
        session.answer(look, answer)
    first = session.causes()[0]
    note = compose(session)
    assert first.probability < EVEN
    assert "fits no cause" not in note.verdict
