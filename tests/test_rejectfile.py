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

from diagnose.errors import Fault
from diagnose.reject import CALLED, CHECK, LOOK, MEASUREMENT, UNSURE, Found
from diagnose.rejectfile import LIMIT, dump, read_reject, save
from diagnose.session import Session
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
def read(tmp_path: Path, start: Callable[..., Session]) -> Callable[[str], Session]:
    """Read a text as a reject file."""

    def worked(text: str) -> Session:
        path = tmp_path / "reject.yaml"
        path.write_text(text, encoding="utf-8", errors="surrogatepass")
        session = start()
        read_reject(path, session)
        return session

    return worked


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
    found = {(one.kind, one.id, one.answer) for one in reject.found}
    assert found >= {
        (LOOK, "cavity-wall", "smooth"),
        (LOOK, "cavity-depth", "just-under-skin"),
        (LOOK, "beside-core", "at-a-core"),
        (CHECK, "core-vent-open", "blocked"),
        (CHECK, "ladle-skimmed", "not-skimmed"),
        (MEASUREMENT, "sand-moisture", ""),
        (MEASUREMENT, "pouring-temperature", ""),
        (UNSURE, "cavity-contents", ""),
    }
    assert reject.about("sand-moisture") == Found(
        MEASUREMENT, "sand-moisture", readings=(4.6,), said="4.6 %"
    )
    assert session.causes()[0].area == "core"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("seen: smooth", None),
        (
            "seen: [{look: cavity-wall, answer: smooth, said: 'like\n glass'}]",
            Found(LOOK, "cavity-wall", "smooth", said="like glass"),
        ),
        (
            "checked: [{check: core-vent-open, answer: blocked, said: 5}]",
            Found(CHECK, "core-vent-open", "blocked", said="5"),
        ),
        ("seen: [{called: drop}]", Found(CALLED, "drop")),
        (
            "measured: {sand-moisture: [4.4 %, 4.6 %]}",
            Found(MEASUREMENT, "sand-moisture", readings=(4.4, 4.6), said="4.4 %; 4.6 %"),
        ),
        (
            "measured: {Sand Moisture: '4.4, 4.6 %'}",
            Found(MEASUREMENT, "sand-moisture", readings=(4.4, 4.6), said="4.4, 4.6 %"),
        ),
        (
            "measured: {sand-permeability: 080}",
            Found(MEASUREMENT, "sand-permeability", readings=(80.0,), said="080"),
        ),
        ("unsure: cavity-wall", Found(UNSURE, "cavity-wall")),
    ],
)
def test_other_ways_to_write_it(
    read: Callable[[str], Session], text: str, found: Found | None
) -> None:
    reject = read(text).reject
    assert reject.found or reject.not_understood
    if found is not None:
        assert reject.found == (found,)


def test_the_same_said_twice_is_taken_once(read: Callable[[str], Session]) -> None:
    twice = read(
        "seen: [smooth holes, smooth holes, {look: cavity-wall, answer: smooth}]\n"
        "measured: {sand-moisture: 4.6 %, moulding sand moisture: 4.6 %}"
    )
    assert twice.reject == read("seen: [smooth holes]\nmeasured: {sand-moisture: 4.6 %}").reject


def test_a_phrase_that_means_nothing_is_kept(read: Callable[[str], Session]) -> None:
    session = read("seen: [like the moon through a wet window]")
    assert session.reject.not_understood
    assert "moon" in session.reject.not_understood[0]


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
    assert replace(after, found=()) == replace(before, found=())
    assert set(yaml.safe_load(text)) <= {
        "reject", "metal", "process", "section", "seen", "checked", "measured", "unsure",
    }  # fmt: skip


def test_a_finding_without_words_is_written_exactly(
    session: Session, start: Callable[..., Session], tmp_path: Path
) -> None:
    session.add(Found(MEASUREMENT, "sand-moisture", readings=(0.1 + 0.2, 4.6, 1e-300 + 5)))
    save(session, tmp_path / "reject.yaml")
    again = start()
    read_reject(tmp_path / "reject.yaml", again, begun=True)
    assert again.reject.found[0].readings == (0.30000000000000004, 4.6, 5.0)


def test_words_that_were_not_understood_stay_so(
    session: Session, start: Callable[..., Session], tmp_path: Path
) -> None:
    """By themselves, "fold" and "crack" would be taken for something."""
    session.see("a fold or maybe a crack")
    assert session.reject.not_understood
    save(session, tmp_path / "reject.yaml")
    again = start()
    reading = read_reject(tmp_path / "reject.yaml", again)
    assert again.reject == session.reject
    missed = [part.words for understood in reading.understood for part in understood.missed]
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
        assert worked.reject.found or worked.reject.not_understood
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
    denied = read("seen: [holes, no sand in the holes, no slag in the hole]")
    (found,) = (f for f in denied.reject.found if f.kind == "ruled out")
    assert (found.id, found.answer) == ("cavity-contents", "sand slag")
    exact = read("seen: [holes, {look: cavity-contents, not: sand slag}]")
    assert exact.causes() == denied.causes()
    assert denied.causes() != read("seen: [holes]").causes()
    assert "cavity-contents" in {question.id for question in denied.ask_next(limit=60)}


def test_what_is_so_and_not_so_is_a_fault(read: Callable[[str], Session]) -> None:
    with pytest.raises(Fault) as fault:
        read("seen: [holes, {look: cavity-contents, answer: sand}, no sand in the holes]")
    assert "exclude each other" in str(fault.value)
