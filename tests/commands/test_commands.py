"""Clumsy words, bad places, poor terminals: what the command answers."""

import errno
import io
import json
import re
import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest
from weld_packets import commands
from weld_packets.commands.shared.failures import problem_of
from weld_packets.errors import PacketError, Problem

COMMANDS = sorted(
    path.stem.replace("_", "-")
    for path in Path(commands.__file__).parent.glob("*/[!_]*.py")
    if path.parent.name != "shared"
)


@pytest.mark.parametrize(
    "words",
    [
        ["bild"],
        ["settings"],
        ["build", "--nope"],
        ["serve", "wo-1", "--port", "65536"],
        ["serve", "wo-1", "--port", "0"],
        ["serve", "wo-1", "--port", "-1"],
        ["as-of", "wo-1", "31.2.2026"],
        ["as-of", "wo-1", "2026-W01-1"],
        ["bench", "--orders", "0"],
    ],
)
def test_a_wrong_command_line_is_answered_with_the_usage(run: Callable[..., Any], words: list[str]) -> None:
    answer = run(*words)
    assert answer.status == 2
    assert answer.errors.startswith("usage error: ")
    assert "    packets " in answer.errors
    assert answer.errors.endswith(" --help explains it\n")


@pytest.mark.parametrize(("words", "nearest"), [(["bild"], "'build'"), (["build", "--al"], "'--all'")])
def test_an_unknown_name_is_answered_with_the_nearest(run: Callable[..., Any], words: list[str], nearest: str) -> None:
    assert nearest in run(*words).errors


def test_a_key_without_its_private_half_is_a_usage_error(run: Callable[..., Any], first_issue: tuple[str, ...]) -> None:
    answer = run("withdraw", "wo-1", "A", *first_issue, "--key", "plant")
    assert (answer.status, answer.errors.splitlines()[0]) == (2, "usage error: --key and --private go together")


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_explains_itself(run: Callable[..., Any], name: str) -> None:
    answer = run(name, "--help")
    assert (answer.status, answer.errors) == (0, "")
    assert f"Usage: packets {name}" in answer.out


def test_the_help_lists_every_file_of_a_command_once_with_its_first_line_under_the_title_of_its_folder(
    run: Callable[..., Any],
) -> None:
    _usage, _purpose, _options, *sections = run("--help").out.split("\n\n")
    listed = [line for section in sections for line in section.splitlines()[1:]]
    assert sorted(line.split()[0] for line in listed) == COMMANDS
    [looking_up] = [section for section in sections if section.startswith("Look up what was released:\n")]
    assert re.search(r"^  as-of +Print which revision was in force on a date\.$", looking_up, re.MULTILINE)


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "instructions/README.md", "tables/README.md"])
def test_the_commands_and_options_of_a_page_are_there(run: Callable[..., Any], page: str) -> None:
    text = (Path(__file__).parents[2] / page).read_text("utf-8")
    calls = re.findall(r"(?:`|bin/)packets ([a-z][a-z-]*)((?:\\\n|[^`\n#])*)", text)
    assert calls
    for name, rest in calls:
        explained = run(name, "--help").out
        assert explained, name
        assert [option for option in re.findall(r"--[a-z]+", rest) if option not in explained] == []


def test_the_module_starts_as_the_console_script_does(workshop: Path) -> None:
    command = [sys.executable, "-m", "weld_packets", "--root", str(workshop), "history", "wo-2"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, "did you mean 'wo-1'?" in done.stderr) == (1, True)


def test_an_internal_error_is_called_so_and_shows_its_place_on_demand(
    run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("deep inside")

    monkeypatch.setattr("weld_packets.commands.writing.check.check", broken)
    answer = run("check")
    assert answer.status == 3
    assert answer.errors.startswith("internal error, not a mistake in your files: ZeroDivisionError: deep inside\n")
    assert "Traceback" not in answer.errors
    assert "Traceback" in run("--debug", "check").errors


@pytest.fixture
def failing(run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> Callable[[BaseException], Any]:
    """Answers to a check that ends with the error given."""

    def answer(error: BaseException) -> Any:
        def fail(*_: object, **__: object) -> None:
            raise error

        monkeypatch.setattr("weld_packets.commands.writing.check.check", fail)
        return run("check")

    return answer


def test_the_first_fifty_of_many_problems_are_printed_and_all_are_counted(failing: Callable[..., Any]) -> None:
    problems = [Problem("order.yaml", number, "", "", f"fault {number}", "correct it") for number in range(1, 52)]
    answer = failing(PacketError(problems))
    assert answer.status == 1
    assert "fault 50\n" in answer.errors
    assert "fault 51\n" not in answer.errors
    assert answer.errors.endswith("... and 1 more\n51 problems\n")


def test_one_problem_is_counted_as_one(failing: Callable[..., Any]) -> None:
    assert failing(PacketError([Problem("a", 0, "", "", "b", "c")])).errors == "a:\n    b\n    -> c\n1 problem\n"


def test_an_interrupt_ends_a_command_without_more_words(failing: Callable[..., Any]) -> None:
    answer = failing(KeyboardInterrupt())
    assert (answer.status, answer.errors) == (130, "stopped\n")


def test_a_full_disk_is_a_problem_with_its_file_and_what_to_do(failing: Callable[..., Any]) -> None:
    answer = failing(OSError(errno.ENOSPC, "No space left on device", "site/x.html"))
    assert answer.status == 1
    assert answer.errors.startswith("site/x.html:\n    failed: No space left on device\n    -> free some space")


def test_a_plant_without_orders_is_built_as_an_empty_list(run: Callable[..., Any], workshop: Path) -> None:
    (workshop / "instructions" / "wo-1").rename(workshop / "wo-1")
    answer = run("build")
    assert (answer.status, answer.out.splitlines()[0]) == (0, "built 0, unchanged 0")
    assert (workshop / "site" / "index.html").is_file()


@pytest.mark.parametrize("command", ["check", "settings", "build", "history", "export"])
def test_an_order_that_is_not_there_is_reported(run: Callable[..., Any], command: str) -> None:
    answer = run(command, "wo-2")
    assert answer.status == 1
    assert "wo-2" in answer.errors
    assert "did you mean 'wo-1'?" in answer.errors


def test_check_shows_which_table_bars_the_release(workshop: Path, run: Callable[..., Any]) -> None:
    assert "cannot be released" not in run("check").out
    machines = workshop / "tables" / "machines.yaml"
    approved = next(line for line in machines.read_text("utf-8").splitlines() if line.startswith("approved: "))
    machines.write_text(machines.read_text("utf-8").replace(f"{approved}\n", ""), "utf-8")
    answer = run("check")
    assert answer.status == 0
    assert re.search(
        r"wo-1: cannot be released yet: table machines, revision [A-Z], is not approved; "
        r"have it approved: packets approve machines\n",
        answer.out,
    )


def test_a_folder_that_is_not_a_plants_is_reported(tmp_path: Path, run: Callable[..., Any]) -> None:
    answer = run("--root", str(tmp_path), "check")
    assert answer.status == 1
    assert "this is not a plant's folder" in answer.errors


@pytest.mark.parametrize("target", ["nowhere/x.zip", ".", "instructions/wo-1/x.zip", "tables/machines.yaml"])
def test_an_export_to_a_bad_place_is_refused(workshop: Path, run: Callable[..., Any], target: str) -> None:
    answer = run("export", "wo-1", "--to", str(workshop / target))
    assert answer.status == 1
    assert "-> name a file" in answer.errors
    assert not (workshop / "site").exists()


@pytest.mark.parametrize("epoch", ["", "4500000000"])
def test_an_export_does_not_depend_on_the_clock(
    workshop: Path, run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, epoch: str
) -> None:
    """Set to nothing, the variable means nothing; 2112 is after the last year that a zip file can name."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    folder = workshop.parent / "stick"
    folder.mkdir()
    assert run("export", "wo-1", "--to", str(folder / "wo-1.zip")).status == 0
    assert [path.name for path in folder.iterdir()] == ["wo-1.zip"]


def test_a_busy_port_is_reported_as_that() -> None:
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


def test_the_settings_for_an_editor_name_schemas_that_are_there(run: Callable[..., Any]) -> None:
    settings = json.loads(run("schemas").out)["yaml.schemas"]
    assert list(settings.values()) == ["instructions/*/order.yaml", "tables/*.yaml"]
    for address in settings:
        assert json.loads(Path(unquote(urlsplit(address).path)).read_text("utf-8"))["$schema"]
