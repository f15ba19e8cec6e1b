"""The rooms of the statistics are imported without the libraries that do the work."""

from __future__ import annotations

from pathlib import Path

import diagnose.batch.statistics as room
from tests.program import python

IMPORTED = """
import sys
from importlib import import_module
for name in sys.argv[1:]:
    import_module("diagnose.batch.statistics." + name)
print(*{name.partition(".")[0] for name in sys.modules})
"""


def test_importing_loads_neither_scipy_nor_statsmodels() -> None:
    names = [x.stem for x in Path(room.__path__[0]).glob("*.py") if x.stem != "__init__"]
    assert len(names) > 10
    done = python("-c", IMPORTED, *names)
    assert done.returncode == 0, done.stderr
    assert not {"scipy", "statsmodels", "pandas"} & set(done.stdout.split())
