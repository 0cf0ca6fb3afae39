"""Clumsy words, bad places, poor terminals: what the command answers."""

import io
import json
import re
import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands.system_errors import problem_of
from weld_packets.commands.usage import parser

COMMANDS = ["build", "check", "settings", "serve", "export", "release", "withdraw", "key", "history", "diff", "as-of"]


@pytest.mark.parametrize(
    "words",
    [
        ["bild"],
        ["settings"],
        ["build", "--nope"],
        ["serve", "wo-1", "--port", "99999"],
        ["serve", "wo-1", "--port", "-1"],
        ["as-of", "wo-1", "31.2.2026"],
        ["as-of", "wo-1", "2026-W01-1"],
        ["bench", "--orders", "0"],
    ],
)
def test_wrong_words_are_answered_with_the_usage(run: Callable[..., Any], words: list[str]) -> None:
    answer = run(*words)
    assert answer.status == 2
    assert answer.told.startswith("usage: packets")


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_explains_itself(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        parser().parse_args([command, "--help"])
    assert ended.value.code == 0
    assert f"usage: packets {command}" in capsys.readouterr().out


@pytest.mark.parametrize("command", ["check", "settings", "build", "history", "export"])
def test_an_order_that_is_not_there_is_told(run: Callable[..., Any], command: str) -> None:
    answer = run(command, "wo-2")
    assert answer.status == 1
    assert "wo-2" in answer.told
    assert "did you mean 'wo-1'?" in answer.told


def test_check_tells_which_table_bars_the_release(workshop: Path, run: Callable[..., Any]) -> None:
    assert "not to be released" not in run("check").out
    machines = workshop / "tables" / "machines.yaml"
    approved = next(line for line in machines.read_text("utf-8").splitlines() if line.startswith("approved: "))
    machines.write_text(machines.read_text("utf-8").replace(f"{approved}\n", ""), "utf-8")
    answer = run("check")
    assert answer.status == 0
    assert re.search(r"wo-1: not to be released yet: table machines, revision [A-Z], is not approved", answer.out)


def test_a_folder_that_is_no_workspace_is_told(tmp_path: Path, run: Callable[..., Any]) -> None:
    answer = run("--root", str(tmp_path), "check")
    assert answer.status == 1
    assert "this is no workspace" in answer.told


@pytest.mark.parametrize("target", ["nowhere/x.zip", "."])
def test_an_export_to_a_bad_place_is_refused(
    workshop: Path, run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, target: str
) -> None:
    monkeypatch.setattr("weld_packets.commands.exporting.build", lambda *_, **__: type("Report", (), {"problems": ()}))
    answer = run("export", "wo-1", "--to", str(workshop / target))
    assert answer.status == 1
    assert "-> name a file" in answer.told


def test_a_busy_port_is_told_as_that() -> None:
    with socket.socket() as first, socket.socket() as second:
        first.bind(("127.0.0.1", 0))
        with pytest.raises(OSError, match="in use") as caught:
            second.bind(first.getsockname())
    problem = problem_of(caught.value)
    assert problem is not None
    assert (problem.file, problem.remedy) == ("the port", "name another with --port")


def test_a_missing_file_of_the_program_is_no_fault_of_the_place() -> None:
    assert problem_of(FileNotFoundError(2, "No such file or directory")) is None


def test_a_terminal_without_the_signs_still_shows_the_settings(workshop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from weld_packets.commands import main  # noqa: PLC0415 - after the streams are in place

    for words in (["settings", "wo-1"], ["settings", "wo-1", "--json"]):
        shown = io.BytesIO()
        monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(shown, encoding="ascii"))
        assert main(["--root", str(workshop), *words]) == 0
        text = shown.getvalue().decode("ascii")
        assert "kA" in text
        if "--json" in words:
            assert json.loads(text)["operations"][1]["key"]


def test_output_that_nobody_reads_to_its_end_is_no_fault(workshop: Path) -> None:
    start = "import sys; from weld_packets.commands import main; sys.exit(main())"
    command = [sys.executable, "-c", start, "--root", str(workshop), "settings", "wo-1", "--json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.read(1)
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait() == 0
