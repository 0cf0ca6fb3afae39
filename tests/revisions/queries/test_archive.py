from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.archive import (
    DRAFT,
    compare,
    in_force_on,
    order_history,
    packet_of,
    released_packet,
    released_record,
    releases_in_force_or_due,
    uses_of,
)
from weld_packets.revisions.queries.where_used import TableReading
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.store.files import open_archive

Leaf = Callable[..., Packet]
CURRENT = ("operations", 0, "groups", 0, "dialled", 0)
APRIL = date(2026, 4, 1)


@pytest.fixture
def corrected(packet: Packet, leaf: Leaf) -> Packet:
    """The packet after a correction of the table."""
    new = leaf(leaf(packet, (*CURRENT, "amount", "value"), "8.8"), ("tables", 0, "revision"), "4")
    return leaf(new, (*CURRENT, "trace", 1, "revision"), "4")


def test_a_released_packet_is_the_one_that_was_released(plant: Any, corrected: Packet) -> None:
    plant.release(day=2)
    plant.release(corrected, 9)
    archive = open_archive(plant.instructions)
    assert released_packet(archive, "door-1", "A") == plant.packet
    assert released_packet(archive, "door-1", "B") == corrected


def test_an_altered_or_missing_record_is_refused(plant: Any) -> None:
    plant.release()
    path = plant.instructions / "door-1/released/A.json"
    data = path.read_bytes()
    path.write_bytes(data.replace(b"8.4", b"9.4"))
    with pytest.raises(PacketError, match="is altered since its release"):
        released_packet(open_archive(plant.instructions), "door-1", "A")
    path.unlink()
    with pytest.raises(PacketError, match="is missing"):
        released_packet(open_archive(plant.instructions), "door-1", "A")


def test_an_unknown_revision_is_refused_with_the_known_ones(plant: Any) -> None:
    with pytest.raises(PacketError, match="none is released"):
        released_packet(open_archive(plant.instructions), "door-1", "A")
    plant.three()
    with pytest.raises(PacketError, match="name one of: A, B, C"):
        released_packet(open_archive(plant.instructions), "door-1", "D")


def test_a_withdrawal_holds_no_packet(plant: Any) -> None:
    withdrawal = plant.three()[-1].entry
    archive = open_archive(plant.instructions)
    assert released_record(archive, withdrawal).packet is None
    with pytest.raises(PacketError, match="holds no packet"):
        packet_of(archive, withdrawal)


def test_two_revisions_are_compared_and_a_revision_with_the_draft(plant: Any, corrected: Packet) -> None:
    plant.release(day=2)
    plant.release(corrected, 9)
    archive = open_archive(plant.instructions)
    lines = [str(change) for change in compare(archive, "door-1", "A", "B")]
    assert lines[0] == (
        "operation 2, 1.2 + 1.0 mm: weld current 8.4 -> 8.8 kA, because table spot-lc rev 3 -> 4, row 1.0 mm to 1.2 mm"
    )
    assert [str(change) for change in compare(archive, "door-1", "A", DRAFT, corrected)] == lines
    assert compare(archive, "door-1", "B", DRAFT, corrected) == ()
    with pytest.raises(PacketError, match="no such released revision"):
        compare(archive, "door-1", "A", DRAFT)


def test_the_history_shows_who_when_why_and_what_changed(plant: Any, corrected: Packet) -> None:
    plant.release(day=2)
    plant.release(corrected, 9, author="Planner", reason="current too low at 1.2 mm")
    plant.withdraw("B", 20)
    rows = order_history(open_archive(plant.instructions), "door-1", APRIL)
    assert [(row.kind, row.revision, row.status) for row in rows] == [
        ("release", "A", "superseded"),
        ("release", "B", "withdrawn"),
        ("withdrawal", "B", "withdrawn"),
    ]
    first, second, third = rows
    assert (first.superseded_by, first.compared_with, first.changes) == ("B", "", ())
    assert (second.author, second.approver, second.reason) == (
        "Planner", "Welding coordinator", "current too low at 1.2 mm"
    )  # fmt: skip
    assert (second.recorded_at, second.effective_from, second.compared_with) == (
        "2026-03-09T08:00:00Z", "2026-03-09", "A"
    )  # fmt: skip
    assert len(second.changes) == 2
    assert (third.reason, third.changes, third.signed_with) == ("cracks", (), "")


def test_an_order_in_draft_has_no_history(plant: Any) -> None:
    assert order_history(open_archive(plant.instructions), "door-1", APRIL) == ()


def test_what_was_in_force_on_a_date_is_reported(plant: Any) -> None:
    plant.three()
    archive = open_archive(plant.instructions)
    days = {day: [each.revision for each in in_force_on(archive, "door-1", date(2026, 3, day)).in_force]
            for day in (1, 2, 9, 16, 20)}  # fmt: skip
    assert days == {1: [], 2: ["A"], 9: ["B"], 16: ["C"], 20: []}


def test_what_is_in_force_or_will_be_counts_and_nothing_else(plant: Any) -> None:
    plant.three()
    plant.add_order("frame-2")
    plant.release(plant.titled("frame", "frame-2"), 21)
    archive = open_archive(plant.instructions)
    found = [(entry.order, record.revision) for entry, record in releases_in_force_or_due(archive, APRIL)]
    assert found == [("frame-2", "A")]
    found = [(entry.order, record.revision) for entry, record in releases_in_force_or_due(archive, date(2026, 3, 17))]
    assert found == [("door-1", "C"), ("frame-2", "A")]


@pytest.fixture
def used(plant: Any, corrected: Packet) -> Any:
    plant.release(day=2)
    plant.release(corrected, 9)
    plant.withdraw("B", 20)
    return open_archive(plant.instructions)


def test_orders_that_used_a_table_are_reported_with_their_figures(used: Any) -> None:
    first, second = uses_of(used, TableReading("spot-lc"), APRIL)
    assert (first.order, first.revision, first.status, first.table_revision) == ("door-1", "A", "superseded", "3")
    assert first.rows == ("1.0 mm", "1.2 mm")
    assert first.figures == ("operation 2, 1.2 + 1.0 mm, weld current",)
    assert (second.revision, second.status, second.table_revision) == ("B", "withdrawn", "4")


def test_a_revision_of_the_table_may_be_asked_for(used: Any) -> None:
    assert [use.revision for use in uses_of(used, TableReading("spot-lc", revision="4"), APRIL)] == ["B"]
    assert uses_of(used, TableReading("spot-lc", revision="9"), APRIL) == ()


@pytest.mark.parametrize("operation", ["1.2 mm", "1.2", " 1.2\u00a0MM "])
def test_a_row_of_the_table_may_be_asked_for(used: Any, operation: str) -> None:
    found = uses_of(used, TableReading("spot-lc", row=operation), APRIL)
    assert [use.rows for use in found] == [("1.2 mm",), ("1.2 mm",)]
    assert found[0].figures


@pytest.mark.parametrize("wanted", [TableReading("spot-lc", row="1."), TableReading("spot-zn")])
def test_an_operation_or_table_that_nothing_used_finds_nothing(used: Any, wanted: TableReading) -> None:
    assert uses_of(used, wanted, APRIL) == ()


def test_a_row_that_is_used_without_a_figure_is_still_reported(plant: Any, packet: Packet, leaf: Leaf) -> None:
    plant.release(leaf(packet, ("tables", 0, "rows"), ["gun-4"]), 2)
    (use,) = uses_of(open_archive(plant.instructions), TableReading("spot-lc", row="gun-4"), APRIL)
    assert (use.rows, use.figures) == (("gun-4",), ())


def test_figures_of_times_and_of_the_run_are_found_too(plant: Any, packet: Packet, leaf: Leaf) -> None:
    trace = [packet.operations[0].groups[0].dialled[0].trace[1].model_dump(mode="json")]
    changed = leaf(leaf(packet, ("operations", 0, "times", 0, "trace"), trace), ("run", "values", 0, "trace"), trace)
    plant.release(changed, 2)
    (use,) = uses_of(open_archive(plant.instructions), TableReading("spot-lc"), APRIL)
    assert use.figures == (
        "operation 2, 1.2 + 1.0 mm, weld current",
        "operation 2, weld time per part",
        "run, duration",
    )


def test_a_share_of_the_order_is_reported_with_its_parts(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("next"), 9, effective=Effective(kind="part", start="120"))
    found = in_force_on(open_archive(plant.instructions), "door-1", APRIL)
    assert [(each.revision, each.covers) for each in found.in_force] == [
        ("B", "from part 120"),
        ("A", "before part 120"),
    ]
