"""A plant's folder is started with a file for each kind of table, and nothing in it is changed by a second start."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from weld_packets.commands import main
from weld_packets.model.approved_tables import TABLE_KINDS


def test_a_new_plant_has_a_file_to_fill_in_for_each_kind_of_table(run: Callable[..., Any], tmp_path: Path) -> None:
    plant = tmp_path / "new" / "plant"
    assert run("new", str(plant)).status == 0
    kinds = [path.read_text("utf-8").splitlines()[1] for path in (plant / "tables").glob("*.yaml")]
    assert sorted(kinds) == sorted(f"kind: {kind}" for kind in TABLE_KINDS)
    assert "/site/\n" in (plant / ".gitignore").read_text("utf-8")
    assert "instructions/*/released/** -text\n" in (plant / ".gitattributes").read_text("utf-8")


def test_what_is_left_to_fill_in_is_named_and_no_kind_is_missing(
    tmp_path: Path, capsys: Any, run: Callable[..., Any]
) -> None:
    run("new", str(tmp_path / "plant"))
    assert main(["--root", str(tmp_path / "plant"), "check"]) == 1
    told = capsys.readouterr().err
    assert "tables/machines.yaml:3: title\n" in told
    assert "there is no table of kind" not in told


def test_a_second_start_changes_nothing(workshop: Path, run: Callable[..., Any]) -> None:
    before = {path: path.read_bytes() for path in workshop.rglob("*") if path.is_file()}
    run("new", str(workshop))
    answer = run("new", str(workshop))
    assert [line for line in answer.out.splitlines() if line.startswith("wrote")] == []
    assert {path: path.read_bytes() for path in before} == before


def test_a_file_in_the_place_of_the_folder_is_a_usage_error(tmp_path: Path, run: Callable[..., Any]) -> None:
    (tmp_path / "file").write_text("x")
    assert run("new", str(tmp_path / "file")).status == 2
