"""What fault words mean, and how well words are understood that nothing was tuned on.

The labels are invented; common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from diagnose.basics.errors import Fault
from diagnose.batch.reading.faultwords import FaultWords
from diagnose.batch.reading.knownwords import kept_for_measuring, known_words
from diagnose.batch.reading.shopwords import taught, teach
from diagnose.session.library import Library
from diagnose.words.training.corpus import is_open
from tests.batch.reading.measure import measured, open_words
from tests.batch.reading.sheets import Desk, castings
from tests.conftest import ROOT

KNOWLEDGE = ROOT / "knowledge"


@pytest.fixture(scope="module")
def words(library: Library) -> FaultWords:
    return FaultWords(library, KNOWLEDGE)


def faults(words: FaultWords, text: str) -> dict[str, float]:
    (named,) = words.named([text])
    return {name: round(share, 3) for name, share in named.faults}


def test_the_fifth_that_is_kept_for_measuring_never_enters(library: Library) -> None:
    rows = yaml.safe_load((KNOWLEDGE / "said" / "fault-words.yaml").read_text())["fault words"]
    texts = [row["fault"] for row in rows]
    assert [kept_for_measuring(text) for text in texts] == [is_open(text) for text in texts]
    assert 0.15 < sum(map(is_open, texts)) / len(texts) < 0.25
    known = known_words(library.book, KNOWLEDGE)
    only_there = [row for row in open_words() if len(row[1]) > 1]
    assert sum(known.get(text.lower()) == means for text, means in only_there) == 0


def test_words_that_nothing_was_tuned_on(words: FaultWords) -> None:
    """Floors under what was measured on 30 November 2026: see ``docs/batch-sheets.md``."""
    found = measured(words)
    assert found.words > 190
    assert found.understood > 0.68
    assert found.first_right > 0.87
    assert found.wrong < 0.1
    assert found.shared > 0.8


def test_a_word_that_could_be_two_stays_two(words: FaultWords) -> None:
    assert faults(words, "furrow") == {"rat-tail": 0.65, "buckle": 0.25, "core-fin-mark": 0.1}
    blow = faults(words, "blow")
    assert list(blow) == ["blow-mould-gas", "blow-core-gas", "blow-trapped-air", "pinholes"]
    assert sum(blow.values()) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("text", "fault", "how"),
    [
        ("H/T", "hot-tear", "letter"),
        ("h.t.", "hot-tear", "letter"),
        ("COLD  SHUT", "cold-shut", "letter"),
        ("misrnu", "misrun", "slip"),
        ("pinholse", "pinholes", "slip"),
        ("m/run", "misrun", "slip"),
    ],
)
def test_signs_capitals_and_slips(words: FaultWords, text: str, fault: str, how: str) -> None:
    (named,) = words.named([text])
    assert named.faults[0][0] == fault
    assert named.how == how


def test_two_faults_on_one_casting_share_it(words: FaultWords) -> None:
    assert faults(words, "misrun + cold shut") == {"cold-shut": 0.5, "misrun": 0.5}


@pytest.mark.parametrize("text", ["QX", "xyzzyq", "B7", "12", "???"])
def test_what_is_no_word_stays_unknown(words: FaultWords, text: str) -> None:
    (named,) = words.named([text])
    assert named.faults == ()


def test_faults_of_other_metals_are_not_meant(words: FaultWords) -> None:
    book = words.library.book
    of_others = {n for n, d in book.defects.items()
                 if d.scope and d.scope.metal and "grey iron" not in d.scope.metal}  # fmt: skip
    assert of_others
    named = words.named(["pins", "gas porosity", "tiny holes in skin", "holes all over"])
    assert not of_others & {name for one in named for name, _ in one.faults}


def test_a_taught_word_goes_before_all_others(library: Library, tmp_path: Path) -> None:
    path = tmp_path / "words.yaml"
    assert taught(path, library.book) == {}
    teach(path, library.book, "CB2", {"blow-core-gas": 1.0})
    teach(path, library.book, "12", {"misrun": 3.0, "cold-shut": 1.0})
    teach(path, library.book, "misrun", {"poured-short": 1.0})
    own = taught(path, library.book)
    assert own == {"CB2": {"blow-core-gas": 1.0}, "12": {"misrun": 0.75, "cold-shut": 0.25},
                   "misrun": {"poured-short": 1.0}}  # fmt: skip
    words = FaultWords(library, KNOWLEDGE, own)
    assert faults(words, "cb2") == {"blow-core-gas": 1.0}
    assert faults(words, "12") == {"misrun": 0.75, "cold-shut": 0.25}
    assert faults(words, "Misrun") == {"poured-short": 1.0}


@pytest.mark.parametrize(
    ("means", "match"),
    [
        ({"misrum": 1.0}, "No fault is called 'misrum'. Did you mean 'misrun'"),
        ({"misrun": -1.0}, "no probability"),
        ({}, "Write what it means"),
    ],
)
def test_what_cannot_be_taught(
    library: Library, tmp_path: Path, means: dict[str, float], match: str
) -> None:
    path = tmp_path / "words.yaml"
    with pytest.raises(Fault, match=match):
        teach(path, library.book, "QX", means)
    assert not path.exists()


def test_a_bad_file_of_words_is_told_with_its_place(library: Library, tmp_path: Path) -> None:
    path = tmp_path / "words.yaml"
    path.write_text("fault words:\n  QX: {misrum: 1}\n  B7: misrun\n")
    with pytest.raises(Fault, match=r"words.yaml:2:\d+: No fault is called 'misrum'"):
        taught(path, library.book)


def test_a_sheet_uses_the_taught_words_of_the_shop(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    rows = ("14/01/2026;P1;12;QX;2;", "15/01/2026;P1;12;misrun;1;")
    unknown = desk.read(*rows)
    assert [(one.word, one.count) for one in unknown.unknown_words] == [("QX", 2)]
    assert castings(unknown) == {"misrun": 1.0, "unknown": 2.0}
    monkeypatch.setenv("DIAGNOSE_WORDS", str(desk.folder / "own.yaml"))
    teach(desk.folder / "own.yaml", desk.library.book, "qx", {"run-out": 1.0})
    known = desk.read(*rows)
    assert known.unknown_words == ()
    assert castings(known) == {"misrun": 1.0, "run-out": 2.0}


def test_a_remark_stands_in_where_there_is_no_fault_word(desk: Desk) -> None:
    data = desk.read("14/01/2026;P1;12;;1;cold shut", "14/01/2026;P1;13;;1;zzz qqq")
    assert castings(data) == {"cold-shut": 1.0, "unknown": 1.0}
    assert {word.how for word in data.words} == {"remark", "unknown"}
    assert data.unknown_words == ()
