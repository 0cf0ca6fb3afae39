from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.errors import PacketError
from weld_packets.revisions.records.canonical import canonical, packet_digest, sha256
from weld_packets.revisions.records.record import moment_text, packet_bytes, read_cover, read_moment, read_record
from weld_packets.revisions.records.versions import RECORD_VERSION


@pytest.fixture
def data(plant: Any) -> bytes:
    plant.release()
    return (plant.instructions / "door-1/released/A.json").read_bytes()


def edited(data: bytes, path: tuple[str, ...], value: object) -> bytes:
    raw = json.loads(data)
    inner = raw
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    return canonical(raw)


def test_a_record_holds_the_packet_and_all_that_document_control_requires(data: bytes, plant: Any) -> None:
    record = read_record(data, "A.json")
    assert record.packet == plant.packet
    assert (record.order, record.revision, record.sequence, record.kind) == ("door-1", "A", 1, "release")
    assert (record.author, record.approver, record.reason) == ("Process engineer", "Welding coordinator", "first issue")
    assert (str(record.effective), record.recorded_at) == ("2026-03-02", "2026-03-02T08:00:00Z")
    assert (record.code.version, record.previous_record_digest, record.register_before.records) == ("0.2.0", "", 0)
    assert [source.path for source in record.sources] == ["instructions/door-1/order.yaml"]
    assert [(table.table, table.revision, table.approved_by) for table in record.tables] == [
        ("spot-lc", "3", "Welding engineer")
    ]


@pytest.mark.parametrize("commit", ["0" * 40, f"{'0' * 40} with edits", "unknown"])
def test_the_code_of_a_record_is_a_commit_with_edits_or_unknown(data: bytes, commit: str) -> None:
    record = read_record(edited(data, ("code", "commit"), commit), "A.json")
    assert record.code.commit == commit


@pytest.mark.parametrize("commit", ["", "0" * 39, "0" * 41, "HEAD", f"{'0' * 40} with edit"])
def test_anything_else_is_refused_as_a_commit(data: bytes, commit: str) -> None:
    with pytest.raises(PacketError, match=r"code\.commit"):
        read_record(edited(data, ("code", "commit"), commit), "A.json")


def test_a_record_is_canonical_and_has_no_line_end_to_convert(data: bytes) -> None:
    assert canonical(json.loads(data)) == data
    assert b"\n" not in data


def test_the_packet_is_in_the_record_as_it_is_alone(data: bytes, plant: Any) -> None:
    assert packet_bytes(data) == canonical(plant.packet.model_dump(mode="json"))
    assert sha256(packet_bytes(data)) == packet_digest(plant.packet)


@given(st.text())
def test_no_text_in_a_packet_hides_where_it_ends(text: str) -> None:
    trap = {"a": '","packet":{' + text, "packet": {"t": text + ',"packet_digest":"'}, "packet_digest": "", "z": text}
    assert packet_bytes(canonical(trap)) == canonical(trap["packet"])


def test_a_cover_is_read_whatever_the_packet_is(data: bytes) -> None:
    cover = read_cover(edited(data, ("packet", "head"), "of another version"), "A.json")
    assert (cover.revision, cover.packet) == ("A", None)


@pytest.mark.parametrize("content", [b"{}", b"", b',"packet_digest":"",,"packet":{}'])
def test_bytes_without_a_packet_are_no_cover(content: bytes) -> None:
    assert packet_bytes(content) == b""
    with pytest.raises(PacketError, match="is not a record of this format"):
        read_cover(content, "A.json")


def test_a_version_that_this_program_does_not_know_is_named(data: bytes) -> None:
    with pytest.raises(PacketError) as caught:
        read_record(edited(data, ("record_version",), RECORD_VERSION + 1), "A.json")
    (problem,) = caught.value.problems
    assert (problem.file, problem.key, problem.value) == ("A.json", "record_version", str(RECORD_VERSION + 1))
    assert "does not know this version" in problem.message


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("surplus",), "x"),
        (("packet", "surplus"), "x"),
        (("packet", "head", "quantity"), "500"),
        (("order",), "../elsewhere"),
        (("revision",), "I"),
        (("recorded_at",), "2026-13-02T08:00:00Z"),
        (("effective", "start"), "2026-02-30"),
        (("previous_record_digest",), "short"),
    ],
)
def test_a_record_with_surplus_or_wrong_keys_is_refused(data: bytes, path: tuple[str, ...], value: object) -> None:
    with pytest.raises(PacketError, match="is not a record of this format") as caught:
        read_record(edited(data, path, value), "A.json")
    assert caught.value.problems[0].key.startswith(path[0])


def test_bytes_that_are_no_json_are_refused() -> None:
    with pytest.raises(PacketError, match=r"A\.json"):
        read_record(b"\x00", "A.json")


def test_a_record_of_an_older_generator_is_read_with_new_fields_at_their_defaults(data: bytes) -> None:
    raw = json.loads(data)
    del raw["packet"]["run"]["events_note"]
    record = read_record(canonical(raw), "A.json")
    assert record.packet is not None
    assert record.packet.run.events_note == ""


def test_moments_are_kept_in_utc_to_the_second() -> None:
    local = datetime(2026, 3, 2, 9, 30, 5, 999, tzinfo=timezone(timedelta(hours=1)))
    assert moment_text(local) == "2026-03-02T08:30:05Z"
    assert read_moment("2026-03-02T08:30:05Z") == datetime(2026, 3, 2, 8, 30, 5, tzinfo=UTC)
