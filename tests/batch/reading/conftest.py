from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.session.library import Library


@pytest.fixture
def desk(tmp_path: Path, library: Library):  # type: ignore[no-untyped-def]
    from tests.batch.reading.sheets import Desk

    return Desk(tmp_path, library)
