"""What a table held when it was approved or released binds its revision."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.record import SourceFile
from weld_packets.revisions.register.entries import ApprovalEntry
from weld_packets.revisions.status.release_rules import Release
from weld_packets.revisions.status.table_contents import TableContent, content_changes
from weld_packets.revisions.store.approving import TableApproval, problems_of_contents, record_approval
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.keys import load_signer, make_key
from weld_packets.revisions.store.releasing import record_release
from weld_packets.revisions.store.verification import verify_records

ROWS = ({"over": "1.0 mm", "up to": "1.2 mm", "weld time": "11 cycles@50Hz"}, {"over": "1.2 mm", "up to": "1.6 mm"})
CHART: Mapping[str, Any] = {"table": "spot-lc", "revision": "3", "source": "trials", "rows": list(ROWS)}
WORKS = "Parcel cabinets"


def content(tree: Mapping[str, Any] = CHART, revision: str = "3", file_digest: str = "1" * 64) -> TableContent:
    return TableContent("spot-lc", revision, tree, "tables/spot_lc.yaml", file_digest)


def slipped(revision: str = "3") -> TableContent:
    """Return the chart with another weld time."""
    rows = [{**ROWS[0], "weld time": "13 cycles@50Hz"}, ROWS[1]]
    return content({**CHART, "revision": revision, "rows": rows}, revision)


def problems(plant: Any, found: TableContent, works: str = WORKS) -> list[str]:
    register = load_register(plant.instructions)
    return [str(each.message) for each in problems_of_contents(plant.instructions, register, works, (found,))]


def approve(plant: Any, signed: Any, found: TableContent, works: str = WORKS, **by: Any) -> ApprovalEntry:
    signer = by.pop("signer", None)
    return record_approval(plant.instructions, TableApproval(works, (found,), signed(**by)), signer)[0]


def test_a_table_that_nothing_binds_holds_what_it_holds(plant: Any) -> None:
    assert problems(plant, content()) == []


def test_an_approval_binds_its_revision_and_says_which_value_differs(plant: Any, signed: Any) -> None:
    approve(plant, signed, content())
    assert problems(plant, content()) == []
    assert problems(plant, slipped()) == [
        (
            "table spot-lc, revision 3, does not hold what was approved by Welding coordinator on 2026-03-02: "
            "rows, item 1 (over 1.0 mm), weld time: 11 cycles@50Hz -> 13 cycles@50Hz"
        )
    ]
    assert problems(plant, slipped("4")) == []
    assert verify_records(plant.instructions).findings == ()


def test_another_content_is_not_approved_under_the_same_revision(plant: Any, signed: Any) -> None:
    approve(plant, signed, content())
    with pytest.raises(PacketError, match="does not hold what was approved"):
        approve(plant, signed, slipped())
    with pytest.raises(PacketError, match="was approved as it is by Welding coordinator"):
        approve(plant, signed, content())
    assert approve(plant, signed, slipped("4")).tables[0].revision == "4"


def test_an_approval_takes_two_people(plant: Any, signed: Any) -> None:
    with pytest.raises(PacketError, match="the same person"):
        approve(plant, signed, content(), approver="process engineer")
    assert load_register(plant.instructions).listed == ()


def test_what_another_plant_approved_does_not_bind_nor_count(plant: Any, signed: Any) -> None:
    approve(plant, signed, content(), "Another works")
    assert problems(plant, slipped()) == []


def test_a_release_binds_the_content_of_its_tables(plant: Any, signed: Any) -> None:
    record_release(plant.instructions, Release(plant.packet, (), signed(), contents={"spot-lc": content()}))
    (entry,) = load_register(plant.instructions).entries
    assert entry.contents == (content().digest,)
    (message,) = problems(plant, slipped())
    assert message.startswith(
        "table spot-lc, revision 3, does not hold what was released with door-1, revision A: rows, "
    )
    assert problems(plant, content()) == []
    assert verify_records(plant.instructions).findings == ()


def test_a_record_from_before_contents_were_kept_binds_the_file(plant: Any, signed: Any) -> None:
    sources = (SourceFile(path="tables/spot_lc.yaml", sha256="1" * 64),)
    record_release(plant.instructions, Release(plant.packet, sources, signed()))
    assert problems(plant, content()) == []
    assert problems(plant, content(file_digest="2" * 64)) == [
        "the file of table spot-lc, revision 3, is not that of door-1, revision A, which was released with it"
    ]
    approve(plant, signed, content())
    assert problems(plant, content(file_digest="2" * 64)) == []


def test_a_content_that_is_altered_or_missing_shows(plant: Any, signed: Any) -> None:
    approve(plant, signed, content())
    (path,) = (plant.instructions / "register" / "tables").iterdir()
    data = path.read_bytes()
    path.write_bytes(data.replace(b"11 cycles", b"12 cycles"))
    (finding,) = verify_records(plant.instructions).findings
    assert finding.message == "is altered: its name is not the SHA-256 of what it holds"
    path.unlink()
    (finding,) = verify_records(plant.instructions).findings
    assert finding.message == "is missing"
    assert problems(plant, slipped()) == [
        "table spot-lc, revision 3, does not hold what was approved by Welding coordinator on 2026-03-02"
    ]


def test_a_content_is_kept_once(plant: Any, signed: Any) -> None:
    approve(plant, signed, content())
    late = signed(recorded=datetime(2026, 3, 3, 8, tzinfo=UTC), effective=Effective(kind="date", start="2026-03-03"))
    record_release(plant.instructions, Release(plant.packet, (), late, contents={"spot-lc": content()}))
    assert [path.stem for path in (plant.instructions / "register" / "tables").iterdir()] == [content().digest]
    assert verify_records(plant.instructions).findings == ()


def test_an_approval_is_signed_and_a_forged_one_shows(plant: Any, signed: Any, tmp_path: Any) -> None:
    make_key(plant.instructions, "quality", tmp_path / "quality.pem")
    signer = load_signer(plant.instructions, "quality", tmp_path / "quality.pem")
    entry = approve(plant, signed, content(), signer=signer)
    assert entry.signature is not None
    assert verify_records(plant.instructions).findings == ()
    plant.write_register([entry.model_copy(update={"approver": "Somebody else"})])
    path = plant.instructions / "register" / "tables" / f"{content().digest}.json"
    path.parent.mkdir()
    path.write_bytes(content().data)
    (finding,) = verify_records(plant.instructions).findings
    assert finding.message == "holds no signature of itself by the key quality"
    (plant.instructions / "keys/quality.pub").unlink()
    assert [each.file for each in verify_records(plant.instructions).findings][-1] == "keys/quality.pub"


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        ({"a": "1"}, {"a": "1"}, []),
        ({"a": "1"}, {"a": "2"}, ["a: 1 -> 2"]),
        ({"a": "1"}, {}, ["a: 1 removed"]),
        ({}, {"a": "1"}, ["a: 1 added"]),
        ({"x": [{"id": "p", "v": "1"}, {"id": "q"}]}, {"x": [{"id": "q"}, {"id": "p", "v": "2"}]},
         ["x, item 2 (id p), v: 1 -> 2"]),
        ({"x": [{"over": "1 mm"}]}, {"x": [{"over": "1 mm"}, {"over": "2 mm"}]},
         ["x, item 2 (over 2 mm): over: 2 mm added"]),
        ({}, {"checked": {"by": "R. Ilm", "date": "2026-12-19"}}, ["checked: by: R. Ilm; date: 2026-12-19 added"]),
        ({"x": ["1", ["2", "3"]]}, {"x": ["1"]}, ["x, item 2: 2, 3 removed"]),
        ({}, {"x": [], "y": {}}, ["x: none added", "y: none added"]),
        ({"x": ["1", "2"]}, {"x": ["1", "3"]}, ["x, item 2: 2 -> 3"]),
        ({"x": {"y": {"z": "1"}}}, {"x": {"y": {"z": "2"}}}, ["x, y, z: 1 -> 2"]),
    ],
)  # fmt: skip
def test_each_value_that_differs_is_named_by_its_place(before: Any, after: Any, expected: list[str]) -> None:
    assert [str(change) for change in content_changes(before, after)] == expected


def test_the_digest_of_a_content_is_that_of_its_canonical_form() -> None:
    assert content(dict(reversed(list(CHART.items())))).digest == content().digest
    assert json.loads(content().data) == {**CHART}
