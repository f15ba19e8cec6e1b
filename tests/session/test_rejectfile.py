"""A reject in a file: every fault told with its place, everything saved read back."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.notes.report import warnings
from diagnose.reject.found import (
    CALLED,
    CHECK,
    LIKELY,
    LOOK,
    MEASUREMENT,
    RULED_OUT,
    SURE,
    UNSURE,
    Called,
    Checked,
    Found,
    Hearing,
    Looked,
    Measured,
    RuledOut,
    Unsure,
)
from diagnose.rulebase.measured import measurement_names, name_folded
from diagnose.session.rejectfile import LIMIT, FileRead, dump, read_reject, save
from diagnose.session.session import Session
from tests import actions

BAD = sorted((Path(__file__).parent / "bad_rejects").glob("*.yaml"))

EXAMPLE = """\
reject: cover-0412          # the shop's own name for it
metal: grey iron
process: green sand
section: 8 mm               # ruling section
seen:                       # plain phrases, or exact answers
  - smooth round holes just under the top skin, next to the core
  - {look: cavity-wall, answer: smooth}
checked:                    # plain phrases, or exact answers
  - {check: core-vent-open, answer: blocked}
  - the ladle was not skimmed
measured:                   # by id, or by the name the shop uses
  moulding sand moisture: 4.6 %
  pouring temperature: 1310 degC
unsure: [cavity-contents]
"""


@pytest.fixture
def reading(tmp_path: Path, start: Callable[..., Session]) -> Callable[[str], FileRead]:
    """Read a text as a reject file; what was made of it is told as well."""

    def worked(text: str) -> FileRead:
        path = tmp_path / "reject.yaml"
        path.write_text(text, encoding="utf-8", errors="surrogatepass")
        return read_reject(path, start())

    return worked


@pytest.fixture
def read(reading: Callable[[str], FileRead]) -> Callable[[str], Session]:
    """Read a text as a reject file."""
    return lambda text: reading(text).session


@pytest.mark.parametrize("bad", BAD, ids=lambda path: path.stem)
def test_each_fault_is_told_with_its_place_and_the_way_out(bad: Path, session: Session) -> None:
    with pytest.raises(Fault) as fault:
        read_reject(bad, session)
    expected = [line[3:] for line in bad.read_text().splitlines() if line.startswith("#= ")]
    told = [
        f"{problem.place.line}:{problem.place.column} {problem.what} {problem.instead}".rstrip()
        for problem in fault.value.problems
    ]
    assert [line.removeprefix("0:0 ") for line in told] == expected
    assert {problem.place.file for problem in fault.value.problems} == {str(bad)}


def test_the_form_of_a_reject_file(read: Callable[[str], Session]) -> None:
    session = read(EXAMPLE)
    reject = session.reject
    assert (reject.name, reject.metal, reject.process) == ("cover-0412", "grey iron", "green sand")
    assert reject.section == 8.0
    assert [(one.kind, one.id, getattr(one, "answer", "")) for one in reject.found] == [
        (LOOK, "cavity-wall", "smooth"),
        (CHECK, "core-vent-open", "blocked"),
        (MEASUREMENT, "sand-moisture", ""),
        (MEASUREMENT, "pouring-temperature", ""),
        (UNSURE, "cavity-contents", ""),
    ]
    assert all(not one.chances and one.chance == 1.0 for one in reject.found)
    heard = {(one.kind, one.id, one.answer): one.probability for one in reject.heard}
    for sure in (
        (LOOK, "fault-form", "hole"),
        (LOOK, "beside-core", "at-a-core"),
        (CHECK, "ladle-skimmed", "not-skimmed"),
    ):
        assert heard[sure] >= SURE
    assert heard[LOOK, "cavity-depth", "just-under-skin"] >= LIKELY
    told = {(one.kind, one.id, getattr(one, "answer", "")) for one in reject.findings}
    assert told >= {
        (LOOK, "cavity-wall", "smooth"),
        (LOOK, "cavity-depth", "just-under-skin"),
        (LOOK, "beside-core", "at-a-core"),
        (CHECK, "core-vent-open", "blocked"),
        (CHECK, "ladle-skimmed", "not-skimmed"),
    }
    assert reject.about("sand-moisture") == Measured("sand-moisture", readings=(4.6,), said="4.6 %")
    assert session.causes()[0].area == "core"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (
            "seen: [{look: cavity-wall, answer: smooth, said: 'like\n glass'}]",
            Looked("cavity-wall", "smooth", said="like glass"),
        ),
        (
            "checked: [{check: core-vent-open, answer: blocked, said: 5}]",
            Checked("core-vent-open", "blocked", said="5"),
        ),
        ("seen: [{called: drop}]", Called("drop")),
        (
            "measured: {sand-moisture: [4.4 %, 4.6 %]}",
            Measured("sand-moisture", readings=(4.4, 4.6), said="4.4 %; 4.6 %"),
        ),
        (
            "measured: {Sand Moisture: '4.4, 4.6 %'}",
            Measured("sand-moisture", readings=(4.4, 4.6), said="4.4, 4.6 %"),
        ),
        (
            "measured: {sand-permeability: 080}",
            Measured("sand-permeability", readings=(80.0,), said="080"),
        ),
        (
            "measured: {sand-moisture: 4.6}",
            Measured("sand-moisture", readings=(4.6,), said="4.6"),
        ),
        (
            "measured: {sand-moisture: 4.4-4.6}",
            Measured("sand-moisture", readings=(4.4, 4.6), said="4.4-4.6"),
        ),
        (
            "measured: {sand-moisture: approx 4 1/2 %}",
            Measured("sand-moisture", readings=(4.5,), said="approx 4 1/2 %"),
        ),
        ("unsure: cavity-wall", Unsure("cavity-wall")),
    ],
)
def test_other_ways_to_write_it(read: Callable[[str], Session], text: str, found: Found) -> None:
    reject = read(text).reject
    assert reject.found == (found,)
    assert not reject.heard
    assert not reject.not_understood


def test_a_single_phrase_needs_no_list(read: Callable[[str], Session]) -> None:
    assert read("seen: smooth").reject == read("seen: [smooth]").reject
    finding = read("seen: smooth").reject.finding("cavity-wall")
    assert finding is not None
    assert (finding.answer, finding.said) == ("smooth", "smooth")
    assert SURE <= finding.chance < 1


def test_the_same_said_twice_is_taken_once(read: Callable[[str], Session]) -> None:
    twice = read(
        "seen: [smooth holes, Smooth holes., {look: cavity-wall, answer: smooth},"
        " {look: cavity-wall, answer: smooth}]\n"
        "measured: {sand-moisture: 4.6 %, moulding sand moisture: 4.6 %}"
    )
    once = read(
        "seen: [smooth holes, {look: cavity-wall, answer: smooth}]\n"
        "measured: {sand-moisture: 4.6 %}"
    )
    assert twice.reject == once.reject
    assert [one.id for one in once.reject.findings].count("cavity-wall") == 1


def test_phrases_that_exclude_each_other_are_worked_and_told(
    reading: Callable[[str], FileRead],
) -> None:
    one, other = "the wall of the hole is smooth", "the wall of the hole is jagged"
    both = reading(f"seen: [{one}, {other}]")
    reject = both.session.reject
    assert not reject.found
    heard = {
        h.answer: h.phrase for h in reject.heard if h.id == "cavity-wall" and h.probability > SURE
    }
    assert heard == {"smooth": one, "jagged": other}
    finding = reject.finding("cavity-wall")
    assert finding is not None
    assert {answer for answer, chance in finding.chances if chance >= LIKELY} == {
        "smooth",
        "jagged",
    }
    assert finding.chance < SURE
    (told,) = both.session.contradictions()
    assert "both were said: which?" in told
    assert one in told
    assert other in told
    assert told in warnings(both.session, both)
    for alone in (one, other):
        (said,) = (
            f for f in reading(f"seen: [{alone}]").session.reject.findings if f.id == "cavity-wall"
        )
        assert said.chance > finding.chance
    assert "cavity-wall" in {question.id for question in both.session.ask_next(limit=60)}


def test_an_exact_answer_wins_over_words_and_both_are_kept(read: Callable[[str], Session]) -> None:
    exact = "{look: cavity-wall, answer: jagged}"
    both = read(f"seen: [smooth round holes, {exact}]")
    assert both.reject == read(f"seen: [{exact}, smooth round holes]").reject
    assert both.reject.found == (Looked("cavity-wall", "jagged"),)
    assert both.reject.finding("cavity-wall") == both.reject.about("cavity-wall")
    assert ("cavity-wall", "smooth") in {(one.id, one.answer) for one in both.reject.heard}
    without = both.another(both.reject.without_heard("cavity-wall"))
    assert both.causes() == without.causes()
    number = both.desk.looks["cavity-wall"]
    assert number in both.evidence.looks
    assert number not in both.evidence.graded


@pytest.mark.parametrize(
    ("name", "text", "entry"),
    [
        ("pour temp", "1310 degC", "pouring-temperature"),
        ("perm", "80", "sand-permeability"),
        ("Mg", "0.045 %", "residual-magnesium"),
        ("moulding sand moistur", "4.6 %", "sand-moisture"),
    ],
)
def test_names_as_shops_write_them_are_heard(
    reading: Callable[[str], FileRead], name: str, text: str, entry: str
) -> None:
    heard = reading(f"measured: {{{name}: {text}}}")
    (found,) = heard.session.reject.found
    assert (found.kind, found.id, found.said) == (MEASUREMENT, entry, text)
    names = measurement_names(heard.session.book)
    told = [(said, named.sure) for said, named in heard.named]
    assert told == ([] if name_folded(name) in names else [(f"{name}: {text}", entry)])
    assert heard.left_out == []
    assert heard.session.reject.other_readings == ()


def test_a_reading_of_an_unknown_name_is_kept_and_told(
    reading: Callable[[str], FileRead], tmp_path: Path
) -> None:
    kept = reading("seen: [smooth holes]\nmeasured:\n  zzz of the week: 4 %\n  perm: 80")
    reject = kept.session.reject
    assert reject.other_readings == (("zzz of the week", "4 %"),)
    assert [one.id for one in reject.found] == ["sand-permeability"]
    (told,) = kept.left_out
    assert told == (
        f"{tmp_path / 'reject.yaml'}:3:3: “zzz of the week” is kept and nothing was made of it: "
        "no reading is called so in the book."
    )
    assert told in warnings(kept.session, kept)
    text = dump(reject, lambda name: actions.BOOK.measurements[name].unit)
    assert yaml.safe_load(text)["measured"] == {"sand-permeability": "80", "zzz of the week": "4 %"}
    again = reading(text)
    assert again.session.reject.other_readings == reject.other_readings
    assert len(again.left_out) == 1


def test_a_name_that_could_be_two_things_says_which(reading: Callable[[str], FileRead]) -> None:
    kept = reading("measured: {strength: 12 psi}")
    assert kept.session.reject.found == ()
    assert kept.session.reject.other_readings == (("strength", "12 psi"),)
    (told,) = kept.left_out
    assert "it could be “" in told
    assert "” or “" in told
    assert "“green compression strength of the sand”" in told
    assert told.endswith(". Write which.")


def test_a_known_name_with_a_value_that_cannot_be_says_why(
    reading: Callable[[str], FileRead],
) -> None:
    kept = reading("seen: [smooth holes]\nmeasured: {pour temp: 20 degC}")
    (told,) = kept.left_out
    assert "pouring temperature: 20 degC cannot be" in told


def test_a_second_reading_under_another_name_is_told(reading: Callable[[str], FileRead]) -> None:
    kept = reading("measured: {sand-moisture: 4.6 %, wet of the sand: 4.8 %}")
    assert [one.readings for one in kept.session.reject.found] == [(4.6,)]
    (told,) = kept.left_out
    assert "measured already" in told or "could be" in told


def test_what_was_heard_before_is_read_back(read: Callable[[str], Session]) -> None:
    session = read(
        "seen:\n"
        "- {look: cavity-wall, answer: smooth, heard: 0.82, said: slick, in: slick holes}\n"
        "- {called: drop, heard: 0.4, said: it dropped}\n"
        "- {look: cavity-contents, not: sand, heard: 0.9, said: no sand}\n"
        "checked:\n"
        "- {check: core-vent-open, answer: blocked, heard: 1, said: choked, in: vent choked}\n"
    )
    assert session.reject.found == ()
    assert session.reject.heard == (
        Hearing(LOOK, "cavity-wall", "smooth", 0.82, "slick", "slick holes"),
        Hearing(CALLED, "drop", "", 0.4, "it dropped", "it dropped"),
        Hearing(RULED_OUT, "cavity-contents", "sand", 0.9, "no sand", "no sand"),
        Hearing(CHECK, "core-vent-open", "blocked", 1.0, "choked", "vent choked"),
    )
    assert {one.id: one.chance for one in session.reject.findings} == {
        "cavity-wall": 0.82, "drop": 0.4, "cavity-contents": 0.9, "core-vent-open": 1.0,
    }  # fmt: skip


def test_what_was_heard_before_cannot_steer_the_screen(read: Callable[[str], Session]) -> None:
    item = r'{look: cavity-wall, answer: smooth, heard: 0.8, said: "a\x1b[2Jb", in: "c\nd\u202e"}'
    (one,) = read(f"seen: [{item}]").reject.heard
    assert one.words.isprintable()
    assert one.phrase.isprintable()


def test_answers_are_read_by_their_old_ids(read: Callable[[str], Session]) -> None:
    old = "{check: core-vent-open, answer: no}"
    now = "{check: core-vent-open, answer: blocked}"
    assert (
        read(f"checked: [{old}]".replace(" no", " 'no'")).reject == read(f"checked: [{now}]").reject
    )
    heard = "checked: [{check: core-vent-open, answer: 'no', heard: 0.8, said: choked}]"
    (one,) = read(heard).reject.heard
    assert (one.id, one.answer) == ("core-vent-open", "blocked")


def test_a_phrase_that_means_nothing_is_kept(read: Callable[[str], Session]) -> None:
    session = read("seen: [like the moon through a wet window]")
    assert session.reject.not_understood == ("like the moon through a wet window",)
    assert session.reject.findings == ()


def test_what_is_left_out_is_said(session: Session, tmp_path: Path) -> None:
    path = tmp_path / "reject.yaml"
    path.write_text("seen: [smooth holes]")
    assert read_reject(path, session).assumed == [
        "The metal is not said: taken as grey iron.",
        "The process is not said: taken as green sand.",
    ]


def test_a_reject_of_which_nothing_was_found_can_be_taken_up_again(
    session: Session, tmp_path: Path
) -> None:
    save(session, tmp_path / "begun.yaml")
    read_reject(tmp_path / "begun.yaml", session, begun=True)
    with pytest.raises(Fault, match="Nothing was seen"):
        read_reject(tmp_path / "begun.yaml", session)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, "There is no such file. Check the name."),
        (b"", "The file is empty."),
        (b"\x7fELF\x02\x01\x01\0\0\0", "This is not a text file in UTF-8 but a binary one"),
        (b"\x89PNG\r\n\x1a\n", "1:1: The byte 0x89 is not UTF-8."),
        ("seen: [smooth holes]".encode("utf-16"), "or one in UTF-16. Save it as plain text"),
        ("seen: [gr\xf6\xdfer]".encode("latin-1"), "1:10: The byte 0xf6 is not UTF-8."),
        (b"seen: [a\x1b[31m hole]", "1:9: There is an unprintable character here (code 0x1b)."),
        (b"seen: [smooth holes]\n" + b"#" * LIMIT, "The file is bigger than 0.1 MB."),
    ],
)
def test_files_that_are_none(
    content: bytes | None, says: str, tmp_path: Path, session: Session
) -> None:
    path = tmp_path / "reject.yaml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(Fault) as fault:
        read_reject(path, session)
    assert says in str(fault.value)
    assert str(fault.value).startswith(f"{path}:")


def test_a_folder_is_no_file(tmp_path: Path, session: Session) -> None:
    with pytest.raises(Fault, match=r"This is a folder. Name a file in it."):
        read_reject(tmp_path, session)


def test_a_file_of_10_mb_is_refused_unread(tmp_path: Path, session: Session) -> None:
    path = tmp_path / "reject.yaml"
    with path.open("wb") as file:
        file.truncate(10_000_000)
    with pytest.raises(Fault, match=r"The file is bigger than 0.1 MB."):
        read_reject(path, session)


def test_a_source_without_end_is_refused(session: Session) -> None:
    with pytest.raises(Fault, match=r"/dev/zero: The file is bigger than 0.1 MB."):
        read_reject("/dev/zero", session)


def test_a_pipe_without_end_is_refused(session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    with open("/dev/zero", encoding="utf-8") as endless:
        monkeypatch.setattr(sys, "stdin", endless)
        with pytest.raises(Fault, match=r"standard input: The file is bigger than 0.1 MB."):
            read_reject("-", session)


def test_standard_input(session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(EXAMPLE.encode())))
    read_reject("-", session)
    assert session.reject.name == "cover-0412"


def test_a_closed_standard_input(session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", None)
    with pytest.raises(Fault, match=r"Standard input is closed. Name a file"):
        read_reject("-", session)


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000, ""])
def test_names_that_no_file_has(session: Session, name: str) -> None:
    with pytest.raises(Fault):
        read_reject(name, session)


@settings(max_examples=30)
@given(actions.ACTIONS)
def test_what_is_saved_reads_back(done: list[actions.Action]) -> None:
    before = actions.act(actions.session(), done).reject
    text = dump(before, lambda name: actions.BOOK.measurements[name].unit)
    again = actions.session()
    path = Path(os.environ["DIAGNOSE_REJECTS"], f"{os.getpid()}.yaml")
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, encoding="utf-8")
    read_reject(path, again, begun=True)
    after = again.reject
    assert actions.by_kind(after) == actions.by_kind(before)
    assert actions.in_any_order(after) == actions.in_any_order(before)
    assert actions.by_kind(replace(after, found=after.findings)) == actions.by_kind(
        replace(before, found=before.findings)
    )
    assert replace(after, found=(), heard=()) == replace(before, found=(), heard=())
    assert set(yaml.safe_load(text)) <= {
        "reject", "metal", "process", "section", "seen", "checked", "measured", "unsure",
    }  # fmt: skip


def test_a_finding_without_words_is_written_exactly(
    session: Session, start: Callable[..., Session], tmp_path: Path
) -> None:
    session.add(Measured("sand-moisture", readings=(0.1 + 0.2, 4.6, 1e-300 + 5)))
    save(session, tmp_path / "reject.yaml")
    again = start()
    read_reject(tmp_path / "reject.yaml", again, begun=True)
    assert again.reject.found[0].readings == (0.30000000000000004, 4.6, 5.0)


def test_words_that_were_not_understood_stay_so(
    session: Session, start: Callable[..., Session], tmp_path: Path
) -> None:
    """Beside what was understood they say nothing; by themselves they are not heard anew."""
    session.see("smooth holes; like the moon through a wet window")
    session.keep_phrases(["smooth holes by the core"])
    assert session.reject.not_understood == (
        "like the moon through a wet window", "smooth holes by the core",
    )  # fmt: skip
    save(session, tmp_path / "reject.yaml")
    again = start()
    reading = read_reject(tmp_path / "reject.yaml", again)
    assert again.reject == session.reject
    missed = [words for heard in reading.heard for words in heard.missed]
    assert tuple(missed) == session.reject.not_understood


HEADINGS = st.sampled_from(
    ["reject", "metal", "process", "section", "seen", "checked", "measured", "unsure", "sen", ""]
)
SCALARS = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=20),
    st.sampled_from([*actions.BOOK.looks, *actions.BOOK.measurements, *actions.PHRASES, "4 %"]),
)  # fmt: skip
KEYS = st.one_of(HEADINGS, st.sampled_from(["look", "check", "answer", "said", "called"]), SCALARS)
ANYTHING = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(KEYS, inner, max_size=4)),
    max_leaves=8,
)


def read_or_refused(text: str) -> None:
    """Read a text into a session; a fault names its place, and nothing else is ever raised."""
    with suppress(Fault):
        document = io.TextIOWrapper(io.BytesIO(text.encode("utf-8", "surrogatepass")))
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr(sys, "stdin", document)
            worked = actions.session()
            read_reject("-", worked)
        reject = worked.reject
        assert reject.findings or reject.not_understood or reject.other_readings
        assert sum(cause.probability for cause in worked.causes()) == pytest.approx(1)


@settings(max_examples=30)
@given(st.text())
def test_any_text_is_read_or_refused(text: str) -> None:
    read_or_refused(text)


@settings(max_examples=60)
@given(st.dictionaries(HEADINGS, ANYTHING, max_size=6))
def test_anything_under_the_headings_is_read_or_refused(data: dict[str, object]) -> None:
    read_or_refused(yaml.safe_dump(data, sort_keys=False))


def test_what_is_not_so_leaves_the_other_answers(read: Callable[[str], Session]) -> None:
    denied = read("seen: [holes, {look: cavity-contents, not: sand slag}]")
    assert denied.reject.found == (RuledOut("cavity-contents", ("sand", "slag")),)
    assert denied.causes() != read("seen: [holes]").causes()
    assert "cavity-contents" in {question.id for question in denied.ask_next(limit=60)}
    prospect = next(p for p in denied.prospects if p.id == "cavity-contents")
    chances = dict(zip(prospect.answers, prospect.joint.sum(axis=1), strict=True))
    assert {answer for answer, chance in chances.items() if chance == 0.0} == {"sand", "slag"}


def test_what_words_deny_is_ruled_out_by_so_much(read: Callable[[str], Session]) -> None:
    denied = read("seen: [holes, no sand in the holes, no slag in the hole]")
    assert denied.reject.found == ()
    heard = {one.answer: one for one in denied.reject.heard if one.kind == RULED_OUT}
    assert heard.keys() == {"sand", "slag"}
    assert all(SURE <= one.probability < 1 for one in heard.values())
    told = [one for one in denied.reject.findings if one.id == "cavity-contents"]
    assert len(told) == 1  # what is there goes before what is not
    assert not {"sand", "slag"} & {answer for answer, p in told[0].chances if p >= SURE} or (
        told[0].kind == RULED_OUT
    )
    number = denied.desk.looks["cavity-contents"]
    shares = dict(zip(denied.desk.answers[number], denied.evidence.graded[number], strict=True))
    others = [share for answer, share in shares.items() if answer not in heard]
    assert 0 < shares["sand"] < min(others)
    assert 0 < shares["slag"] < min(others)


def test_what_is_so_and_was_denied_in_words_is_so(read: Callable[[str], Session]) -> None:
    exact = "{look: cavity-contents, answer: sand}"
    both = read(f"seen: [holes, {exact}, no sand in the holes]")
    assert both.reject.found == (Looked("cavity-contents", "sand"),)
    assert RULED_OUT in {one.kind for one in both.reject.heard if one.id == "cavity-contents"}
    without = both.another(both.reject.without_heard("cavity-contents"))
    assert both.causes() == without.causes()


@pytest.mark.parametrize("words", ["2e7", "1e5", "12", "1.10", "0x1F", "true", "~", "null", "1_0"])
def test_words_that_look_like_a_number_come_back_as_they_were(
    start: Callable[..., Session], tmp_path: Path, words: str
) -> None:
    session = start()
    session.about(name=words)
    session.keep_phrases([words])
    session.keep_reading("odd gauge", words)
    session.answer("cavity-wall", "smooth", words)
    session.keep_heard([Hearing("look", "cavity-size", "under-3mm", 0.8, words, words)])
    save(session, tmp_path / "x.yaml")
    again = start()
    read_reject(tmp_path / "x.yaml", again)
    assert again.reject == session.reject


GONE = """
reject: cover
metal: unobtainium
process: lost wax by moonlight
section: 8 mm
seen:
- {look: cavity-wall, answer: smooth}
- {look: no-such-look, answer: slick, said: slick as ice}
- {look: cavity-wall, answer: no-such-answer}
- {look: no-such-look, not: slick}
- {called: no-such-fault}
- {look: no-such-look, answer: slick, heard: 0.8, said: slippery, in: slippery holes}
checked:
- {check: no-such-check, answer: 'yes'}
measured: {no-such-gauge: 4 kN}
unsure: [no-such-question]
"""


def test_what_the_book_no_longer_has_is_kept_as_words(
    start: Callable[..., Session], tmp_path: Path
) -> None:
    path = tmp_path / "x.yaml"
    path.write_text(GONE, encoding="utf-8")
    with pytest.raises(Fault):
        read_reject(path, start())
    session = start()
    reading = read_reject(path, session, begun=True)
    reject = session.reject
    assert reject.found == (Looked("cavity-wall", "smooth"),)
    assert (reject.name, reject.section, reject.metal) == ("cover", 8.0, "grey iron")
    kept = " | ".join([*reject.not_understood, *map(" ".join, reject.other_readings)])
    for words in (
        "unobtainium", "lost wax by moonlight", "slick as ice", "no-such-look slick",
        "no-such-answer", "no-such-fault", "slippery", "no-such-check yes", "no-such-gauge 4 kN",
        "no-such-question",
    ):  # fmt: skip
        assert words in kept
    assert any("is not known now" in told for told in reading.left_out)
    save(session, path)
    again = start()
    read_reject(path, again, begun=True)
    assert again.reject == reject
