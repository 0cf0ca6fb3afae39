"""What commands load before they work: half a second of pint, numpy and tables would be felt at every call."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from weld_packets.commands.writing.settings import settings_text
from weld_packets.plant import orders
from weld_packets.sources.orders.orders import SourcedOrder
from weld_packets.sources.tables.tables import Workspace

READING = (
    *("building.build", "looking_up.diff", "looking_up.history", "looking_up.as_of", "looking_up.register"),
    *("looking_up.proposals", "looking_up.where_used", "recording.nonconformity", "recording.records"),
    *("writing.settings", "writing.tables"),
)
"""Commands that only read records or digests."""


@pytest.fixture(scope="module")
def loaded_by() -> dict[str, set[str]]:
    """Return what each of them loads that those before it have not: one process loads all."""
    lines = [
        "import importlib, sys",
        f"for name in {READING}:",
        "    before = set(sys.modules)",
        "    importlib.import_module(f'weld_packets.commands.{name}')",
        "    print(name, *sys.modules.keys() - before)",
    ]
    printed = subprocess.run(
        [sys.executable, "-c", "\n".join(lines)], capture_output=True, text=True, check=True
    ).stdout
    return {command: set(loaded) for command, *loaded in map(str.split, printed.splitlines())}


@pytest.mark.parametrize("command", READING)
def test_a_command_that_only_reads_records_or_digests_loads_no_units_that_compute(
    command: str, loaded_by: dict[str, set[str]]
) -> None:
    assert f"weld_packets.commands.{command}" in loaded_by[command]
    assert {"pint", "numpy", "mkdocs", "ezdxf", "weld_packets.model.table"} & loaded_by[command] == set()


def test_verify_loads_what_builds_a_site_only_where_there_is_one() -> None:
    loaded = modules_loaded("weld_packets.commands.looking_up.verify")
    assert {"matplotlib", "mkdocs", "ezdxf", "weld_packets.diagrams"} & loaded == set()


def test_settings_without_pictures_load_nothing_that_draws_or_makes_pages() -> None:
    loaded = modules_loaded("weld_packets.plant.assembled")
    assert {"matplotlib", "mkdocs", "ezdxf", "weld_packets.diagrams", "weld_packets.site"} & loaded == set()


def test_rows_are_carried_out_and_back_without_records() -> None:
    loaded = modules_loaded("weld_packets.commands.writing.tables") | modules_loaded(
        "weld_packets.sources.tables.rows_export"
    )
    assert {"weld_packets.revisions", "weld_packets.packet", "openpyxl"} & loaded == set()


def test_a_table_that_every_process_may_use_is_carried_out_without_any_family(tmp_path: Path) -> None:
    code = (
        "import sys; from weld_packets.commands import main; status = main(sys.argv[1:]); "
        "print(status, *(name for name in sys.modules if name.endswith('.family')))"
    )
    words = ["--root", str(Path(__file__).parents[2]), "tables", "export", "spot-uncoated", str(tmp_path / "rows.csv")]
    done = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "0"


def test_settings_compute_their_own_order_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The order that ran before is computed for the changeover, which settings do not print."""
    computed: list[str] = []
    compute = orders.compute

    def counted(workspace: Workspace, sourced: SourcedOrder) -> orders.Computed:
        computed.append(sourced.name)
        return compute(workspace, sourced)

    monkeypatch.setattr(orders, "compute", counted)
    for folder in ("instructions", "tables"):
        shutil.copytree(Path(__file__).parents[2] / folder, tmp_path / folder)
    assert "LK-2055" in settings_text(tmp_path, "lk-2055-outdoor-column")
    assert computed == ["lk-2055-outdoor-column"]


def test_pictures_are_drawn_without_what_speaks_to_a_network() -> None:
    """Its parts take longer to load than a picture takes to draw."""
    assert "ssl" not in modules_loaded("weld_packets.drawing.svg")


def test_what_a_command_loads_is_not_searched_for_cycles_while_it_works() -> None:
    code = "import gc; from weld_packets.commands import packets; packets.get_command(None, 'settings')"
    printed = subprocess.run(
        [sys.executable, "-c", f"{code}; print(gc.isenabled(), len(gc.get_objects()) < gc.get_freeze_count())"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert printed.split() == ["True", "True"]


def modules_loaded(module: str) -> set[str]:
    code = f"import sys, {module}; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert module in loaded
    return set(loaded)
