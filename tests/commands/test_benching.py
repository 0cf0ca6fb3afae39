"""The benchmark measures what it says: real orders, which differ as those of a plant do."""

from __future__ import annotations

from pathlib import Path

import pytest
from weld_packets.commands.bench import Figure, generate
from weld_packets.commands.shared.drafts import draft
from weld_packets.commands.shared.orders import open_workspace
from weld_packets.errors import SourceError
from weld_packets.model.order import ArcOperation, SpotOperation
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.sources.orders.orders import load_order

ROOT = Path(__file__).parents[2]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    order = tmp_path / "work" / "instructions" / "one"
    (order / "released").mkdir(parents=True)
    (order / "order.yaml").write_text("order: LK-1\ntitle: order: x\n")
    (order / "points.csv").write_text("x,y\n")
    for folder in ("tables", "site_overrides"):
        (tmp_path / "work" / folder).mkdir()
    (tmp_path / "work" / "mkdocs.yml").write_text("site_name: x\n")
    return tmp_path / "work"


def test_each_generated_order_has_its_own_number_and_all_its_files(root: Path, tmp_path: Path) -> None:
    generate(root, tmp_path / "many", 3)
    orders = sorted((tmp_path / "many" / "instructions").iterdir())
    assert [order.name for order in orders] == ["bench-00000", "bench-00001", "bench-00002"]
    assert (orders[2] / "order.yaml").read_text() == "order: BENCH-00002\ntitle: order: x\n"
    assert (orders[2] / "points.csv").is_file()
    assert not (orders[2] / "released").exists()


def test_no_two_generated_orders_share_a_part_a_pattern_a_program_or_a_map(tmp_path: Path) -> None:
    """Else what is kept of one order would answer for the next, and the figures would be too good."""
    generate(ROOT, tmp_path, 6)
    workspace = open_workspace(tmp_path)
    names = order_names(tmp_path)
    assert len(names) == 6
    seen: dict[str, str] = {}
    for name in names:
        order = load_order(workspace, name).order
        arc, spot = order.operations
        assert isinstance(arc, ArcOperation)
        assert isinstance(spot, SpotOperation)
        pictures = [picture for operation in draft(workspace, name).operations for picture in operation.pictures]
        maps = [
            picture for picture in pictures if not picture.key.endswith("torch")
        ]  # an attitude goes by joint and size
        assert len(maps) >= 4
        found = [
            f"sheets {[part.thickness for part in arc.parts]}",
            f"outlines {arc.components[0].outlines}",
            f"paths {[seam.path for seam in arc.seams]}",
            f"seams {[seam.id for seam in arc.seams]}",
            f"spots {[each.id for each in spot.spots]}",
            f"points {[(each.x, each.y, each.z) for each in spot.spots]}",
            *(f"{robot} {number}" for operation in order.operations for robot, number in operation.programs.items()),
            *(
                f"{robot} {program}"
                for operation in order.operations
                for robot in operation.robots
                for _, program in operation.coupon_programs_of(robot)
            ),
            *(picture.svg for picture in maps),
        ]
        assert {each: seen[each] for each in found if each in seen} == {}
        seen |= dict.fromkeys(found, name)


def test_orders_that_stand_are_left_alone_when_more_are_generated(root: Path, tmp_path: Path) -> None:
    generate(root, tmp_path / "many", 1)
    marked = tmp_path / "many" / "instructions" / "bench-00000" / "order.yaml"
    marked.write_text("changed")
    generate(root, tmp_path / "many", 2)
    assert marked.read_text() == "changed"


def test_a_workspace_without_orders_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match="no order to copy"):
        generate(tmp_path, tmp_path / "many", 1)


def test_a_figure_reads_as_one_line() -> None:
    assert str(Figure("ratio", 0.2, "", "at most 0.25")).split() == ["ratio", "0.200", "(at", "most", "0.25)"]
