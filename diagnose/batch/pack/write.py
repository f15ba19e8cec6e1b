"""Write the pack into a folder: each file whole or not at all."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from diagnose.basics.atomic_write import write_whole
from diagnose.basics.errors import Fault
from diagnose.batch.actions import Action
from diagnose.batch.minutes import minutes_text
from diagnose.batch.pack.page import html
from diagnose.batch.pack.tables import as_csv, tables
from diagnose.batch.pack.workbook import as_workbook
from diagnose.batch.result import Batch
from diagnose.notes.render import file_name

NO_PDF = "The PDF was not written: weasyprint is not installed (pip install 'diagnose[pack]')."
NO_WORKBOOK = (
    "The workbook was not written: openpyxl is not installed (pip install 'diagnose[pack]')."
)
CANNOT_PRINT = "The PDF was not written: weasyprint lacks a library of the system ({})."


@dataclass(frozen=True, slots=True)
class Written:
    """The files of a pack, and in a line each what could not be written and why."""

    paths: tuple[Path, ...]
    lacking: tuple[str, ...]


def write_pack(batch: Batch, actions: Sequence[Action], folder: Path, today: date) -> Written:
    """Write page, PDF, tables and minutes into a folder; raise Fault where it cannot be written.

    All contents are made before the first file is written, so that a fault leaves no half a pack.
    """
    stem = f"{file_name(Path(batch.source).stem)}-pack"
    page = html(batch, actions, today)
    sheets = tables(batch, actions)
    contents = {
        f"{stem}.html": page.encode(),
        f"{stem}-minutes.txt": minutes_text(batch, actions, today).encode(),
        **{f"{stem}-{sheet.name}.csv": as_csv(sheet) for sheet in sheets},
    }
    lacking = []
    try:
        contents[f"{stem}.xlsx"] = as_workbook(sheets)
    except ImportError:
        lacking.append(NO_WORKBOOK)
    printed = as_pdf(page)
    if isinstance(printed, bytes):
        contents[f"{stem}.pdf"] = printed
    else:
        lacking.append(printed)
    return Written(tuple(_put(folder / name, held) for name, held in contents.items()), (*lacking,))


def _put(path: Path, content: bytes) -> Path:
    try:
        write_whole(path, content)
    except OSError as error:
        reason = error.strerror or error
        raise Fault(
            f"The pack cannot be kept in {path.parent}: {reason}. Give another folder."
        ) from None
    return path


def as_pdf(page: str) -> bytes | str:
    """Return a page as PDF, or in a line why it could not be printed."""
    try:
        from weasyprint import HTML
    except ImportError:
        return NO_PDF
    except OSError as error:
        return CANNOT_PRINT.format(error)
    logging.getLogger("weasyprint").setLevel(logging.ERROR)
    printed: bytes = HTML(string=page).write_pdf()
    return printed
