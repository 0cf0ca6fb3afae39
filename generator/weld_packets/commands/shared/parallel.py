"""Work on many orders on all processors, with progress reports."""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing.process import BaseProcess
from threading import Thread
from typing import TextIO, TypeVar

import click

from weld_packets.errors import PacketError, unplaced

Job = TypeVar("Job")
Result = TypeVar("Result")
_WORTH_A_POOL = 4
_REPORT_EVERY_SECONDS = 2.0


def processors() -> int:
    """Return how many processors this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


processes_option = click.option(
    "--processes",
    type=click.IntRange(1),
    default=processors,
    metavar="NUMBER",
    help="How many orders to work on at the same time; as many as there are processors unless given.",
)
"""The option of a command that works on many orders."""


def for_each(jobs: Sequence[Job], work: Callable[[Job], Result], processes: int) -> Iterator[Result]:
    """Yield ``work(job)`` for each job in order; ``work`` must not raise for a user's mistake.

    Raises PacketError where the system ends a process in the middle of its work.

    What this process has loaded is shared where the system forks; ``work`` and the jobs must be picklable where it
    cannot.
    """
    if len(jobs) < _WORTH_A_POOL or processes == 1:
        yield from map(work, jobs)
        return
    with _pool(processes) as pool:
        with _deaf_to_ctrl_c():
            results = pool.map(work, jobs, chunksize=2)
        yield from results


@contextmanager
def _pool(processes: int) -> Iterator[ProcessPoolExecutor]:
    method = "fork" if "fork" in multiprocessing.get_all_start_methods() else "spawn"
    pool = ProcessPoolExecutor(processes, multiprocessing.get_context(method), initializer=_end_with_starter)
    try:
        yield pool
    except BrokenProcessPool:
        message = "the system ended a process that worked on orders, as it does where memory runs out"
        raise PacketError(
            [unplaced("--processes", f"{processes}", message, "run it again with fewer: --processes 1")]
        ) from None
    finally:
        pool.shutdown(cancel_futures=True)


@contextmanager
def _deaf_to_ctrl_c() -> Iterator[None]:
    """Let the processes that are started here never hear of Ctrl+C: this one does, once it goes on, and ends them."""
    if not hasattr(signal, "pthread_sigmask"):  # pragma: no cover - Windows, where `_end_with_starter` sees to it
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _end_with_starter() -> None:
    """Let this process end when the one that started it has, however that ended: it would wait for work for ever."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    starter = multiprocessing.parent_process()
    if starter is not None:
        Thread(target=_end_after, args=(starter,), daemon=True).start()


def _end_after(starter: BaseProcess) -> None:
    starter.join()
    os._exit(1)


@contextmanager
def meanwhile(
    jobs: Sequence[Job], work: Callable[[Job], Result], processes: int
) -> Iterator[Callable[[], list[Result]]]:
    """Let other processes do ``work`` while this one goes on; what is yielded waits for the results.

    Few jobs, and those of a single process, are done where they are waited for.
    """
    if len(jobs) < _WORTH_A_POOL or processes == 1:
        yield lambda: [work(job) for job in jobs]
        return
    with _pool(processes) as pool:
        with _deaf_to_ctrl_c():
            found = pool.map(work, jobs)
        yield lambda: list(found)


@dataclass
class Progress:
    """Reports on ``stream`` how many of ``total`` orders are done: in place on a terminal, else now and then."""

    total: int
    stream: TextIO = sys.stderr
    _done: int = 0
    _reported: float = 0.0

    def over(self, results: Iterable[Result]) -> Iterator[Result]:
        """Yield from ``results`` and report how far the work is."""
        self._reported = time.monotonic()
        for result in results:
            self._done += 1
            self._report()
            yield result
        if self.stream.isatty() and self._done:
            self.stream.write("\n")

    def _report(self) -> None:
        now = time.monotonic()
        if self.stream.isatty():
            self.stream.write(f"\r{self._done} of {self.total} orders")
            self.stream.flush()
        elif now - self._reported >= _REPORT_EVERY_SECONDS:
            self._reported = now
            self.stream.write(f"{self._done} of {self.total} orders\n")
