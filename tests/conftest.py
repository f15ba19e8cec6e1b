"""No test touches the cache, the rejects or the windows of whoever runs it."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

# Before anything imports numpy. Workers share the cores among them: threads of one that wait for
# each other take the time of the other (hearing 397 phrases: 1 s of a core's time, or 9 s).
for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")

from diagnose.session import session as sessions  # noqa: E402
from diagnose.session.session import Session  # noqa: E402
from tests import shipped  # noqa: E402

settings.register_profile("busy machine", deadline=None)
settings.load_profile("busy machine")

ROOT = Path(__file__).resolve().parent.parent


def pytest_configure(config: pytest.Config) -> None:
    """Keep the cache in a folder that all workers share, and rejects in another."""
    os.environ.pop("DIAGNOSE_KNOWLEDGE", None)
    sessions.Library = shipped.one_library_a_book()  # type: ignore[misc,assignment]
    if "PYTEST_XDIST_WORKER" in os.environ:
        return
    kept = tempfile.TemporaryDirectory(prefix="diagnose-tests-")
    config.add_cleanup(kept.cleanup)
    os.environ["DIAGNOSE_CACHE"] = os.path.join(kept.name, "cache")
    os.environ["DIAGNOSE_REJECTS"] = os.path.join(kept.name, "rejects")
    os.environ["DIAGNOSE_SHOP"] = os.environ["DIAGNOSE_WORDS"] = "none"


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> object:
    """Give each worker one stretch of the tests, and the rest of a slow one to whoever is idle.

    Tests of one file stay together, so what their file makes ready is made ready once.
    """
    from xdist.scheduler import WorkStealingScheduling

    return WorkStealingScheduling(config, log) if config.getvalue("dist") == "load" else None


@pytest.fixture(scope="session")
def first() -> Session:
    """A session with the rule base that comes with the program; never to be changed."""
    return shipped.first()


@pytest.fixture
def start(first: Session) -> Callable[..., Session]:
    """Start work on a reject, with the rule base that comes with the program."""
    return first.another


@pytest.fixture
def session(start: Callable[..., Session]) -> Session:
    """A reject of which nothing is known yet."""
    return start()
