"""Spoilt records of set-ups and runs are refused in the program's own words, or filed; never anything else."""

from __future__ import annotations

import contextlib
import copy
import json
import random
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError
from weld_packets.errors import PacketError
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.set_ups.record import OperationNumber
from weld_packets.revisions.store.set_ups import file_from_cell

FILED = datetime(2026, 12, 20, 12, tzinfo=UTC)
CODE = Code(version="0", commit="unknown")
VALUES: list[Any] = [
    None, True, -1, 0, 1e300, 10**30, "", "0", "-1", "9" * 40, "1e99", "nan", "1,5", "A", "B", "C2A", "match",
    "2026-12-02T07:30:00+00:00", "9999-12-31T23:59:59+00:00", "0001-01-01T00:00:00-23:59", "\ud800", "\u202e", "<b>",
    "../../x", "a" * 5000, [], {}, [[]], [{}],
]  # fmt: skip
LIMIT = 2.0


def places(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    return [found for key, part in items for found in ((*path, key), *places(part, (*path, key)))]


def spoilt(form: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    form = copy.deepcopy(form)
    path = chance.choice(places(form))
    holder: Any = form
    for step in path[:-1]:
        holder = holder[step]
    match chance.randrange(4):
        case 0:
            del holder[path[-1]]
        case 1 if isinstance(holder, list):
            holder.append(copy.deepcopy(holder[path[-1]]))
        case _:
            holder[path[-1]] = chance.choice(VALUES)
    return form


def tried(plant: Any, count: int, seed: int) -> None:
    chance, instructions = random.Random(seed), Path(plant.root, "instructions")  # noqa: S311 - the same every time
    good = plant.set_up()
    for number in range(count):
        form = spoilt(good | {"id": f"{number:016x}"}, chance)
        begun = time.process_time()
        try:
            with contextlib.suppress(PacketError):
                file_from_cell(instructions, json.dumps(form).encode(), "record.json", at=FILED, code=CODE)
        except Exception as error:
            error.add_note(repr(form))
            raise
        assert time.process_time() - begun < LIMIT


def test_a_share_of_spoilt_records_is_answered(plant: Any) -> None:
    tried(plant, 10, 1)


@pytest.mark.fuzz
def test_five_hundred_spoilt_records_are_answered(plant: Any) -> None:
    tried(plant, 500, 2)


@pytest.mark.parametrize(("number", "is_read"), [(0, False), (1, True), (999, True), (1000, False)])
def test_an_operation_of_a_record_has_a_number_of_three_digits_at_most(number: int, is_read: bool) -> None:
    with contextlib.nullcontext() if is_read else pytest.raises(ValidationError):
        TypeAdapter(OperationNumber).validate_python(number)
