"""Which revisions of a table the register knows, and what a new one meant for the settings of an order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.table_changes import TableChange, table_changes
from weld_packets.revisions.queries.table_history import KnownRevision, known_revisions, shown_revision, table_content
from weld_packets.revisions.register.filed import content_path
from weld_packets.revisions.status.table_contents import TableContent
from weld_packets.revisions.store.approving import TableApproval, record_approval
from weld_packets.revisions.store.files import load_file, load_register
from weld_packets.revisions.store.releasing import record_release

Leaf = Callable[..., Packet]
VALUE = ("operations", 0, "groups", 0, "dialled", 0)


def content(revision: str) -> TableContent:
    tree = {"table": "spot-lc", "title": "Chart", "source": "trials", "revision": revision}
    return TableContent("spot-lc", revision, tree, "tables/spot_lc.yaml", "1" * 64)


def newer(leaf: Leaf, packet: Packet, amount: str = "8.6", low: str = "8.0", high: str = "9.2") -> Packet:
    """Return the packet with revision 4 of its table, and with another current and range."""
    changed = leaf(packet, ("tables", 0, "revision"), "4")
    for path, value in ((("amount", "value"), amount), (("window", "low"), low), (("window", "high"), high)):
        changed = leaf(changed, (*VALUE, *path), value)
    return changed


def only(before: Packet, after: Packet) -> TableChange:
    (found,) = table_changes(("A", before), ("B", after))
    return found


def test_the_register_knows_each_revision_with_content_approval_and_releases(plant: Any, signed: Any) -> None:
    by = signed()
    record_approval(plant.instructions, TableApproval("Parcel cabinets", (content("2"),), by))
    plant.release()
    fourth = plant.wanted(plant.titled("second"))
    record_release(plant.instructions, replace(fourth, contents={"spot-lc": content("3")}))
    second, third = known_revisions(load_register(plant.instructions))["spot-lc"]
    assert (second.revision, second.contents, len(second.approvals), second.releases) == (
        "2", (content("2").digest,), 1, ()
    )  # fmt: skip
    assert (third.revision, third.contents, third.approvals) == ("3", (content("3").digest,), ())
    assert [entry.revision for entry in third.releases] == ["A", "B"]


def test_a_content_is_given_as_it_was_kept_or_not_at_all(plant: Any, signed: Any) -> None:
    kept = content("2")
    record_approval(plant.instructions, TableApproval("Parcel cabinets", (kept,), signed()))

    def read(name: str, digest: str) -> bytes | None:
        return load_file(plant.instructions, name, digest)

    assert table_content(read, kept.digest) == kept.content
    assert table_content(read, "0" * 64) is None
    (plant.instructions / content_path(kept.digest)).write_text("{}")
    assert table_content(read, kept.digest) is None


def test_where_nothing_is_approved_in_the_register_the_first_release_says_by_whom(plant: Any) -> None:
    plant.release()
    (known,) = known_revisions(load_register(plant.instructions))["spot-lc"]
    stated = shown_revision(lambda name, digest: load_file(plant.instructions, name, digest), known, None).stated
    assert stated is not None
    assert (stated.approved_by, stated.approved_on) == ("Welding engineer", "2026-01-10")
    assert shown_revision(lambda _name, _digest: b"{}", known, None).stated is None
    unused = KnownRevision("spot-lc", "3", (), (), ())
    assert shown_revision(lambda _name, _digest: None, unused, None).stated is None


@pytest.mark.parametrize(
    ("low", "high", "inside"),
    [
        ("8.4", "9.2", True),
        ("8.5", "9.2", False),
        ("8.0", "8.4", True),
        ("8.0", "8.3", False),
        ("", "8.4", True),
        ("", "8.3", False),
        ("8.4", "", True),
        ("8.5", "", False),
        ("10.0", "12.0", False),
    ],
)
def test_an_old_setting_is_inside_the_corrected_range_up_to_both_ends(
    packet: Packet, leaf: Leaf, low: str, high: str, *, inside: bool
) -> None:
    found = only(packet, newer(leaf, packet, low=low, high=high))
    assert (found.table, found.before, found.after, found.of_before, found.of_after) == ("spot-lc", "3", "4", "A", "B")
    (setting,) = found.settings
    assert setting.inside is inside
    word = "still inside the corrected range" if inside else "OUTSIDE the corrected range"
    assert str(setting) == (
        f"operation 2, 1.2 + 1.0 mm: weld current was 8.4\N{NO-BREAK SPACE}kA, now 8.6\N{NO-BREAK SPACE}kA, "
        f"allowed {setting.allowed}: {word}"
    )


def test_a_setting_with_the_same_value_and_range_is_counted(packet: Packet, leaf: Leaf) -> None:
    found = only(packet, newer(leaf, packet, amount="8.4"))
    assert (found.settings, found.same) == ((), 1)
    assert len(only(packet, newer(leaf, packet, amount="8.4", low="8.1")).settings) == 1


def test_a_setting_that_is_gone_or_in_another_unit_has_no_verdict(packet: Packet, leaf: Leaf) -> None:
    changed = newer(leaf, packet)
    (other,) = only(packet, leaf(changed, (*VALUE, "amount", "unit"), "A")).settings
    assert (other.inside, other.verdict) == (None, "no range to compare with")
    (words,) = only(leaf(packet, (*VALUE, "amount", "value"), "as marked"), changed).settings
    assert words.inside is None
    (open_both,) = only(packet, newer(leaf, packet, low="", high="")).settings
    assert open_both.inside is None
    (gone,) = only(packet, leaf(changed, (*VALUE, "key"), "other")).settings
    assert (gone.inside, gone.verdict) == (None, "the setting is not there any more")


def test_a_setting_that_was_not_read_from_the_table_is_left_out(packet: Packet, leaf: Leaf) -> None:
    apart = leaf(packet, (*VALUE, "trace", 1, "table"), "another")
    found = only(apart, newer(leaf, apart))
    assert (found.settings, found.same) == ((), 0)


def test_a_table_of_the_same_revision_has_no_change(packet: Packet) -> None:
    assert list(table_changes(("A", packet), ("B", packet))) == []
