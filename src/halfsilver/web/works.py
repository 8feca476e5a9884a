"""What is made in the background, one piece of work per job: how far it is, and how it ended."""

from __future__ import annotations

import logging
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from threading import Lock

from fastapi import Request

from halfsilver.errors import HalfsilverError

log = logging.getLogger("halfsilver.web")
Say = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One piece of work.

    Parameters
    ----------
    stage : str
        What is being done.
    done : bool
        Whether it has ended.
    revision : int
        What came of it; 0 while it is not done, or where it failed.
    failed : str
        Why it failed.
    """

    stage: str = "Waiting"
    done: bool = False
    revision: int = 0
    failed: str = ""


class Works:
    """All work in hand: one at a time, since the machine also serves pages."""

    def __init__(self) -> None:
        self._works: dict[str, Work] = {}
        self._lock = Lock()
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="pack")

    def of(self, job: str) -> Work | None:
        """The work on a job; None where there is none."""
        return self._works.get(job)

    def begin(self, job: str, make: Callable[[Say], int]) -> None:
        """Begin a piece of work, unless one on this job is in hand."""
        with self._lock:
            known = self._works.get(job)
            if known is not None and not known.done:
                return
            self._works[job] = Work()
        self._pool.submit(self._run, job, make)

    def close(self) -> None:
        """Take no more work; what waits is dropped."""
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _run(self, job: str, make: Callable[[Say], int]) -> None:
        def say(stage: str) -> None:
            self._works[job] = replace(self._works[job], stage=stage)

        try:
            self._works[job] = Work(stage="Done", done=True, revision=make(say))
        except HalfsilverError as error:
            self._works[job] = Work(stage="Failed", done=True, failed=str(error))
        except Exception as error:
            log.error("A fault while a pack was made: %s", type(error).__name__)
            self._works[job] = Work(stage="Failed", done=True, failed="A fault in the program. Nothing was kept.")


def works_of(request: Request) -> Works:
    """The work of this server."""
    works: Works = request.app.state.works
    return works
