"""Amend a reject file that a person wrote: readings are put in, everything else stays as it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from io import StringIO
from pathlib import Path

from diagnose.basics.atomic_write import write_whole
from diagnose.basics.errors import Fault, Place, Problem
from diagnose.reject.found import Measured


def put_readings(
    path: Path, readings: Iterable[Measured], meant: Callable[[str, str], str]
) -> None:
    """Write readings under ``measured`` of a reject file, comments and order kept.

    ``meant``: from a name and a reading in the file to the id of the measurement, or to nothing; a
    reading of the same measurement gives way. Raises Fault where the disk will not take the file;
    the old one is then untouched.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.util import load_yaml_guess_indent

    text = path.read_text(encoding="utf-8-sig")
    _, indent, offset = load_yaml_guess_indent(text)
    yaml = YAML()
    yaml.preserve_quotes = True
    yaml.width = 4096
    yaml.indent(sequence=indent, offset=offset)
    data = yaml.load(text)
    if data.get("measured") is None:
        data["measured"] = {}
    measured = data["measured"]
    names = {meant(str(name), str(value or "")): name for name, value in measured.items()}
    for one in readings:
        measured[names.get(one.id, one.id)] = one.said
    amended = StringIO()
    yaml.dump(data, amended)
    try:
        write_whole(path, amended.getvalue().encode(), sure=True)
    except OSError as error:
        what = f"{path} could not be written: {error.strerror or error}."
        raise Fault(Problem(Place(), what, "It is as it was; make room and try again.")) from None
