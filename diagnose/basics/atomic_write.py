"""Write a file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, content: bytes, *, sure: bool = False) -> None:
    """Put ``content`` at ``path`` so that a crash leaves either the old file or the new one.

    ``sure``: wait until the disk itself has it. Missing folders are made. Raises OSError where
    it cannot be written; whatever stood at ``path`` is then untouched, and nothing is left over.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, draft = tempfile.mkstemp(prefix=f".{path.stem[:20]}-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            if sure:
                file.flush()
                os.fsync(file.fileno())
        Path(draft).chmod(0o644)
        Path(draft).replace(path)
    except BaseException:
        with suppress(OSError):
            Path(draft).unlink(missing_ok=True)
        raise
