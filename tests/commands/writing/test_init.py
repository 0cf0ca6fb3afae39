"""A plant that is started checks and builds at once, whatever was chosen; nothing in it is approved."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from itertools import product
from pathlib import Path
from typing import Any, get_args

import pytest
import yaml
from weld_packets.commands import main
from weld_packets.commands.writing.init import Welded, starter_files, write_plant
from weld_packets.revisions.register.entries import RUNS, SET_UPS
from weld_packets.sources.tables.tables import load_workspace

ROOT = Path(__file__).resolve().parents[3]
CHOICES = list(product(("metric", "US customary"), ("arc", "spot", "both"), ("50", "60")))
ORDER = "instructions/sr-1-seed-tray-rack/order.yaml"


@pytest.fixture
def start(tmp_path: Path) -> Callable[..., Path]:
    """Starts a plant with what is chosen and returns its folder."""

    def started(*choices: str) -> Path:
        assert main(["init", str(tmp_path / "plant"), *choices]) == 0
        return tmp_path / "plant"

    return started


@pytest.mark.parametrize(("units", "weld", "mains"), CHOICES)
def test_a_new_plant_checks_with_every_choice_and_no_table_of_it_is_approved(
    start: Callable[..., Path], capsys: Any, units: str, weld: str, mains: str
) -> None:
    plant = start("--units", units, "--weld", weld, "--mains", mains)
    capsys.readouterr()
    assert main(["--root", str(plant), "check"]) == 0
    printed = capsys.readouterr().out
    (bar,) = re.findall(r"cannot be released yet: (\d+) tables are not approved: (.*)", printed)
    operations = "2 operations" if weld == "both" else "1 operation"
    assert f"sr-1-seed-tray-rack: OK, {operations}, digest " in printed
    assert int(bar[0]) == len(bar[1].split(", ")) >= 9
    tables = load_workspace(plant).approved.tables
    assert [name for name, table in tables.items() if table.approved] == []


@pytest.mark.parametrize(
    ("units", "weld", "mains"),
    [("metric", "arc", "60"), ("metric", "spot", "50"), ("US customary", "arc", "50"), ("US customary", "spot", "60")],
)
def test_a_new_plant_builds_with_each_choice(
    start: Callable[..., Path], capsys: Any, units: str, weld: str, mains: str
) -> None:
    plant = start("--units", units, "--weld", weld, "--mains", mains)
    assert main(["--root", str(plant), "build"]) == 0
    assert "built 1, unchanged 0" in capsys.readouterr().out
    page = (plant / "site" / "sr-1-seed-tray-rack" / "operation-1.html").read_text("utf-8")
    assert "W1A" in page or weld == "spot"


@pytest.mark.parametrize(
    ("weld", "own", "other"),
    [("arc", "reinforcement", "cap change after"), ("spot", "cap change after", "reinforcement")],
)
def test_a_plant_that_welds_one_way_is_asked_for_the_keys_of_that_way_alone(
    start: Callable[..., Path], capsys: Any, weld: str, own: str, other: str
) -> None:
    plant = start("--weld", weld)
    table = plant / "tables" / "plant.yaml"
    text = table.read_text("utf-8")
    assert f"\n{own}: " in text
    assert f"\n{other}: " not in text
    table.write_text(
        "".join(line for line in text.splitlines(keepends=True) if not line.startswith(f"{own}: ")), "utf-8"
    )
    capsys.readouterr()
    assert main(["--root", str(plant), "check"]) == 1
    message = capsys.readouterr().err
    assert f"plant.yaml:1: {own}\n    the key {own!r} is missing" in message
    assert message.endswith("1 problem\n")


def test_the_rules_of_a_plant_that_welds_one_way_name_nothing_of_the_other() -> None:
    rules = {weld: starter_files("metric", weld, "50")["tables/plant.yaml"] for weld in get_args(Welded)}
    of_arc = {
        "seam tolerance",
        "size margin",
        "root gap",
        "closed seam overlap",
        "wire change time",
        "duty planning share",
    }
    of_spot = {"set up weld diameter", "cap face at most", "squeeze servo", "visible indentation", "cap change after"}
    held = {weld: set(yaml.safe_load(text)) & (of_arc | of_spot) for weld, text in rules.items()}
    assert held == {"arc": of_arc, "spot": of_spot, "both": of_arc | of_spot}


def test_both_ways_of_welding_are_chosen_by_naming_both(start: Callable[..., Path]) -> None:
    kinds = {table.kind for table in load_workspace(start("--weld", "arc", "--weld", "spot")).approved.tables.values()}
    assert {"wires", "caps"} <= kinds


def test_a_plant_that_welds_one_way_has_no_table_of_the_other(start: Callable[..., Path]) -> None:
    arc = {getattr(table, "kind", "") for table in load_workspace(start("--weld", "arc")).approved.tables.values()}
    assert {"arc chart", "wires", "gases", "shades"} <= arc
    assert not arc & {"caps", "spot chart", "spot spacing"}


def test_the_mains_of_a_us_plant_are_60_hz_unless_another_is_chosen(start: Callable[..., Path]) -> None:
    cells = load_workspace(start("--units", "us customary")).approved.cells
    assert {str(cell.mains) for cell in cells.values()} == {"60.0 hertz"}


def test_the_safety_tables_say_that_the_plant_must_make_them_its_own() -> None:
    files = starter_files("metric", "both", "50")
    for name in ("hazards", "shades"):
        assert files[f"tables/{name}.yaml"].startswith("# STARTING TEXT that came with the program and that nobody has")
        assert "The plant must make it its own" in files[f"tables/{name}.yaml"]


def _general(table: Any) -> list[dict[str, str]]:
    """Return the entries of a table without who timed a check: the demo's plant did, a new one has an example."""
    return [{key: value for key, value in entry.items() if key != "stops cell source"} for entry in table["entries"]]


def test_what_is_general_in_a_new_plant_is_what_the_demo_says() -> None:
    """One fact, two tables: an entry that both have must not differ."""
    files = starter_files("metric", "both", "50")
    compared = 0
    for name in ("hazards", "faults", "inspections", "limits", "imperfections", "caps"):
        ours = _general(yaml.safe_load(files[f"tables/{name}.yaml"]))
        demo = _general(yaml.safe_load((ROOT / "tables" / f"{name}.yaml").read_text("utf-8")))
        assert [entry for entry in ours if entry not in demo] == []
        compared += len(ours)
    assert compared > 80
    for name in ("shades", "spacing_low_carbon", "spacing_metric", "spot_uncoated", "spot_uncoated_points"):
        demo = yaml.safe_load((ROOT / "tables" / f"{name}.yaml").read_text("utf-8"))
        assert yaml.safe_load(files[f"tables/{name}.yaml"])["rows"] == demo["rows"]
    demo = yaml.safe_load((ROOT / "tables" / "arc_co2_fillet_1_0.yaml").read_text("utf-8"))
    assert yaml.safe_load(files["tables/arc_co2_fillet_1_0.yaml"])["rows"] == demo["rows"]


def test_a_plant_is_not_started_over_another(workshop: Path, run: Callable[..., Any]) -> None:
    before = {path: path.read_bytes() for path in workshop.rglob("*") if path.is_file()}
    answer = run("init", str(workshop))
    assert answer.status == 1
    assert "there is a plant here already" in answer.errors
    assert {path: path.read_bytes() for path in workshop.rglob("*") if path.is_file()} == before


def test_a_file_of_git_that_is_there_stays_as_it_is_and_what_it_lacks_is_said(
    tmp_path: Path, start: Callable[..., Path], capsys: Any
) -> None:
    kept = tmp_path / "plant" / ".gitignore"
    kept.parent.mkdir()
    kept.write_text("mine\n/site/\n", "utf-8")
    assert "instructions/*/released/** -text\n" in (start() / ".gitattributes").read_text("utf-8")
    assert kept.read_text("utf-8") == "mine\n/site/\n"
    said = capsys.readouterr().out
    assert f"left {kept} as it was; add to it:\n    /.editor/\n    /*.zip\nnext: " in said
    assert f"wrote {kept}" not in said
    assert f"wrote {kept.with_name('.gitattributes')}" in said


@pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")
def test_git_changes_no_line_end_of_what_is_compared_byte_by_byte(start: Callable[..., Path]) -> None:
    """On Windows git would write CRLF into a record of a set-up, and verify would call it altered."""
    plant = start()
    subprocess.run(["git", "init", "-q", str(plant)], check=True)
    kept = [f"instructions/o-1/{folder}/a.json" for folder in ("released", "proposed", SET_UPS, RUNS)]
    kept += ["instructions/register/a.json", "instructions/register/tables/a.json", "instructions/keys/a.pub"]
    command = ["git", "-C", str(plant), "check-attr", "text", "--", *kept]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()
    assert said == [f"{name}: text: unset" for name in kept]


def test_a_file_in_the_place_of_the_folder_is_a_usage_error(tmp_path: Path, run: Callable[..., Any]) -> None:
    (tmp_path / "file").write_text("x")
    assert run("init", str(tmp_path / "file")).status == 2


def test_the_former_name_of_the_command_names_the_new_one(run: Callable[..., Any]) -> None:
    answer = run("new", "plant")
    assert answer.status == 2
    assert "did you mean 'init'?" in answer.errors


def test_an_operation_asks_for_the_kinds_of_table_that_it_needs(start: Callable[..., Path], capsys: Any) -> None:
    plant = start("--weld", "spot")
    order = plant / ORDER
    order.write_text(order.read_text("utf-8").replace('process: "21" ', 'process: "135" '), encoding="utf-8")
    capsys.readouterr()
    assert main(["--root", str(plant), "check"]) == 1
    message = capsys.readouterr().err
    listed = " and of ".join(f"kind '{kind}'" for kind in ("arc chart", "wires", "gases", "shades", "imperfections"))
    assert f"operations[0].process = '135'\n    process 135 needs a table of {listed}, and tables/ has none" in message


def test_an_operation_does_not_ask_for_a_kind_of_another_process(start: Callable[..., Path]) -> None:
    plant = start("--weld", "arc")
    assert not (plant / "tables" / "caps.yaml").exists()
    assert main(["--root", str(plant), "check"]) == 0


def test_a_start_that_is_stopped_leaves_no_half_plant(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = Path.write_text

    def stopped(path: Path, *words: Any, **more: Any) -> int:
        if path.name == "plant.yaml":
            raise KeyboardInterrupt
        return whole(path, *words, **more)

    monkeypatch.setattr(Path, "write_text", stopped)
    with pytest.raises((KeyboardInterrupt, SystemExit)):
        list(write_plant(tmp_path / "plant", starter_files("metric", "both", "50")))
    assert list((tmp_path / "plant").iterdir()) == []
    monkeypatch.undo()
    assert main(["init", str(tmp_path / "plant")]) == 0


@pytest.mark.parametrize("name", ["tables", "instructions"])
def test_what_is_there_in_place_of_a_folder_is_not_replaced(tmp_path: Path, capsys: Any, name: str) -> None:
    (tmp_path / name).write_text("notes")
    assert main(["init", str(tmp_path)]) == 1
    assert "there is a plant here already" in capsys.readouterr().err
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {name: "notes"}


def test_what_a_killed_beginning_left_is_removed_by_the_next_and_what_another_makes_is_not(tmp_path: Path) -> None:
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    for name in (ended.pid, os.getppid(), "scripts"):
        (tmp_path / f".init.{name}").mkdir()
    assert main(["init", str(tmp_path)]) == 0
    assert {each.name for each in tmp_path.glob(".init*")} == {f".init.{os.getppid()}", ".init.scripts"}
    (tmp_path / f".init.{ended.pid}").mkdir()  # of one that was killed when all was in place
    assert main(["init", str(tmp_path)]) == 1
    assert not (tmp_path / f".init.{ended.pid}").exists()


def test_where_orders_are_in_place_the_plant_is_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rename, there = Path.rename, list[set[str]]()

    def noted(path: Path, target: Path) -> Path:
        there.append({each.name for each in tmp_path.iterdir()} - {path.parent.name})
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", noted)
    assert main(["init", str(tmp_path)]) == 0
    assert there[-1] == {".gitignore", ".gitattributes", "tables"}
