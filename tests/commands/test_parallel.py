"""Many orders go through several processes, and the command reports its progress."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from weld_packets.commands.shared import parallel
from weld_packets.errors import PacketError


def double(number: int) -> tuple[int, int]:
    return number * 2, os.getpid()


def test_results_come_in_the_order_of_the_jobs() -> None:
    assert [value for value, _ in parallel.for_each(range(20), double, 2)] == [number * 2 for number in range(20)]


def test_few_jobs_stay_in_this_process() -> None:
    assert {process for _, process in parallel.for_each([1, 2], double, 2)} == {os.getpid()}


def test_many_jobs_leave_this_process() -> None:
    assert os.getpid() not in {process for _, process in parallel.for_each(range(8), double, 2)}


def test_one_process_is_this_process() -> None:
    assert {process for _, process in parallel.for_each(range(8), double, 1)} == {os.getpid()}


def test_other_processes_work_in_order_while_this_one_goes_on() -> None:
    with parallel.meanwhile(range(8), double, 2) as results:
        found = results()
    assert [value for value, _ in found] == [number * 2 for number in range(8)]
    assert os.getpid() not in {process for _, process in found}


def test_few_jobs_and_those_of_one_process_are_done_where_they_are_waited_for() -> None:
    for jobs, processes in ((range(3), 2), (range(8), 1)):
        with parallel.meanwhile(jobs, double, processes) as results:
            assert {process for _, process in results()} == {os.getpid()}


def test_as_many_processes_work_as_there_are_processors_for_us() -> None:
    assert parallel.processors() == len(os.sched_getaffinity(0))


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_terminal_sees_each_order_counted() -> None:
    screen = Terminal()
    assert list(parallel.Progress(3, screen).over("abc")) == ["a", "b", "c"]
    assert screen.getvalue() == "\r1 of 3 orders\r2 of 3 orders\r3 of 3 orders\n"


def test_a_short_build_writes_nothing_into_a_log() -> None:
    log = io.StringIO()
    list(parallel.Progress(3, log).over("abc"))
    assert log.getvalue() == ""


def test_a_long_build_writes_lines_into_a_log(monkeypatch: object) -> None:
    log = io.StringIO()
    moments = iter([0.0, 1.0, 2.5, 3.0])
    monkeypatch.setattr(parallel.time, "monotonic", lambda: next(moments))  # type: ignore[attr-defined]
    list(parallel.Progress(3, log).over("abc"))
    assert log.getvalue() == "2 of 3 orders\n"


def end_at_five(number: int) -> int:
    if number == 5:
        os.kill(os.getpid(), signal.SIGKILL)
    return number


def test_a_process_that_the_system_ends_is_reported_and_not_waited_for() -> None:
    with pytest.raises(PacketError, match="ended a process that worked on orders"):
        list(parallel.for_each(range(8), end_at_five, 2))
    with (
        pytest.raises(PacketError, match="--processes 1"),
        parallel.meanwhile(range(8), end_at_five, 2) as results,
    ):
        results()


STARTS_OTHERS = """
import time
from weld_packets.commands.shared.parallel import meanwhile
with meanwhile(range(8), abs, 2) as results:
    results()
    print("started", flush=True)
    time.sleep(60)
"""


def test_other_processes_end_with_the_one_that_started_them_though_it_is_killed() -> None:
    with subprocess.Popen([sys.executable, "-c", STARTS_OTHERS], stdout=subprocess.PIPE, text=True) as starter:
        assert starter.stdout is not None
        assert starter.stdout.readline() == "started\n"
        starter.kill()
        assert starter.communicate(timeout=30) == ("", None)  # which every process that is left would hold open


def test_what_nobody_waits_for_any_more_is_not_worked_on(tmp_path: Path) -> None:
    found = parallel.for_each([tmp_path / str(number) for number in range(400)], noted, 2)
    next(found)
    found.close()  # type: ignore[attr-defined]
    assert len(list(tmp_path.iterdir())) < 400


def noted(path: Path) -> None:
    time.sleep(0.01)
    path.touch()


INTERRUPTED = """
import sys
import time
from weld_packets import commands
from weld_packets.__main__ import start
from weld_packets.commands.shared.parallel import for_each

def slow(number):
    print("at work", flush=True)
    time.sleep(1)

def many(arguments=None):
    try:
        list(for_each(range(8), slow, 2))
    except KeyboardInterrupt as error:
        return commands.report(error, debug=False)

commands.main = many
sys.exit(start())
"""


IN_FOREGROUND = "import signal; signal.signal(signal.SIGINT, signal.default_int_handler)\n"
"""What a program does not ignore that a terminal starts; these tests may run in the background, where it would."""


def test_ctrl_c_stops_every_process_with_one_word_and_the_status_that_shells_give_it() -> None:
    with subprocess.Popen(
        [sys.executable, "-c", IN_FOREGROUND + INTERRUPTED],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as started:
        assert started.stdout is not None
        assert started.stdout.readline().startswith("at work")  # two of them may say it at once
        os.killpg(started.pid, signal.SIGINT)  # as a terminal does: to all of them
        _, errors = started.communicate(timeout=30)
        assert (started.returncode, errors) == (130, "stopped\n")


BEFORE_AND_AFTER = """
import signal, sys, types
from weld_packets.__main__ import start

class Commands(types.ModuleType):
    def __getattr__(self, name):
        if sys.argv[1] == "before":
            signal.raise_signal(signal.SIGINT)
        return lambda: 0

sys.modules["weld_packets.commands"] = Commands("weld_packets.commands")
start()
signal.raise_signal(signal.SIGINT)
"""


@pytest.mark.parametrize("when", ["before", "after"])
def test_ctrl_c_before_and_after_a_command_shows_no_traceback(when: str) -> None:
    """While the command line is loaded, and once the command has returned."""
    words = [sys.executable, "-c", IN_FOREGROUND + BEFORE_AND_AFTER, when]
    ended = subprocess.run(words, capture_output=True, text=True, check=False)
    assert (ended.returncode, ended.stderr) == (-signal.SIGINT, "")


def test_a_command_that_runs_unattended_goes_on_to_ignore_ctrl_c() -> None:
    program = f"import signal; signal.signal(signal.SIGINT, signal.SIG_IGN)\n{BEFORE_AND_AFTER}"
    ended = subprocess.run([sys.executable, "-c", program, "before"], capture_output=True, text=True, check=False)
    assert (ended.returncode, ended.stderr) == (0, "")
