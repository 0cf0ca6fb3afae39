from __future__ import annotations

from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.register.hash_tree import EMPTY
from weld_packets.revisions.register.register import Register, read_register, register_bytes
from weld_packets.revisions.store.files import load_register


@pytest.fixture
def register(plant: Any) -> Register:
    plant.three()
    return load_register(plant.instructions)


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
    assert register.digests[-1] == register.digest
    assert len(set(register.digests)) == 4


def test_line_ends_of_another_system_are_accepted(register: Register) -> None:
    assert read_register(register_bytes(register).replace(b"\n", b"\r\n")) == register


def test_every_flipped_byte_of_the_register_shows(register: Register) -> None:
    data = register_bytes(register)
    for at in range(len(data)):
        flipped = data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :]
        with pytest.raises(PacketError, match="register"):
            read_register(flipped)


@pytest.mark.parametrize("change", ["drop", "swap", "repeat", "head"])
def test_a_line_dropped_swapped_or_repeated_shows(register: Register, change: str) -> None:
    head, *lines = register_bytes(register).splitlines(keepends=True)
    changed = {
        "drop": [head, *lines[:-1]],
        "swap": [head, lines[1], lines[0], *lines[2:]],
        "repeat": [head, *lines, lines[-1]],
        "head": lines,
    }
    with pytest.raises(PacketError, match=r"register\.jsonl:1"):
        read_register(b"".join(changed[change]))


def test_a_foreign_line_is_named_by_its_number(register: Register) -> None:
    head, *lines = register_bytes(register).splitlines(keepends=True)
    with pytest.raises(PacketError) as caught:
        read_register(b"".join([head, lines[0], b"{}\n", *lines[1:]]))
    assert caught.value.problems[0].line == 3
