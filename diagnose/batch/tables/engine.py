"""The engine on this machine: DuckDB, held to its memory, its threads and its files."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from diagnose.basics.errors import Fault

if TYPE_CHECKING:
    import pyarrow as pa

MEMORY = "1500MB"
"""What the engine takes before it writes to the disk."""
THREADS = 2
DISK = "20GB"
"""What it may write there."""
MISSING = (
    "A scrap batch needs libraries that are not installed ({name}). "
    "Install them with: pip install 'diagnose[batch]'"
)
SETTINGS = {
    "memory_limit": MEMORY,
    "threads": THREADS,
    "max_temp_directory_size": DISK,
    "autoinstall_known_extensions": False,
    "autoload_known_extensions": False,
}


@dataclass(frozen=True, slots=True)
class Engine:
    """One running engine. ``ibis``: its connection, in which expressions are built and run.

    ``raw``: the same as DuckDB's own connection.
    """

    ibis: Any
    raw: Any

    def put(self, name: str, table: pa.Table) -> Any:
        """Make a table known under a name, without a copy of it, and return it as Ibis has it."""
        self.raw.register(name, table)
        return self.ibis.table(name)

    def drop(self, name: str) -> None:
        """Forget a table."""
        self.raw.unregister(name)

    @staticmethod
    def run(expression: Any) -> pa.Table:
        """Return what an expression comes to."""
        return expression.to_pyarrow()


def need_libraries() -> None:
    """Raise Fault where the libraries of the scrap batch are not installed."""
    try:
        import duckdb  # noqa: F401
        import ibis  # noqa: F401
        import pyarrow  # noqa: F401
    except ImportError as error:
        raise Fault(MISSING.format(name=error.name)) from None


@contextmanager
def engine() -> Iterator[Engine]:
    """Run an engine; raises Fault where its libraries are not installed."""
    need_libraries()
    import ibis

    with tempfile.TemporaryDirectory(prefix="diagnose-batch-") as folder:
        connection = ibis.duckdb.connect(temp_directory=folder, **SETTINGS)
        # Tables are handed over: it opens no file of its own but in that folder.
        connection.raw_sql("SET enable_external_access = false")
        try:
            yield Engine(connection, connection.con)
        finally:
            connection.disconnect()
