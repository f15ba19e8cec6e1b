"""Print a note as plain text, Markdown or HTML, and put it into files."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from diagnose.basics.atomic_write import write_whole
from diagnose.basics.errors import Fault
from diagnose.basics.layout import WIDTH
from diagnose.drawing.vector import svg
from diagnose.notes.compose import compose
from diagnose.notes.fitted import fitted
from diagnose.notes.note import Note, PlanStep
from diagnose.notes.wording import either, sentence
from diagnose.rulebase.panels import Panel

if TYPE_CHECKING:
    from jinja2 import Template
    from markupsafe import Markup

    from diagnose.session.session import Session

FORMS = ("txt", "md", "html")
SPARSE = 44
"""Lines of plain text up to which a first page of HTML has room for larger type and drawings."""

_MARKDOWN = re.compile(r"[\\`*_\[\]<>#|~$@]|&(?=[#\w])|:(?=//)|(?<=\bwww)\.", re.IGNORECASE)
_NO_BREAK = "\u00a0"
_LEAD = re.compile(r" *(?:\[ \] |[-!] )?")
_PLAIN_SIGNS = str.maketrans(
    {
        "\u2013": "-", "\u2014": "-", "\u2212": "-", "\u00b7": ".", "\u2022": "*", "\u2026": "...",
        "\u00b0": "deg ", "\u00b2": "2", "\u00b3": "3", "\u00b5": "u", "\u03bc": "u",
        "\u00d7": "x", "\u00b1": "+/-", "\u2264": "<=", "\u2265": ">=", "\u2248": "about ",
        "\u2018": "'", "\u2019": "'", "\u201c": '"', "\u201d": '"', "\u2192": "->",
        "\u00bd": "1/2", "\u00bc": "1/4", "\u00be": "3/4", "\u00a0": " ", "\u202f": " ",
    }
)  # fmt: skip


def render(
    session: Session, form: str, encoding: str = "utf-8", width: int = WIDTH, *, second: bool = True
) -> str:
    """Return the note of a session in one of ``FORMS``.

    ``encoding`` and ``width`` (columns): of the screen or printer that is to show a plain-text
    note; signs that it cannot show are written in plain letters. ``second``: with the second page,
    which says what was found, what is in doubt and what it rests on. Raises Fault where there is no
    such form.
    """
    return render_note(compose(session), form, encoding, width, second=second)


def render_note(
    note: Note, form: str, encoding: str = "utf-8", width: int = WIDTH, *, second: bool = True
) -> str:
    """Return a composed note in one of ``FORMS``; see ``render``."""
    if form not in FORMS:
        raise Fault(f"There is no note in the form {form!r}. Choose one of: {', '.join(FORMS)}.")
    fits = fitted(note, first_page_lines)
    full = form == "html" and first_page_lines(fits) > SPARSE
    text = _template(form).render(note=fits, second=second, full=full)
    if form != "txt":
        return text
    return showable(_folded(text, width).replace(_NO_BREAK, " "), encoding)


def first_page_lines(note: Note) -> int:
    """Return how many lines the first page of a note takes as plain text of the usual width."""
    text = _template("txt").render(note=note, second=False)
    return len(_folded(text, WIDTH).splitlines())


def showable(text: str, encoding: str) -> str:
    """Return a text in which every sign can be shown in an encoding.

    >>> showable("1310 \u00b0C \u2265 \u00bd", "ascii"), showable("Gie\u00dferei", "ascii")
    ('1310 deg C >= 1/2', 'Gie?erei')
    """
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return text.translate(_PLAIN_SIGNS).encode(encoding, "replace").decode(encoding)
    return text


def write(
    session: Session, folder: Path | str, forms: Iterable[str] = FORMS, *, second: bool = True
) -> list[Path]:
    """Write the note into a folder, a file for each form, and return where they are.

    A file is complete or not there: it takes its name only once it is written. ``second``: with
    the second page. Raises Fault where the folder cannot be written to.
    """
    return write_all([session], folder, forms, second=second)


def write_all(
    sessions: Iterable[Session],
    folder: Path | str,
    forms: Iterable[str] = FORMS,
    *,
    second: bool = True,
) -> list[Path]:
    """Write the notes of several rejects; of those that are called alike, each has a number."""
    where, wanted = Path(folder), tuple(forms)
    texts: dict[Path, str] = {}
    for note in map(compose, sessions):
        name, number = file_name(note.reject), 1
        while (where / f"{name}-note.{wanted[0]}") in texts:
            number += 1
            name = f"{file_name(note.reject)}-{number}"
        for form in wanted:
            texts[where / f"{name}-note.{form}"] = render_note(note, form, second=second)
    try:
        return [_put(path, text) for path, text in texts.items()]
    except OSError as error:
        reason = error.strerror or str(error)
        raise Fault(f"The note cannot be kept in {where}: {reason}. Give another folder.") from None


def file_name(reject: str) -> str:
    """Return a reject's name as one that any file system takes.

    >>> file_name("cover 04/12 <b>"), file_name("../..")
    ('cover-04-12-b', 'reject')
    """
    return re.sub(r"[^\w.]+", "-", reject).strip("-.")[:60] or "reject"


def _put(path: Path, text: str) -> Path:
    write_whole(path, text.encode())
    return path


@cache
def _template(form: str) -> Template:
    """Return the template of a form; Jinja is imported and the template compiled at first use."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    house = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=form == "html",
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=_FINISH[form],
    )
    house.filters["sentence"] = sentence
    house.filters["drawn"] = _drawn
    house.filters["capital"] = _capital
    house.filters["amiss"] = _amiss
    house.filters["borne"] = _borne
    house.filters["besides"] = _besides
    house.filters["proving"] = _proving
    return house.get_template(f"note.{form}")


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _borne(note: Note) -> list[tuple[str, str]]:
    """Return what bears causes out already, behind their names; the same is said once."""
    names: dict[tuple[str, ...], list[str]] = {}
    for one in note.suspects:
        if one.proved_by:
            names.setdefault(one.proved_by, []).append(one.name)
    return [("; ".join(these), "; ".join(by)) for by, these in names.items()]


def _amiss(note: Note) -> list[str]:
    """Return the signs of something else that is wrong as well, each once."""
    return list(dict.fromkeys(text for one in note.suspects for text in one.besides))


def _besides(note: Note) -> list[str]:
    """Return, for each suspect, what may help besides its first correction."""
    return [
        f"For {one.name} it may also help to: {'; '.join(one.correction.besides)}."
        for one in note.suspects
        if one.correction and one.correction.besides
    ]


def _proving(one: PlanStep, contest: object) -> str:
    """Return which outcome of a step proves which cause; the cause goes without saying alone."""
    if not one.step.bears_out:
        return ""
    names = f" {either(one.proves)}" if contest and one.proves else ""
    return f"Proves{names or ' it'} if: {one.step.bears_out}. "


def _drawn(panel: Panel) -> Markup:
    """Return a drawing as SVG that stands in a page of HTML as it is."""
    from markupsafe import Markup

    return Markup(svg(panel.scene, panel.marks))


def markdown(text: str) -> str:
    r"""Return a text in which nothing is markup to Markdown.

    >>> markdown("a_b*<script>")
    'a\\_b\\*\\<script\\>'
    """
    return _MARKDOWN.sub(lambda found: f"\\{found.group()}", text)


def _finish_markdown(value: Any) -> Any:
    return markdown(value) if isinstance(value, str) else value


def _keep_percents(value: Any) -> Any:
    """Keep a figure and its percent sign on one line."""
    return value.replace(" %", f"{_NO_BREAK}%") if isinstance(value, str) else value


_FINISH: dict[str, Callable[[Any], Any]] = {
    "txt": _keep_percents,
    "md": _finish_markdown,
    "html": _keep_percents,
}


def _folded(text: str, width: int) -> str:
    """Return a text with its long lines folded, each going on where its own words began."""
    return "".join(
        textwrap.fill(
            line,
            width,
            subsequent_indent=" " * len(_LEAD.match(line)[0]),  # type: ignore[index]
            break_on_hyphens=False,
        )
        + "\n"
        for line in text.splitlines()
    )
