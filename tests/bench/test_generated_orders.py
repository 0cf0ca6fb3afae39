"""The benchmark measures what it says: real orders, which differ as those of a plant do."""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path
from types import ModuleType

from weld_packets.commands.shared.sites.worker import Worker
from weld_packets.plant.drafts import draft
from weld_packets.plant.orders import open_workspace
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.sources.orders.orders import load_order


def test_no_two_generated_orders_share_a_component_a_pattern_a_program_or_a_map(
    making: ModuleType, tmp_path: Path
) -> None:
    """Else what is kept of one order would answer for the next, and the figures would be too good."""
    making.make(tmp_path, 5)
    workspace = open_workspace(tmp_path)
    names = order_names(tmp_path)
    assert names == tuple(f"bench-{number:05}" for number in range(5))
    seen: dict[str, str] = {}
    for name in names:
        order = load_order(workspace, name).order
        assert [type(each) for each in order.operations] == [ArcOperation, ArcOperation, SpotOperation]
        *arcs, spot = order.operations
        assert isinstance(spot, SpotOperation)
        pictures = [picture for operation in draft(workspace, name).operations for picture in operation.pictures]
        maps = [each for each in pictures if not each.key.endswith("torch")]  # an attitude goes by joint and size
        assert len(maps) >= 5
        found = [
            f"number {order.order}",
            f"quantity {order.quantity}",
            f"spots {[each.id for each in spot.spots]}",
            f"points {[(each.x, each.y, each.z) for each in spot.spots]}",
            f"sheets {[each.thickness for each in spot.components]}",
            *(picture.svg for picture in maps),
        ]
        for arc in arcs:
            assert isinstance(arc, ArcOperation)
            found += [
                f"sheets {[each.thickness for each in arc.components]}",
                f"outlines {arc.components[0].outlines}",
                f"paths {[seam.path for seam in arc.seams]}",
                f"seams {[seam.id for seam in arc.seams]}",
            ]
        for operation in order.operations:
            found += [f"{robot} {number}" for robot, number in operation.programs.items()]
            found += [
                f"{robot} {program}" for robot in operation.robots for _, program in operation.coupon_programs_of(robot)
            ]
        assert {each: seen[each] for each in found if each in seen} == {}
        seen |= dict.fromkeys(found, name)


def test_orders_that_stand_are_left_alone_when_more_are_generated(making: ModuleType, tmp_path: Path) -> None:
    making.make(tmp_path, 1)
    marked = tmp_path / "instructions" / "bench-00000" / "order.yaml"
    marked.write_text("changed")
    making.make(tmp_path, 2)
    assert marked.read_text() == "changed"
    assert (tmp_path / "instructions" / "bench-00001" / "order.yaml").is_file()


def test_the_digest_of_a_whole_packet_is_the_one_that_another_writer_of_json_gives(
    making: ModuleType, tmp_path: Path
) -> None:
    making.make(tmp_path, 2)
    workspace = open_workspace(tmp_path)
    for name in order_names(tmp_path):
        packet = draft(workspace, name)
        text = json.dumps(packet.model_dump(mode="json"), separators=(",", ":"), ensure_ascii=False, sort_keys=True)
        assert not text.isascii()
        assert packet_digest(packet) == sha256(text.encode()).hexdigest()


def test_what_mkdocs_is_to_build_is_all_of_each_page_but_its_frame(
    making: ModuleType, measuring: ModuleType, tmp_path: Path
) -> None:
    """A page whose body is not found ends the measurement, which nobody runs every day."""
    making.make(tmp_path / "plant", 1)
    site = Worker(tmp_path / "plant").build("bench-00000")
    bodies = measuring.bodies(site)
    assert bodies.keys() == {page.stem for page in site.glob("*.html")}
    for name, body in bodies.items():
        page = (site / f"{name}.html").read_text(encoding="utf-8")
        assert body.count("<h1") == page.count("<h1") == 1
        assert body.count("<h2") == page.count("<h2")
        assert "packet-foot" not in body
