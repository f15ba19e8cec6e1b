"""Take the picture of the question screen that the README shows.

Run it with ``python -m tests.terminal.screens.picture``. The reject is one of a made-up foundry;
the picture is plain SVG and loads nothing from outside.
"""

from __future__ import annotations

import asyncio
import re
import tempfile
from pathlib import Path

from diagnose.session.session import open_session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.app import DiagnoseApp

PICTURE = Path(__file__).parents[3] / "docs" / "question.svg"


async def take() -> str:
    """Work a reject up to its second question and return the screen as SVG."""
    session = open_session()
    session.about(name="pump-body-08", section="10 mm")
    session.see("smooth round holes just under the top skin, over the core")
    with tempfile.TemporaryDirectory() as folder:
        app = DiagnoseApp(session, Shelf(Path(folder)))
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("enter", "f4")
            await pilot.pause()
            return app.export_screenshot(title="diagnose")


def plain(svg: str) -> str:
    """Return the picture with the reader's own fixed-width font, and without window buttons."""
    svg = re.sub(r"@font-face \{.*?\}|<circle[^>]*/>", "", svg, flags=re.DOTALL)
    return svg.replace("Fira Code", "monospace")


if __name__ == "__main__":
    PICTURE.write_text(plain(asyncio.run(take())), encoding="utf-8")
    print(PICTURE)
