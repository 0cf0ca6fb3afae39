from __future__ import annotations

from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.records.canonical import canonical
from weld_packets.revisions.register.first_part import read_register, register_bytes
from weld_packets.revisions.register.hash_tree import EMPTY
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.store.files import load_register


@pytest.fixture
def register(plant: Any) -> Register:
    plant.three()
    return load_register(plant.instructions)


@pytest.fixture
def first(register: Register) -> Register:
    """A register as older programs wrote it: all in the first part."""
    return Register(register.entries, tuple(canonical(entry.model_dump(mode="json")) for entry in register.entries))


def test_an_empty_register_has_the_digest_of_an_empty_tree() -> None:
    assert Register().state.model_dump() == {"records": 0, "register_digest": EMPTY}
    assert read_register(register_bytes(Register())) == Register()


def test_entries_name_record_signature_and_place(register: Register) -> None:
    assert [entry.path for entry in register.entries] == [
        "door-1/released/A.json",
        "door-1/released/B.json",
        "door-1/released/C.json",
        "door-1/released/C.withdrawn.json",
    ]
    assert register.entries[3].signature_path == "door-1/released/C.withdrawn.sig"
    assert register.places["door-1/released/C.json"] == 2
    assert [entry.sequence for entry in register.of("door-1")] == [1, 2, 3, 4]
    assert register.of("unknown") == ()


def test_each_record_carries_the_digest_of_the_register_before_it(register: Register) -> None:
    before = [register.state_before(at) for at in range(4)]
    assert [state.records for state in before] == [0, 1, 2, 3]
    assert [state.register_digest for state in before] == [EMPTY, *(each.digest for each in register.filed[:3])]
    assert register.state.model_dump() == {"records": 4, "register_digest": register.filed[3].digest}


def test_line_ends_of_another_system_are_accepted(first: Register) -> None:
    assert read_register(register_bytes(first).replace(b"\n", b"\r\n")) == first


def test_marks_of_a_merge_in_the_first_part_are_named(first: Register) -> None:
    head, *lines = register_bytes(first).splitlines(keepends=True)
    marked = b"".join([b"<<<<<<< ours\n", head, b"=======\n", head, b">>>>>>> theirs\n", *lines])
    with pytest.raises(PacketError, match="the marks of a merge"):
        read_register(marked)


def test_every_flipped_byte_of_the_register_shows(first: Register) -> None:
    data = register_bytes(first)
    for at in range(len(data)):
        flipped = data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :]
        with pytest.raises(PacketError, match="register"):
            read_register(flipped)


@pytest.mark.parametrize("change", ["drop", "swap", "repeat", "head"])
def test_a_line_dropped_swapped_or_repeated_shows(first: Register, change: str) -> None:
    head, *lines = register_bytes(first).splitlines(keepends=True)
    changed = {
        "drop": [head, *lines[:-1]],
        "swap": [head, lines[1], lines[0], *lines[2:]],
        "repeat": [head, *lines, lines[-1]],
        "head": lines,
    }
    with pytest.raises(PacketError, match=r"register\.jsonl:1"):
        read_register(b"".join(changed[change]))


def test_a_foreign_line_is_named_by_its_number(first: Register) -> None:
    head, *lines = register_bytes(first).splitlines(keepends=True)
    with pytest.raises(PacketError) as caught:
        read_register(b"".join([head, lines[0], b"{}\n", *lines[1:]]))
    assert caught.value.problems[0].line == 3
