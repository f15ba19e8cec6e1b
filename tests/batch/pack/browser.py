"""A real browser, without a window: Debian's Chromium, or another that is installed."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome")
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run")

MEASURE = """<!DOCTYPE html><meta charset="utf-8"><title>not measured</title>
<iframe id="page" style="width:{width}px;height:900px;border:0" srcdoc="{page}"></iframe>
<pre id="told"></pre><script>
addEventListener("load", () => {{
  const page = document.getElementById("page").contentDocument, root = page.documentElement;
  const wide = root.clientWidth;
  document.getElementById("told").textContent = JSON.stringify({{
    over: root.scrollWidth - wide,
    out: [...page.body.querySelectorAll("*")].filter(
      (one) => !one.closest("svg svg, svg *") && one.getBoundingClientRect().right > wide + 1
    ).map((one) => one.tagName),
    scripts: page.scripts.length,
    sections: Object.fromEntries([...page.querySelectorAll("section")].map(
      (one) => [one.id, one.getBoundingClientRect().height])),
    drawings: page.querySelectorAll('svg[role="img"]').length,
  }});
}});
</script>"""
"""A page of ours around the one that is measured; the script is ours and not the pack's."""


def installed() -> str:
    """Return the browser's path, or an empty text."""
    return next((path for name in NAMES if (path := shutil.which(name))), "")


def _run(folder: Path, *arguments: str) -> str:
    done = subprocess.run(
        [installed(), *FLAGS, f"--user-data-dir={folder / 'profile'}", *arguments],
        capture_output=True,
        timeout=120,
        check=True,
    )
    return done.stdout.decode("utf-8", "replace")


def measured(page: str, width: int, folder: Path) -> dict[str, Any]:
    """Return what a page measures in a window of so many pixels."""
    around = folder / f"around-{width}.html"
    around.write_text(MEASURE.format(width=width, page=html.escape(page)), encoding="utf-8")
    shown = _run(folder, "--virtual-time-budget=5000", "--dump-dom", around.as_uri())
    found = re.search(r'<pre id="told">(.*?)</pre>', shown, re.DOTALL)
    assert found, shown[-500:]
    told: dict[str, Any] = json.loads(html.unescape(found[1]))
    return told


def printed(page: Path, folder: Path) -> bytes:
    """Return a page as the browser prints it."""
    to = folder / "printed.pdf"
    _run(folder, "--no-pdf-header-footer", f"--print-to-pdf={to}", page.as_uri())
    return to.read_bytes()
