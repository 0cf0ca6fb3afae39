"""The changeover of a cell in its set-up record: each step is one of the release, and a first-off waits for all."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, cast

import pytest
from weld_packets.packet.forms import changeover_tasks, set_up_form
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.set_ups.acceptance import FROM_NOTHING, unrecorded_lines
from weld_packets.revisions.set_ups.checks import set_up_problems
from weld_packets.revisions.set_ups.from_cell import Of
from weld_packets.revisions.set_ups.record import SetUp, read_set_up, set_up_bytes

AT = "2026-12-01T08:00:00+01:00"
LATER = "2026-12-01T12:00:00+01:00"
FILED = datetime(2026, 12, 1, 18, tzinfo=UTC)
OPERATION = 3


@dataclass(frozen=True)
class Column:
    """The demo's order that has a changeover, and its record of one operation with what is given besides."""

    packet: Packet

    def record(self, **given: Any) -> SetUp:
        sheet = self.packet.operations[OPERATION - 1]
        accepted = [{"what": what, "at": AT, "by": "A. Roth"} for what in ("coupons", "first-off")]
        whole = {
            "form": "set-up record", "version": 1, "id": "a" * 16, "order": self.packet.head.number,
            "slug": self.packet.head.slug, "revision": "A", "status": "in force", "status_reason": "a test",
            "record_digest": "f" * 64, "packet_digest": "e" * 64, "operation": OPERATION,
            "operation_name": sheet.name, "cell": sheet.cell, "begun": AT, "finished": AT, "setter": "J. Berg",
            "steps": [], "readings": [], "numbers": [], "results": [], "accepted": accepted, "lots": [],
            "counters": [], "instruments": [], "serials": {"from": "", "to": ""}, "deviations": [],
        }  # fmt: skip
        return read_set_up(json.dumps(whole | given).encode(), "x.json")

    def done(self) -> list[dict[str, str]]:
        """Return every step of the cell's changeover as done an hour before the set-up was begun."""
        tasks = changeover_tasks(self.packet, OPERATION)
        at = AT.replace("T08", "T07")
        return [{"key": task.key, "digest": task.digest, "done": at, "by": "J. Berg"} for task in tasks]

    def problems(self, changeover: list[dict[str, str]], **given: Any) -> list[tuple[str, str]]:
        """Return place and message of what is wrong with the changeover."""
        sheet = self.packet.operations[OPERATION - 1]
        of = Of((), cast("Any", None), self.packet, sheet, set_up_form(sheet))
        found = set_up_problems(self.record(changeover=changeover, **given), of, FILED)
        said = [(each.key, each.message) for each in found]
        return [each for each in said if each[0].startswith("changeover") or "of the changeover" in each[1]]


@pytest.fixture
def column(demo_packets: dict[str, Packet]) -> Column:
    return Column(demo_packets["lk-2055-outdoor-column"])


def test_a_finished_changeover_is_kept_and_is_no_gap_of_the_record(column: Column) -> None:
    done = column.done()
    assert len(done) > 1
    assert column.problems(done) == []
    record = column.record(changeover=done)
    assert read_set_up(set_up_bytes(record), "x.json") == record
    assert list(unrecorded_lines(record, column.packet)) == []


def test_a_record_without_a_changeover_stays_as_it_was(column: Column) -> None:
    record = column.record()
    assert b"changeover" not in set_up_bytes(record)
    assert column.problems([]) == []
    assert len(list(unrecorded_lines(record, column.packet))) == 1


def test_a_first_off_waits_for_each_step_of_the_changeover(column: Column) -> None:
    first, *others = column.done()
    assert column.problems(others) == [("accepted[1].what", f"step {first['key']!r} of the changeover was not done")]
    late = {**first, "done": LATER}
    message = f"is before step {first['key']!r} of the changeover was done at {LATER}"
    assert column.problems([late, *others]) == [("accepted[1].at", message)]
    from_nothing = [{"what": FROM_NOTHING, "reason": "the cell was cleared", "at": AT, "by": "J. Berg"}]
    assert column.problems(others, deviations=from_nothing) == []
    coupons = [{"what": "coupons", "at": AT, "by": "A. Roth"}]
    assert column.problems(others, accepted=coupons, finished="") == []


def test_a_step_of_another_text_cell_or_time_is_refused(column: Column) -> None:
    first, *others = column.done()
    wrong = [{**first, "digest": "0" * 12}, *others]
    assert column.problems(wrong) == [
        ("changeover[0].digest", "is the digest of another text than this revision has for the step")
    ]
    elsewhere = {**first, "key": first["key"].replace("C5/", "C1/")}
    cell = "the changeover of cell C5 has no such step in this revision"
    assert column.problems([first, *others, elsewhere]) == [(f"changeover[{len(others) + 1}].key", cell)]
    assert column.problems([first, *others, first]) == [(f"changeover[{len(others) + 1}].key", "is there twice")]
    places = [place for place, _ in column.problems([{**first, "done": "2026-12-01T18:05:01Z"}, *others])]
    assert "changeover[0].done" in places
    places = [place for place, _ in column.problems([{**first, "done": "2026-12-01T18:05:00Z"}, *others])]
    assert "changeover[0].done" not in places


def test_the_changeover_takes_the_place_of_the_set_up_of_the_first_operation_in_a_cell_alone(
    demo_packets: dict[str, Packet],
) -> None:
    packet = demo_packets["lk-2055-outdoor-column"]
    first, second, *others = packet.operations
    shared = packet.model_copy(update={"operations": (first, second.model_copy(update={"cell": first.cell}), *others)})
    assert (packet.replaces_set_up(1), packet.replaces_set_up(2), packet.replaces_set_up(99)) == (True, True, False)
    assert (shared.replaces_set_up(1), shared.replaces_set_up(2)) == (True, False)
    assert changeover_tasks(shared, 1)
    assert changeover_tasks(shared, 2) == ()
