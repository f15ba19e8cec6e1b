"""Say in plain words what is wrong where a text stops being YAML."""

from __future__ import annotations

from typing import Any

import yaml

from diagnose.basics.errors import Place, Problem

_UNCLOSED = "found unexpected end of stream"
_INDENT = (
    "This does not fit the lines around it.",
    "Line it up with its neighbours, with spaces; text that holds quotation marks goes in quotes.",
)
_WORDING: tuple[tuple[str, str, str], ...] = (
    (
        "mapping values are not allowed",
        "There is a colon here that makes no sense.",
        "If it belongs to the text, put the whole text in quotes; else mend the line above.",
    ),
    (
        "found character '\\t'",
        "There is a tab here.",
        "Use spaces for indentation.",
    ),
    (
        "cannot start any token",
        "Text must not begin with this character.",
        "Put the text in quotes; if it is a tab, use spaces.",
    ),
    ("exceeded maximum nesting depth", "This is nested far too deep.", "Flatten it."),
    (
        "could not find expected ':'",
        "A key without its colon, or a line that has slipped out of its text.",
        "Write 'key: value', or mend the indentation.",
    ),
    ("expected <block end>", *_INDENT),
    ("did not find expected key", *_INDENT),
    ("did not find expected '-' indicator", *_INDENT),
    ("block sequence entries are not allowed", *_INDENT),
    (
        "expected ',' or ']'",
        "The list that begins here with [ is not closed, or lacks a comma.",
        "Close it, or put texts that hold brackets in quotes.",
    ),
    (
        "expected ',' or '}'",
        "The mapping that begins here with { is not closed, or lacks a comma.",
        "Close it, or put texts that hold brackets in quotes.",
    ),
    (
        "expected the node content",
        "A value is missing here, or it begins with a special character.",
        "Write the value, in quotes if it is text.",
    ),
    (
        "found unknown escape character",
        "A backslash in double quotes starts a special character.",
        "Use single quotes round the text.",
    ),
    (
        "expected a comment or a line break",
        "Text after | or > must start on the next line.",
        "Begin a new line, indented.",
    ),
    (
        "expected chomping or indentation indicators",
        "Text must not begin with | or >.",
        "Put the text in quotes, or begin it on the next line.",
    ),
    (
        "expected alphabetic or numeric character",
        "Text must not begin with * or &.",
        "Put the text in quotes.",
    ),
    (
        "expected the document start",
        "What follows does not belong to the part above.",
        "Mend the indentation, or close what is open.",
    ),
    (
        "expected '<document start>'",
        "What follows does not belong to the part above.",
        "Mend the indentation, or close what is open.",
    ),
)


def in_plain_words(error: yaml.YAMLError, name: str) -> Problem:
    """Return a syntax error as a Problem in plain words, with its place.

    >>> import yaml
    >>> try: list(yaml.parse("say: a hole: smooth"))
    ... except yaml.YAMLError as error: print(in_plain_words(error, "x.yaml").what)
    There is a colon here that makes no sense.
    """
    said = str(getattr(error, "problem", None) or error)
    mark: Any = getattr(error, "problem_mark", None)
    context = str(getattr(error, "context", None) or "")
    context_mark: Any = getattr(error, "context_mark", None)
    if _UNCLOSED in said and "quoted" in context and context_mark is not None:
        what = "A quotation mark is opened here and never closed."
        return Problem(_place(context_mark, name), what, "Close it.")
    if "flow" in context and context_mark is not None and mark is not None:
        mark = context_mark
    for needle, what, instead in _WORDING:
        if needle in said:
            return Problem(_place(mark, name), what, instead)
    return Problem(_place(mark, name), f"This cannot be read as YAML: {said}.")


def _place(mark: Any, name: str) -> Place:
    return Place(name, mark.line + 1, mark.column + 1) if mark is not None else Place(name)
