"""Long work off the main thread: one job at a time, its answers fetched by the main thread.

The thread only puts answers into a queue. The form calls ``Worker.pump`` from time to time, and
all callbacks run there; no callback ever runs in the thread.
"""

from __future__ import annotations

import logging
import queue
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from rigfit.errors import RigfitError

Result = TypeVar("Result")

Progress = Callable[[float, str], None]
"""Says how far a task is (0 to 1) and what it is doing, in a few words."""

Cancelled = Callable[[], bool]
"""True once nobody wants the answer any more; a task asks it between its steps."""

_logger = logging.getLogger(__name__)


class WorkError(RigfitError):
    """A task failed for a reason nobody foresaw; the details are in the log."""


def silent(_share: float, _doing: str) -> None:
    """Take progress and say nothing: for calling a task without a form."""


def never() -> bool:
    """Return False: for calling a task that nobody will cancel."""
    return False


@dataclass(frozen=True, slots=True)
class _Work:
    """One job: its version, what to run, whom to tell."""

    version: int
    task: Callable[[Progress, Cancelled], Any]
    on_done: Callable[[Any], None]
    on_error: Callable[[RigfitError], None]
    on_progress: Progress
    stop: threading.Event = field(default_factory=threading.Event)


@dataclass(frozen=True, slots=True)
class _Said:
    """What the thread has to say about one job; ``tell`` is called by ``pump``."""

    version: int
    tell: Callable[[], None]
    is_last: bool


class Worker:
    """Runs one task at a time in a thread of its own, which starts with the first task.

    All methods belong to the main thread. A new task takes the place of the one before it, whose
    answer is dropped even if it comes; so does ``cancel``.
    """

    def __init__(self) -> None:
        self._wanted: queue.SimpleQueue[_Work | None] = queue.SimpleQueue()
        self._said: queue.SimpleQueue[_Said] = queue.SimpleQueue()
        self._thread: threading.Thread | None = None
        self._work: _Work | None = None
        self._version = 0
        self._is_closed = False

    @property
    def is_busy(self) -> bool:
        """True while an answer is awaited."""
        return self._work is not None

    def start(
        self,
        task: Callable[[Progress, Cancelled], Result],
        on_done: Callable[[Result], None],
        on_error: Callable[[RigfitError], None],
        on_progress: Progress = silent,
    ) -> int:
        """Run a task in the thread and return its version number; what ran before is cancelled.

        :param task: gets ``progress`` and ``cancelled``; must not touch the form.
        :param on_done: called by ``pump`` with what the task returned.
        :param on_error: called by ``pump`` with the error: a ``RigfitError`` as it was raised, any
            other as a ``WorkError`` in plain words.
        :param on_progress: called by ``pump`` with the latest progress.
        :raises RuntimeError: after ``close``.
        """
        if self._is_closed:
            raise RuntimeError("the worker is closed")
        self.cancel()
        self._version += 1
        self._work = _Work(self._version, task, on_done, on_error, on_progress)
        if self._thread is None:
            self._thread = threading.Thread(target=self._run, name="rigfit-work", daemon=True)
            self._thread.start()
        self._wanted.put(self._work)
        return self._version

    def cancel(self) -> bool:
        """Ask the running task to stop and drop its answer; return False when there was none."""
        if self._work is None:
            return False
        self._work.stop.set()
        self._work = None
        return True

    def pump(self) -> bool:
        """Call the callbacks for everything said since the last time; return ``is_busy``.

        Of several progress reports only the last is passed on.
        """
        latest: _Said | None = None
        while True:
            try:
                said = self._said.get_nowait()
            except queue.Empty:
                break
            if self._work is None or said.version != self._work.version:
                continue  # late: cancelled, or another task has taken its place
            if said.is_last:
                self._work, latest = None, None
                said.tell()
            else:
                latest = said
        if latest is not None:
            latest.tell()
        return self.is_busy

    def close(self, timeout: float = 2.0) -> bool:
        """Cancel what runs and end the thread; return True when it ended in time, seconds."""
        self._is_closed = True
        self.cancel()
        if self._thread is None:
            return True
        self._wanted.put(None)
        self._thread.join(timeout)
        return not self._thread.is_alive()

    # -- in the thread ---------------------------------------------------------------------

    def _run(self) -> None:
        while (work := self._wanted.get()) is not None:
            if not work.stop.is_set():
                self._said.put(self._outcome(work))

    def _outcome(self, work: _Work) -> _Said:
        def progress(share: float, doing: str) -> None:
            self._said.put(_Said(work.version, lambda: work.on_progress(share, doing), False))  # noqa: FBT003

        try:
            result = work.task(progress, work.stop.is_set)
        except RigfitError as error:
            raised = error
        except BaseException:  # whatever it is, the thread must live and the form must hear of it
            _logger.exception("a task of the form failed")
            raised = WorkError(
                "this could not be done, for a reason rigfit did not foresee",
                cure="nothing typed is lost; try again, and report it with what was typed",
            )
        else:
            return _Said(work.version, lambda: work.on_done(result), is_last=True)
        return _Said(work.version, lambda: work.on_error(raised), is_last=True)
