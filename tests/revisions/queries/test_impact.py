from __future__ import annotations

from collections.abc import Callable

from weld_packets.errors import Problem
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.differences.changes import change_lines
from weld_packets.revisions.queries.impact import edited_sources, impact_on
from weld_packets.revisions.records.record import SourceFile


def test_an_order_that_stays_the_same_has_no_change(packet: Packet) -> None:
    impact = impact_on("door-1", "A", packet, packet, ["order.yaml"])
    assert not impact.changed
    assert impact.changes == ()


def test_an_order_that_would_change_is_stated_value_by_value(packet: Packet, leaf: Callable[..., Packet]) -> None:
    now = leaf(packet, ("operations", 0, "groups", 0, "dialled", 0, "amount", "value"), "8.8")
    impact = impact_on("door-1", "A", packet, now)
    assert impact.changed
    assert impact.head == ("door-1, revision A",)
    assert change_lines(impact.changes) == ("operation 2, 1.2 + 1.0 mm: weld current 8.4 -> 8.8 kA",)


def test_an_order_that_cannot_be_computed_any_more_says_why(packet: Packet) -> None:
    problem = Problem("tables/spot-lc.yaml", 12, "operations", "", "no operation holds 1.2 mm", "add one")
    impact = impact_on("door-1", "A", packet, (problem,), ["instructions/door-1/order.yaml"])
    assert impact.changed
    assert impact.head == (
        "door-1, revision A",
        "  edited since the release: instructions/door-1/order.yaml",
        f"  cannot be computed any more: {problem}",
    )


def test_sources_of_the_order_that_were_edited_are_distinguished_from_tables() -> None:
    released = [SourceFile(path=path, sha256="0" * 64) for path in ("i/d/order.yaml", "i/d/gone.csv", "tables/t.yaml")]
    now = {"i/d/order.yaml": "1" * 64, "i/d/new.dxf": "0" * 64, "tables/t.yaml": "1" * 64}
    assert edited_sources(released, now, "i/d/") == ("i/d/gone.csv", "i/d/new.dxf", "i/d/order.yaml")
    assert edited_sources(released, {"i/d/order.yaml": "0" * 64, "i/d/gone.csv": "0" * 64}, "i/d/") == ()
