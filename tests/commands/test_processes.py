"""`check` and `build` work on several orders at the same time and find what one process finds."""

from __future__ import annotations

import gc
import os
import shutil
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from multiprocessing.context import BaseContext
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands.shared import parallel
from weld_packets.commands.shared.memory import kept
from weld_packets.commands.writing import check as checking

Run = Callable[..., Any]


@pytest.fixture
def chain(workshop: Path) -> Path:
    """Five orders, each of which starts from what the one before it leaves fitted; the last one is wrong."""
    orders = workshop / "instructions"
    text = (orders / "wo-1" / "order.yaml").read_text("utf-8")
    for number in range(2, 6):
        shutil.copytree(orders / "wo-1", orders / f"wo-{number}", ignore=shutil.ignore_patterns("released"))
        after = text.replace("order: T-1", f"order: T-{number}")
        after = after.replace("quantity: 20", f"quantity: 2{number}\nprevious order: wo-{number - 1}")
        (orders / f"wo-{number}" / "order.yaml").write_text(after, "utf-8")
    last = orders / "wo-5" / "order.yaml"
    last.write_text(last.read_text("utf-8").replace("quantity: 25", "quantity: 0"), "utf-8")
    return workshop


def test_several_processes_find_what_one_process_finds(chain: Path) -> None:
    alone = checking.check(chain, [], processes=1)
    assert sum(": OK, " in line for line in alone.lines) == 4
    assert [problem.key for problem in alone.problems] == ["quantity"]
    assert checking.check(chain, [], processes=3) == alone


@pytest.mark.parametrize(
    ("command", "said"), [("check", "wo-4: OK, "), ("build", "built 4, unchanged 0")], ids=["check", "build"]
)
def test_a_command_uses_the_stated_number_of_processes(
    run: Run, chain: Path, monkeypatch: pytest.MonkeyPatch, command: str, said: str
) -> None:
    shutil.rmtree(chain / "instructions" / "wo-1" / "released", ignore_errors=True)
    given: list[int | None] = []

    class Counted(ProcessPoolExecutor):
        def __init__(self, processes: int | None, context: BaseContext, **others: Any) -> None:
            given.append(processes)
            super().__init__(processes, context, **others)

    monkeypatch.setattr(parallel, "ProcessPoolExecutor", Counted)
    answer = run(command, "--processes", "3")
    assert said in answer.out
    assert "quantity" in answer.errors
    assert given == [3]
    given.clear()
    assert run(command, "--processes", "1").status == 1
    assert given == []


def test_a_command_takes_all_processors_that_it_may_use(run: Run, chain: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    del chain
    taken: list[int] = []

    def alone(jobs: object, work: object, processes: int) -> list[object]:
        del jobs, work
        taken.append(processes)
        return []

    monkeypatch.setattr(checking, "for_each", alone)
    run("check")
    assert taken == [len(os.sched_getaffinity(0))]


def test_what_is_kept_stays_out_of_reach_of_the_collector_of_cycles() -> None:
    """At its end a process searches all that is in reach: a third of a second after a check of one order."""
    usual = gc.get_threshold()
    try:
        gc.set_threshold(700)
        assert kept(gc.isenabled) is False
        assert gc.isenabled()
        assert gc.get_threshold()[0] > 700
    finally:
        gc.set_threshold(*usual)
    assert gc.get_freeze_count() > 10_000
