"""An internal error at one order does not stop the work on the others, and is reported as one."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable
from errno import ENOSPC
from pathlib import Path
from typing import Any

import pytest
from weld_packets.plant.drafts import Drafts


@pytest.mark.parametrize("command", ["check", "build"])
def test_an_internal_error_at_one_order_does_not_stop_the_others(
    workshop: Path, run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    shutil.copytree(workshop / "instructions" / "wo-1", workshop / "instructions" / "wo-2")
    order = workshop / "instructions" / "wo-2" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("order: T-1", "order: T-2"), "utf-8")
    genuine = Drafts.draft

    def failing(drafts: Drafts, slug: str) -> Any:
        if slug == "wo-1":
            raise ZeroDivisionError("something of ours")
        return genuine(drafts, slug)

    monkeypatch.setattr(Drafts, "draft", failing)
    answer = run(command, "--processes", "1")
    assert answer.status == 3
    assert "wo-1: internal error, not a mistake in your files: ZeroDivisionError: something of ours" in answer.errors
    assert ("wo-2: OK" in answer.out) if command == "check" else ("built 1, unchanged 0" in answer.out)


def test_a_full_disk_at_one_order_is_no_internal_error(
    run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def full(*_words: object) -> None:
        raise OSError(ENOSPC, "No space left on device")

    monkeypatch.setattr(Drafts, "draft", full)
    for words in (["build"], ["export", "wo-1", "--to", str(tmp_path / "wo-1.zip")]):
        answer = run(*words)
        assert (answer.status, "internal error" in answer.errors) == (1, False)
        assert "failed: No space left on device\n    -> free some space" in answer.errors


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("command", ["settings --json", "settings"])
def test_an_output_that_is_full_is_named_and_is_no_internal_error(workshop: Path, command: str) -> None:
    words = [sys.executable, "-m", "weld_packets", "--root", str(workshop), *command.split(), "wo-1"]
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(words, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 1
    assert done.stderr.startswith("the output:\n    failed: No space left on device\n    -> free some space")
    assert "what it recorded before is kept" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="a shell closes the streams")
@pytest.mark.parametrize("command", ["check wo-1", "settings wo-1 --json", "build wo-1"])
@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-"])
def test_a_command_does_its_work_where_its_streams_are_closed(workshop: Path, command: str, closed: str) -> None:
    line = f'exec "$0" -m weld_packets --root "$1" {command} {closed}'
    done = subprocess.run(["/bin/sh", "-c", line, sys.executable, workshop], capture_output=True, check=False)
    assert (done.returncode, b"Traceback" in done.stderr) == (0, False)
    assert (workshop / "site/wo-1/index.html").exists() == command.startswith("build")
