"""Runs one job on many things in processes, so that a native crash costs one thing alone."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from typing import Generic, TypeVar

from dyeshade.threads import one_thread_each

Thing = TypeVar("Thing")
Found = TypeVar("Found")


@dataclass(frozen=True)
class Crashed:
    """Stands in the place of a result whose process ended while it worked, even when alone."""


@dataclass(frozen=True)
class Finished(Generic[Found]):
    """A result.

    Attributes
    ----------
    number : int
        Its thing's place in the sequence, from 0.
    found : Found or Crashed
    """

    number: int
    found: Found | Crashed


def cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return max(1, len(os.sched_getaffinity(0)))
    return os.cpu_count() or 1


class Warm:
    """A process that stays ready for the next single thing, once it has done a first one.

    Starting a process and importing what reads photos takes longer than measuring again what a hand
    has just changed.
    """

    def __init__(self) -> None:
        self._busy = threading.Lock()
        self._pool: ProcessPoolExecutor | None = None

    def take(self) -> bool:
        """Whether it is free; then it is the caller's until `run` is over."""
        return self._busy.acquire(blocking=False)

    def run(self, job: Callable[[Thing], Found], thing: Thing) -> Found | Crashed:
        """Run a job on one thing, after `take`."""
        try:
            if self._pool is None:
                self._pool = _pool(1)
            return self._pool.submit(job, thing).result()
        except BrokenProcessPool:
            self._pool = None
            return _alone(job, thing)
        finally:
            self._busy.release()

    def close(self) -> None:
        """Let the process go, and wait until it is gone."""
        with self._busy:
            if self._pool is not None:
                self._pool.shutdown()
                self._pool = None


def run_each(
    job: Callable[[Thing], Found],
    things: Sequence[Thing],
    workers: int | None = None,
    warm: Warm | None = None,
) -> Iterator[Finished[Found]]:
    """Run a job on each thing in processes of their own.

    Parameters
    ----------
    job : callable
        A function that another process can import; what it raises is raised here.
    things : sequence
        What it is called with; each must survive pickling.
    workers : int, optional
        Processes side by side; as many as there are cores unless told.
    warm : Warm, optional
        Takes a thing that comes alone, where it is free.

    Yields
    ------
    Finished
        In the order in which they end.
    """
    if warm is not None and len(things) == 1 and warm.take():
        yield Finished(0, warm.run(job, things[0]))
        return
    workers = max(1, min(workers or cores(), len(things)))
    waiting = deque(range(len(things)))
    while waiting:
        suspects: list[int] = []
        with _pool(workers) as pool:
            running: dict[Future[Found], int] = {}
            try:
                while (waiting or running) and not suspects:
                    # No more at a time than there are workers: whoever brings a process down is
                    # then among the few that ran.
                    while waiting and len(running) < workers:
                        running[pool.submit(job, things[waiting[0]])] = waiting[0]
                        waiting.popleft()
                    for future in wait(running, return_when=FIRST_COMPLETED).done:
                        number = running.pop(future)
                        try:
                            yield Finished(number, future.result())
                        except BrokenProcessPool:
                            suspects.append(number)
            except BrokenProcessPool:
                # It broke between two submissions; those that ran are told apart below.
                pass
            finally:
                pool.shutdown(wait=False, cancel_futures=True)
            suspects += running.values()
        for number in suspects:
            yield Finished(number, _alone(job, things[number]))


def _alone(job: Callable[[Thing], Found], thing: Thing) -> Found | Crashed:
    with _pool(1) as pool:
        try:
            return pool.submit(job, thing).result()
        except BrokenProcessPool:
            return Crashed()


def _pool(workers: int) -> ProcessPoolExecutor:
    # A forked process would inherit locks of threads that it does not have.
    return ProcessPoolExecutor(workers, multiprocessing.get_context("spawn"), _begin)


def _begin() -> None:
    # A person who interrupts means the parent, which lets a worker finish its thing and go.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # What native code prints must not come between the lines that the parent writes. A program
    # with a window may have neither.
    with contextlib.suppress(OSError):
        os.dup2(2, 1)
    one_thread_each()
