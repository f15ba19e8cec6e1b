from __future__ import annotations

import re
import time
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.rulebase import yamlread
from diagnose.rulebase.yamlread import Steps, read

KNOWLEDGE = Path(__file__).parents[2] / "knowledge"


def problems(source: Path | str | bytes, **limits: int) -> list[str]:
    with pytest.raises(Fault) as caught:
        read(source, "x.yaml", **limits)
    return [str(problem) for problem in caught.value.problems]


# what plain words stand for


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        # YAML 1.2.2, example 10.9 (core tag resolution), from memory: what this program keeps
        ("", None),
        ("null", None),
        ("~", None),
        ("true", True),
        ("True", True),
        ("false", False),
        ("FALSE", False),
        ("0", 0),
        ("-19", -19),
        ("0.", 0.0),
        ("-0.0", -0.0),
        (".5", 0.5),
        ("+12e03", 12000.0),
        ("-2E+05", -200000.0),
        # the same example: kept as text here, because no reading is ever written like that
        ("0o7", "0o7"),
        ("0x3A", "0x3A"),
        (".inf", ".inf"),
        (".NAN", ".NAN"),
        # YAML 1.1 would turn these into booleans, dates, base-60 and base-8 numbers
        ("yes", "yes"),
        ("No", "No"),
        ("on", "on"),
        ("OFF", "OFF"),
        ("2024-05-01", "2024-05-01"),
        ("12:30", "12:30"),
        ("0412", "0412"),
        ("1_000", "1_000"),
        ("1e999", "1e999"),
        (".", "."),
        ("-", "-"),
        ("12345678901234567890", "12345678901234567890"),
    ],
)
def test_unquoted_words(written: str, meant: Any) -> None:
    text = f"[{written}, x]" if written != "-" else "- '-'\n- x"
    value = read(text or "x").data[0] if written else read("a:\nb: x").data["a"]
    assert value == meant
    assert type(value) is type(meant)


def test_words_of_yes_and_no_are_text_as_keys_too() -> None:
    assert read("{yes: 1, no: 2, on: 3, off: 4, 5: 6}").data == {
        "yes": 1,
        "no": 2,
        "on": 3,
        "off": 4,
        "5": 6,
    }


def test_quoted_words_are_text() -> None:
    assert read("['1', \"true\", '']").data == ["1", "true", ""]


def test_the_written_form_of_a_number_is_kept() -> None:
    document = read("reject: 1.10\nname: cover\nempty:")
    assert document.written == {("reject",): "1.10"}


# against PyYAML, which reads the same text into the same tree


def as_text(document: yamlread.Document) -> Any:
    def back(value: Any, steps: Steps) -> Any:
        if isinstance(value, dict):
            return {key: back(part, (*steps, key)) for key, part in value.items()}
        if isinstance(value, list):
            return [back(part, (*steps, number)) for number, part in enumerate(value)]
        return value if isinstance(value, str) else document.written.get(steps, "")

    return back(document.data, ())


@pytest.mark.parametrize("path", sorted(KNOWLEDGE.rglob("*.yaml")), ids=lambda path: path.stem)
def test_the_rule_base_reads_as_pyyaml_reads_it(path: Path) -> None:
    expected = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    assert as_text(read(path)) == expected


# PyYAML follows YAML 1.1 and leaves a text such as "0E0" or "+.5" unquoted; YAML 1.2.2, which is
# read here, takes it for a number.
NUMBER_OF_1_2 = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
texts = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=20).filter(
    lambda text: not NUMBER_OF_1_2.fullmatch(text) or text.isdigit()
)
leaves = (
    texts
    | st.none()
    | st.booleans()
    | st.integers(-(10**15), 10**15)
    | st.floats(-1e30, 1e30).map(lambda x: float(f"{x:.6g}"))
)
trees = st.recursive(
    leaves, lambda part: st.lists(part) | st.dictionaries(texts, part), max_leaves=15
)


@settings(max_examples=150, deadline=None)
@given(trees.filter(lambda tree: tree is not None), st.booleans())
def test_what_pyyaml_writes_is_read_back(tree: Any, flow: bool) -> None:
    text = yaml.safe_dump(tree, default_flow_style=flow, allow_unicode=True)
    assert read(text).data == tree


# places


def test_places_of_keys_and_values() -> None:
    document = read("# top\na:\n  b: [1, {c: two}]\n  d: x\n", "p.yaml")
    assert str(document.place_of(("a", "b"), key=True)) == "p.yaml:3:3"
    assert str(document.place_of(("a", "b"))) == "p.yaml:3:6"
    assert str(document.place_of(("a", "b", 0))) == "p.yaml:3:7"
    assert str(document.place_of(("a", "b", 1, "c"), key=True)) == "p.yaml:3:11"
    assert str(document.place_of(("a", "b", 1, "c"))) == "p.yaml:3:14"


def test_the_place_of_what_is_missing_is_the_key_around_it() -> None:
    document = read("a:\n  b: {c: 1}\n", "p.yaml")
    assert str(document.place_of(("a", "b", "z", 3))) == "p.yaml:2:3"


def test_columns_count_characters_not_bytes() -> None:
    document = read("é€: {ü: x}", "p.yaml")
    assert str(document.place_of(("é€", "ü"))) == "p.yaml:1:9"


def test_a_byte_order_mark_and_dos_line_ends_do_no_harm() -> None:
    document = read("\ufeffa: 1\r\nb: two\r\n".encode())
    assert document.data == {"a": 1, "b": "two"}
    assert (document.place_of(("b",)).line, document.place_of(("b",)).column) == (2, 4)


# what is refused


def test_all_duplicate_keys_are_reported_at_once() -> None:
    found = problems("a: 1\nb: {c: 1, c: 2}\na: 3\n")
    assert [line.split(": ", 1)[0] for line in found] == ["x.yaml:2:11", "x.yaml:3:1"]


def test_duplicate_keys_are_reported_with_a_later_syntax_error() -> None:
    assert len(problems("a: 1\na: 2\nb: c: d\n")) == 2


@pytest.mark.parametrize("mark", ["!!python/object/apply:os.system [ls]", "!x y", "!!map {}"])
def test_tags_are_refused(mark: str) -> None:
    assert "A tag" in problems(f"a: {mark}")[0]


def test_aliases_that_would_grow_without_end_are_refused() -> None:
    laughs = "a: &a [x, x]\n" + "".join(f"{k}: &{k} [*a, *a]\n" for k in "bcdefgh")
    assert len(problems(laughs)) == 8 + 14


def test_no_more_problems_than_a_reader_takes_in() -> None:
    assert len(problems("- &x\n" * 100_000)) == yamlread.MOST


def test_nesting_just_deep_enough_and_one_too_many() -> None:
    deepest = yamlread.DEEPEST
    assert read("[" * deepest + "]" * deepest).data
    assert problems("[" * (deepest + 1) + "]" * (deepest + 1)) == [
        f"x.yaml:1:{deepest + 1}: This is nested more than {deepest} levels deep. Flatten it."
    ]


@pytest.mark.parametrize("text", ["[", "{a: ", "- ", "? ", "[{"])
@pytest.mark.parametrize("size", [90_000, 1_000_000])
def test_a_megabyte_of_openings_is_refused_quickly(text: str, size: int) -> None:
    started = time.perf_counter()
    assert len(problems(text * (size // len(text)))) == 1
    assert time.perf_counter() - started < 5


def test_a_big_file_is_refused_and_a_higher_limit_takes_it(tmp_path: Path) -> None:
    path = tmp_path / "big.yaml"
    path.write_text("x: 1\n" + "# filler\n" * 1_200_000)
    assert path.stat().st_size > 10_000_000
    assert "bigger than 1 MB" in problems(path)[0]
    assert read(path, limit=20_000_000).data == {"x": 1}


def test_ten_megabytes_of_entries_are_read() -> None:
    text = "".join(f"- {'word ' * 150}\n" for _ in range(13_500))
    assert len(text) > 10_000_000
    assert len(read(text, limit=11_000_000).data) == 13_500


def test_a_file_of_just_the_limit_is_read() -> None:
    assert read("a: 1", limit=4).data == {"a": 1}
    assert "bigger" in problems("a: 12", limit=4)[0]


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "---\n", "---\n...\n", "~"])
def test_a_file_without_content(text: str) -> None:
    assert problems(text) == ["x.yaml: The file is empty. Write at least one key and value."]


def test_missing_files_and_folders(tmp_path: Path) -> None:
    assert problems(tmp_path / "none.yaml") == ["x.yaml: There is no such file. Check the name."]
    assert problems(tmp_path) == ["x.yaml: This is a folder. Name a file in it."]
    (tmp_path / "plain").write_text("a: 1")
    assert "cannot be read" in problems(tmp_path / "plain" / "below.yaml")[0]
    assert "cannot be read" in problems(Path("a\0b"))[0]


@pytest.mark.parametrize(
    ("raw", "expected"),
    [
        (b"\x7fELF\0\0", "x.yaml: This is not a text file"),
        ("a: 1".encode("utf-16"), "x.yaml: This is not a text file"),
        (b"a: 1\nb: caf\xe9\n", "x.yaml:2:7: The byte 0xe9 is not UTF-8."),
        (b"a: 1\nb: \x07\n", "x.yaml:2:4: There is an unprintable character here (code 0x07)."),
        (b"a: " + b"x" * 5000 + b"\0", "x.yaml:1:5004: There is an unprintable character"),
    ],
)
def test_what_is_no_plain_text(raw: bytes, expected: str) -> None:
    assert problems(raw)[0].startswith(expected)


def complaints(source: str | bytes) -> list[str]:
    try:
        read(source, "x.yaml")
    except Fault as fault:
        return [problem.what for problem in fault.problems]
    return []


@settings(max_examples=300, deadline=None)
@given(st.text(st.sampled_from("ab: -[]{},'\"\n\t#&*!|>?%@`\\0.~"), max_size=40))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    assert all(what.endswith(".") for what in complaints(text))


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=60))
def test_any_bytes_are_read_or_refused_in_words(raw: bytes) -> None:
    assert all(what.endswith(".") for what in complaints(raw))


def test_the_slow_loader_does_where_the_fast_one_is_missing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    path = KNOWLEDGE / "scale.yaml"
    fast = read(path)
    monkeypatch.setattr(yamlread, "_FAST", yaml.SafeLoader)
    assert read(path) == fast


@pytest.mark.parametrize("escape", [r"\UFFFFFFFF", r"\U00110000", r"\uD800", r"\xZZ"])
def test_a_number_that_no_letter_has(escape: str) -> None:
    """Unicode ends at U+10FFFF, and U+D800 to U+DFFF stand for no letter."""
    (what,) = complaints(f'reject: "{escape}"\n')
    assert what.endswith(".")
