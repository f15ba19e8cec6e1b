"""The rule base being opened while the first screen is shown already."""

from __future__ import annotations

from collections.abc import Callable
from threading import Thread
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.session.session import Session


class Opening:
    """A session that is opened in the background, with the modules that work it."""

    def __init__(self, work: Callable[[], Session]) -> None:
        self._work = work
        self._session: Session | None = None
        self._wrong: Exception | None = None
        self._thread = Thread(target=self._open)
        self._done: Callable[[], object] = lambda: None

    def begin(self, done: Callable[[], object]) -> None:
        """Begin; ``done`` is called from the background once it is opened, or cannot be.

        Somebody may have been quicker, and wait for the session already; then it was begun.
        """
        self._done = done
        if self._thread.ident is None:
            self._thread.start()

    @property
    def wrong(self) -> Exception | None:
        """What kept it from being opened, so far."""
        return self._wrong

    def wait(self) -> None:
        """Wait until it is opened, or cannot be."""
        if self._thread.ident is None:
            self._thread.start()
        self._thread.join()

    def session(self) -> Session:
        """Return the session, once it is opened; raise what kept it from being opened."""
        if self._session is None:
            self.wait()
        if self._session is None:
            assert self._wrong is not None
            raise self._wrong
        return self._session

    def _open(self) -> None:
        try:
            import diagnose.terminal.screens.steps  # noqa: F401 - so that no step waits for it

            self._session = self._work()
        except Exception as wrong:
            self._wrong = wrong
        self._done()
