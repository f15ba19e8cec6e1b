"""Take the pictures of a scrap batch that the README shows: the faults, and the pack's first page.

Run it with ``python -m tests.terminal.screens.batch_picture``. The quarter is one of a made-up
foundry. The screen is plain SVG; the page is printed by WeasyPrint and drawn by pdftoppm (package
poppler-utils).
"""

from __future__ import annotations

import asyncio
import subprocess
import tempfile
from datetime import date
from pathlib import Path

from diagnose.batch.actions import Action
from diagnose.batch.analyse import analyse
from diagnose.batch.pack.page import html
from diagnose.batch.pack.write import as_pdf
from diagnose.batch.result import Batch
from diagnose.batch.walk import Walk
from diagnose.rulebase.job import Job
from diagnose.session.session import open_session
from diagnose.terminal.screens.batch import BatchApp
from tests.conftest import ROOT
from tests.terminal.screens.picture import plain

QUARTER = ROOT / "knowledge" / "worked" / "quarter"
SCREEN, PAGE = ROOT / "docs" / "batch.svg", ROOT / "docs" / "batch-pack"
TODAY = date(2026, 4, 1)
ACTIONS = [Action("Cut the water in the sand", "A. Example", date(2026, 4, 15), "blow-mould-gas")]


def quarter() -> Batch:
    """Read the made-up quarter and weigh it."""
    return analyse(
        [QUARTER / "scrap.csv"], open_session().library, job=Job("grey iron", "green sand"),
        poured=QUARTER / "poured.csv", readings=QUARTER / "readings.csv",
    )  # fmt: skip


async def screen(batch: Batch, folder: Path) -> str:
    """Return the faults of a batch, one of them explained, as SVG."""
    app = BatchApp(Walk(batch, folder / "scrap-actions.yaml", folder / "pack", TODAY))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "down")
        await pilot.pause()
        return app.export_screenshot(title="diagnose batch")


def first_page(batch: Batch, folder: Path) -> None:
    """Draw the first page of the pack as PNG."""
    printed = as_pdf(html(batch, ACTIONS, TODAY))
    if isinstance(printed, str):
        raise SystemExit(printed)
    (folder / "pack.pdf").write_bytes(printed)
    drawn = ["pdftoppm", "-r", "80", "-gray", "-png", "-singlefile", "-f", "1", "-l", "1"]
    subprocess.run([*drawn, str(folder / "pack.pdf"), str(PAGE)], check=True)


def main() -> None:
    """Write both pictures."""
    batch = quarter()
    with tempfile.TemporaryDirectory() as folder:
        SCREEN.write_text(plain(asyncio.run(screen(batch, Path(folder)))), encoding="utf-8")
        first_page(batch, Path(folder))
    print(SCREEN, PAGE.with_suffix(".png"))


if __name__ == "__main__":
    main()
