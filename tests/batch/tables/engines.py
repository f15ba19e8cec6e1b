"""The engines on which the expressions have to say the same; those that are missing are skipped.

PostgreSQL: a server of its own in a folder of its own, started by a user that is not root, as the
server refuses to run as root. PySpark: local, in this process's Java.
"""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest


@contextmanager
def duckdb() -> Iterator[Any]:
    import ibis

    yield ibis.duckdb.connect()


@contextmanager
def postgres() -> Iterator[Any]:
    """A server that is gone afterwards; skips where it or psycopg is not installed."""
    home = _postgres_home()
    if home is None or find_spec("psycopg") is None:
        pytest.skip("PostgreSQL was not run: no server (initdb) or no psycopg is installed.")
    import ibis

    folder = Path(tempfile.mkdtemp(prefix="pg-", dir="/tmp"))
    as_user = {}
    if os.geteuid() == 0:
        user = _a_plain_user()
        if user is None:
            pytest.skip("PostgreSQL was not run: root may not run it, and there is no other user.")
        os.chown(folder, user.pw_uid, user.pw_gid)
        as_user = {"user": user.pw_uid, "group": user.pw_gid, "extra_groups": []}

    def run(program: str, *arguments: str) -> None:
        subprocess.run(
            [str(home / program), *arguments], check=True, cwd=folder, timeout=120,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env={"PATH": os.environ["PATH"],
            "LC_ALL": "C.UTF-8", "HOME": str(folder)}, **as_user,
        )  # fmt: skip

    try:
        run("initdb", "-D", str(folder / "data"), "-U", "tester", "-A", "trust", "--no-sync")
        options = f"-c listen_addresses='' -k {folder} -c fsync=off"
        run("pg_ctl", "-D", str(folder / "data"), "-w", "-o", options, "start")
        try:
            yield ibis.postgres.connect(host=str(folder), user="tester", database="postgres")
        finally:
            run("pg_ctl", "-D", str(folder / "data"), "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _postgres_home() -> Path | None:
    found = shutil.which("initdb")
    homes = [Path(found).resolve().parent] if found else []
    homes += sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    return next((home for home in homes if (home / "initdb").exists()), None)


def _a_plain_user() -> pwd.struct_passwd | None:
    for name in ("postgres", "nobody"):
        try:
            return pwd.getpwnam(name)
        except KeyError:
            continue
    return None


@contextmanager
def spark() -> Iterator[Any]:
    """A local Spark of one process; skips where Java or pyspark is not installed."""
    if find_spec("pyspark") is None or shutil.which("java") is None:
        pytest.skip("PySpark was not run: pyspark or Java is not installed.")
    os.environ["PYSPARK_PYTHON"] = sys.executable
    os.environ["PYSPARK_DRIVER_PYTHON"] = sys.executable
    import ibis
    from pyspark.sql import SparkSession

    warehouse = tempfile.TemporaryDirectory(prefix="diagnose-spark-")
    session = (
        SparkSession.builder.master("local[2]")
        .config("spark.ui.enabled", "false")
        .config("spark.sql.shuffle.partitions", "2")
        .config("spark.driver.memory", "1g")
        .config("spark.driver.bindAddress", "127.0.0.1")
        .config("spark.driver.host", "127.0.0.1")
        .config("spark.sql.warehouse.dir", warehouse.name)
        .getOrCreate()
    )
    session.sparkContext.setLogLevel("ERROR")
    try:
        yield ibis.pyspark.connect(session)
    finally:
        session.stop()
        warehouse.cleanup()


ENGINES = {"postgres": postgres, "pyspark": spark}
