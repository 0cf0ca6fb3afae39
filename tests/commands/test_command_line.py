"""The command line itself: help with examples, order numbers, JSON, short lists of changes, completion."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
import pytest
from weld_packets.commands import main, packets
from weld_packets.commands.shared.order_argument import folder_of
from weld_packets.commands.shared.shown_changes import changed_lines, changes_data
from weld_packets.errors import SourceError
from weld_packets.revisions.differences.changes import Altered, SettingChanged, TableRevisionCited

ROOT = Path(__file__).resolve().parents[2]
Run = Callable[..., Any]
COMMANDS = packets.list_commands(click.Context(packets))


def every_command() -> list[tuple[str, click.Command]]:
    """Each command, and each command of a group, by the words that call it."""
    found: list[tuple[str, click.Command]] = []
    for name in COMMANDS:
        command = packets.get_command(click.Context(packets), name)
        inner = command.commands if isinstance(command, click.Group) else {}
        found += [(f"{name} {word}", each) for word, each in inner.items()] or [(name, command)]
    return found


@pytest.mark.parametrize(("words", "command"), every_command(), ids=[words for words, _ in every_command()])
def test_the_help_of_a_command_says_what_each_argument_is_and_has_an_example(
    words: str, command: click.Command
) -> None:
    text = command.help or ""
    of_group = sys.modules[command.callback.__module__].__doc__ or ""
    assert f"Example: packets {words.split(maxsplit=1)[0]}" in text + of_group
    for parameter in command.params:
        if isinstance(parameter, click.Argument):
            word = re.sub(r"[^A-Z]", "", parameter.metavar or "")
            assert re.search(rf"\b{word}\b", text + of_group), f"{words} says nothing of {word}"
        elif isinstance(parameter, click.Option):
            assert parameter.help, f"{words} {parameter.name}"


def test_an_order_may_be_named_by_its_number_in_any_letters(run: Run) -> None:
    by_folder = run("check", "wo-1", "--json").out
    assert json.loads(by_folder)["orders"][0]["number"] == "T-1"
    assert run("check", "T-1", "--json").out == by_folder
    assert run("settings", "t-1").status == 0


def test_the_beginning_of_a_name_is_no_name_and_a_number_of_two_orders_is_none(workshop: Path) -> None:
    other = workshop / "instructions" / "wo-1-again"
    other.mkdir()
    (other / "order.yaml").write_text('order: "T-1"   # the same\n')
    with pytest.raises(SourceError, match="write the folder: wo-1, wo-1-again"):
        folder_of(workshop, "T-1")
    (workshop / "instructions" / "wo-1").rename(workshop / "instructions" / "wo-2-door")
    (workshop / "instructions" / "wo-2-door" / "order.yaml").write_text("order: T-2\n")
    with pytest.raises(SourceError, match="did you mean wo-2-door"):
        folder_of(workshop, "WO-2")
    assert folder_of(workshop, "none") == "none"


SET = SettingChanged(("operation 1",), (("operations", "1", "groups", "g", "dialled"),), "Weld time", "11", "12", ())
PROGRAM = Altered(
    ("operation 1",), (("operations", "1", "programs", "R1", "number"),), "program of R1", "P709B", "P710B"
)
TEXT = Altered(("operation 1", "note"), (("operations", "1", "notes"),), "note", "a", "b")
CITED = TableRevisionCited((), (("operations", "1", "x"),), ("table spot A -> B",))


def test_a_list_of_changes_is_what_leads_in_words_and_counts_of_the_rest() -> None:
    assert changed_lines([SET, PROGRAM, TEXT, CITED], full=False) == (
        "operation 1: Weld time 11 -> 12",
        "operation 1: program of R1 P709B -> P710B",
        "besides: texts, ranges and what follows (1); tables and calculations (1): --full lists them",
    )
    assert len(changed_lines([SET, TEXT, CITED], full=True)) == 3
    assert changed_lines([], full=False) == ()


def test_a_revision_in_which_nothing_that_leads_changed_says_so_first() -> None:
    assert changed_lines([CITED], full=False)[0] == "no setting, weld, program or limit of acceptance changed"


def test_changes_as_data_have_their_class_and_values() -> None:
    first, second = changes_data([SET, CITED])
    assert (first["class"], first["label"], first["before"], first["after"]) == ("settings", "Weld time", "11", "12")
    assert (second["class"], second["kind"]) == ("tables and calculations", "TableRevisionCited")


def test_json_of_a_faulty_order_has_its_problems_and_the_status_of_a_fault(workshop: Path, run: Run) -> None:
    path = workshop / "instructions" / "wo-1" / "order.yaml"
    path.write_text(path.read_text("utf-8").replace("quantity: 20", "quantity: many"), encoding="utf-8")
    answer = run("check", "--json")
    [problem] = json.loads(answer.out)["problems"]
    assert answer.status == 1
    assert (problem["file"], problem["line"], problem["value"]) == ("instructions/wo-1/order.yaml", 5, "many")


@pytest.mark.parametrize("words", [("history", "wo-1"), ("impact",), ("verify",)])
def test_commands_that_look_back_print_json(run: Run, words: tuple[str, ...]) -> None:
    answer = run(*words, "--json")
    assert answer.status == 0
    found = json.loads(answer.out)
    assert found == [] if words[0] != "verify" else found["findings"] == []


REFUSED = [
    ("settings", "no-such-order"), ("diff", "wo-1", "A"), ("history", "no-such-order"),
    ("proposals", "no-such-order"), ("records", "list", "no-such-order"), ("tables", "show", "no-such-table"),
    ("nonconformity", "list", "no-such-order"),
]  # fmt: skip


@pytest.mark.parametrize("words", REFUSED, ids=" ".join)
def test_a_refusal_of_a_command_that_prints_json_is_one_document_and_in_words_besides(
    run: Run, words: tuple[str, ...]
) -> None:
    answer = run(*words, "--json")
    (problem,) = json.loads(answer.out)["problems"]
    assert answer.status == 1
    assert set(problem) == {"file", "line", "key", "value", "message", "remedy"}
    assert problem["message"] in answer.errors
    assert run(*words).out == ""


def test_a_refusal_is_json_only_where_the_option_was_given(run: Run) -> None:
    given = ("--author", "a", "--by", "b", "--reason", "--json")  # a value that looks like the option
    answer = run("approve", "no-such-table", *given)
    assert (answer.status, answer.out) == (1, "")
    assert "no-such-table" in answer.errors
    (problem,) = json.loads(run("tables", "show", "--json", "no-such-table").out)["problems"]
    assert problem["value"] == "no-such-table"
    assert run("tables", "show", "no-such-table").out == ""


@pytest.mark.parametrize("words", [("check",), ("settings", "wo-1"), ("impact",)], ids=" ".join)
def test_tables_that_are_wrong_are_problems_in_json(workshop: Path, run: Run, words: tuple[str, ...]) -> None:
    shades = workshop / "tables" / "shades.yaml"
    shades.write_text(shades.read_text("utf-8").replace("kind: shades", "kind: shadez"), encoding="utf-8")
    answer = run(*words, "--json")
    assert (answer.status, json.loads(answer.out)["problems"][0]["value"]) == (1, "shadez")


EMPTY = [
    ("--root", "", "check"), ("init", ""), ("export", "wo-1", "--to", ""), ("key", "k", "--private", ""),
    ("records", "add", ""), ("tables", "export", "wires", ""), ("tables", "import", "wires", ""),
]  # fmt: skip


@pytest.mark.parametrize("words", EMPTY, ids=" ".join)
def test_an_empty_name_of_a_file_or_folder_does_not_mean_the_folder_at_hand(
    workshop: Path, run: Run, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.chdir(workshop)
    before = sorted(workshop.rglob("*"))
    answer = run(*words)
    assert (answer.status, "it is empty" in answer.errors) == (2, True)
    assert sorted(workshop.rglob("*")) == before


LOOPS = [
    ("--root", "loop", "check"), ("init", "loop/x"), ("export", "wo-1", "--to", "loop/x"),
    ("key", "k", "--private", "loop/x"), ("records", "add", "loop"), ("tables", "import", "spot-uncoated", "loop"),
]  # fmt: skip


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
@pytest.mark.parametrize("words", LOOPS, ids=" ".join)
def test_links_that_lead_in_a_ring_are_named(
    workshop: Path, run: Run, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.chdir(workshop)
    (workshop / "loop").symlink_to("loop")
    answer = run(*words)
    assert (answer.status, "loop" in answer.errors, "internal error" in answer.errors) == (1, True, False)


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs a folder of the system that takes no files")
def test_a_plant_that_cannot_be_made_where_it_is_wanted_is_refused(run: Run) -> None:
    answer = run("init", "/proc/plant")
    assert (answer.status, "cannot be made there" in answer.errors) == (1, True)


def typed(*words: str) -> dict[str, str]:
    """Return the variables by which a shell asks what it may offer for the last of the words."""
    count = str(len(words))
    return {"COMP_WORDS": " ".join(("packets", *words)), "COMP_CWORD": count, "_PACKETS_COMPLETE": "bash_complete"}


def test_a_shell_completes_a_command() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "weld_packets"],
        env=os.environ | typed("as"),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.split() == ["plain,as-of"]


def test_a_shell_completes_the_folder_of_an_order(
    workshop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def completed(*words: str) -> list[str]:
        for name, value in typed(*words).items():
            monkeypatch.setenv(name, value)
        assert main([]) == 0
        return capsys.readouterr().out.split()

    shutil.copytree(workshop / "instructions/wo-1", workshop / "instructions/wo-2")
    (workshop / "instructions/wo-3").mkdir()
    for command in ("check", "history", "nonconformity list"):
        assert completed("--root", str(workshop), *command.split(), "w") == ["plain,wo-1", "plain,wo-2"]
    assert completed("--root", str(workshop), "check", "wo-1", "wo-2") == ["plain,wo-2"]
    assert completed("--root", str(workshop), "check", "x") == []
    assert completed("--root", str(tmp_path), "check", "w") == []
