"""How the notes look on paper and on the screen.

Markdown is read back with markdown-it-py, a parser of the CommonMark standard (version 0.31,
https://spec.commonmark.org), and HTML with the parser of the standard library.
"""

import os
import subprocess
import sys
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from diagnose.basics.errors import Fault
from diagnose.basics.layout import WIDTH
from diagnose.notes.compose import compose
from diagnose.notes.fitted import ROOM
from diagnose.notes.note import Note
from diagnose.notes.render import FORMS, file_name, render, render_note, showable, write
from diagnose.reject.reject import one_line
from diagnose.rulebase.folder import knowledge_folder
from diagnose.session.rejectfile import read_reject
from diagnose.session.session import open_session
from tests.notes.rejects import GOLDEN, REJECTS, opened

VOID = {"meta", "link", "br", "img", "input", "hr"}
ODD_NAME = "a_b*<script>alert(1)</script> & [x](http://y) `z` #"
NOTES = {kind: compose(opened(reject)) for kind, reject in REJECTS.items()}


class Page(HTMLParser):
    """Everything in a page that a test asks about; fails on a tag that is not closed."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.links: list[str] = []
        self.lang = ""
        self.texts: dict[str, str] = {}
        self._open: list[str] = []
        self.feed(html)
        self.close()
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.links += [value or "" for name, value in attrs if name in ("src", "href")]
        self.lang = dict(attrs).get("lang") or self.lang if tag == "html" else self.lang
        if tag not in VOID:
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        for tag in self._open[-1:]:
            self.texts[tag] = self.texts.get(tag, "") + data


def named(name: str) -> Note:
    return replace(NOTES["likely"], reject=one_line(name), not_understood=(one_line(name),))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("kind", REJECTS)
def test_notes_of_the_small_book_look_as_they_did(kind: str, form: str) -> None:
    """Renew with ``python -m tests.notes.renew_golden``, then read what changed."""
    expected = (GOLDEN / f"{kind}.{form}").read_text(encoding="utf-8")
    assert render(opened(REJECTS[kind]), form) == expected


@pytest.mark.parametrize("kind", REJECTS)
def test_html_is_one_file_that_loads_and_runs_nothing(kind: str) -> None:
    page = Page(render_note(NOTES[kind], "html"))
    assert page.lang == "en-GB"
    assert NOTES[kind].reject in page.texts["title"]
    assert not {"script", "link", "img", "iframe"} & set(page.tags)
    assert page.links == []
    assert not {"url(", "@import"} & set(page.texts["style"].split())


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("kind", REJECTS)
def test_every_caution_stands_in_full_in_every_form(kind: str, form: str) -> None:
    text = " ".join(render_note(NOTES[kind], form).replace("&#39;", "'").split())
    for caution in NOTES[kind].cautions:
        assert caution in text


@given(st.text(min_size=1, max_size=40))
@example(ODD_NAME)
@example("1. - [x] ~~no~~ ![a](b) &amp; a|b \\* www.x.org x@y.org")
def test_any_name_is_text_and_not_markup_in_html(name: str) -> None:
    page = Page(render_note(named(name), "html"))
    shown = page.texts["h1"].replace("\u00a0", " ")
    assert shown == f"Corrective-action note: {one_line(name)}"
    assert page.tags.count("script") == 0


@given(st.text(min_size=1, max_size=40))
@example(ODD_NAME)
@example("1. - [x] ~~no~~ ![a](b) &amp; a|b \\* #")
def test_any_name_is_text_and_not_markup_in_markdown(name: str) -> None:
    html = MarkdownIt("commonmark").render(render_note(named(name), "md"))
    page = Page(html)
    assert " ".join(page.texts["h1"].split()) == f"Corrective-action note: {one_line(name)}".strip()
    assert f'Not understood: "{one_line(name)}".' in page.texts["li"]
    assert not {"em", "a", "code", "img", "script"} & set(page.tags)


def test_addresses_in_a_name_do_not_become_links() -> None:
    """GitHub's flavour of Markdown turns bare addresses into links."""
    reader = MarkdownIt("gfm-like")
    html = reader.render(render_note(named("see http://a.example and www.b.example"), "md"))
    assert 'href="http://a.example' not in html
    assert "www.b.example</a>" not in html


@given(st.text(max_size=300))
def test_no_line_of_a_plain_note_is_too_long(name: str) -> None:
    lines = render_note(named(name), "txt").splitlines()
    assert max(map(len, lines)) <= WIDTH


@given(st.text(max_size=120))
@example("../../etc/passwd")
@example("con")
@example("\u00df" * 120)
def test_any_name_gives_a_safe_file_name(name: str) -> None:
    made = file_name(one_line(name))
    assert made
    assert not set(made) & set('/\\:*?"<>|\0 ')
    assert not made.startswith((".", "-"))
    assert len(f"{made}-note.html".encode()) <= 255


@pytest.mark.parametrize("encoding", ["ascii", "cp437", "latin-1"])
def test_a_plain_note_can_be_shown_in_any_encoding(encoding: str) -> None:
    odd = replace(
        NOTES["likely"], about="8 mm \u2013 1310 \u00b0C \u2265 \u2018liquidus\u2019 \u4e2d"
    )
    render_note(odd, "txt", encoding).encode(encoding)


def test_signs_become_plain_letters_and_not_question_marks() -> None:
    assert showable("\u2013 1310 \u00b0C \u2264 \u00bd kN/m\u00b2 \u201cwet\u201d", "ascii") == (
        '- 1310 deg C <= 1/2 kN/m2 "wet"'
    )


def test_an_unknown_form_is_a_fault_that_names_the_known_ones() -> None:
    with pytest.raises(Fault, match="txt, md, html"):
        render(opened(REJECTS["open"]), "docx")


def test_notes_are_written_whole_and_leave_nothing_else(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "notes"
    paths = write(opened(REJECTS["contest"]), folder)
    assert [path.name for path in paths] == [f"bracket-3-8-note.{form}" for form in FORMS]
    assert sorted(folder.iterdir()) == sorted(paths)
    assert paths[1].read_text(encoding="utf-8") == (GOLDEN / "contest.md").read_text("utf-8")


def test_writing_again_replaces_the_note(tmp_path: Path) -> None:
    (old,) = write(opened(REJECTS["likely"]), tmp_path, ["txt"])
    old.write_text("old")
    (new,) = write(opened(REJECTS["likely"]), tmp_path, ["txt"])
    assert new == old
    assert new.read_text(encoding="utf-8") == (GOLDEN / "likely.txt").read_text("utf-8")


def test_a_folder_that_cannot_be_written_to_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(Fault, match="Give another folder"):
        write(opened(REJECTS["likely"]), tmp_path / "file", ["txt"])


@pytest.mark.parametrize(
    "path", sorted((knowledge_folder() / "worked").glob("*.yaml")), ids=lambda path: path.stem
)
def test_the_note_of_a_worked_reject_fits_two_printed_pages(path: Path) -> None:
    """A4 is 297 mm high (ISO 216), which is 70 lines at six to the inch (common practice)."""
    session = open_session()
    read_reject(path, session)
    first, _, second = render(session, "txt").partition("\nSECOND PAGE")
    assert len(first.splitlines()) <= ROOM
    assert 5 < len(second.splitlines()) <= 70
    assert render(session, "txt", second=False) == first


def test_the_template_library_is_imported_only_to_print() -> None:
    code = "import sys, diagnose.notes.render; raise SystemExit('jinja2' in sys.modules)"
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    assert (
        subprocess.run([sys.executable, "-c", code], env=environment, check=False).returncode == 0
    )
