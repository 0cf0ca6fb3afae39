"""Spoilt inputs of every kind are answered by the program's own errors, each within two seconds.

The ordinary run takes a small share; `pytest -m fuzz -n 0 tests/fuzz` takes 15,000 inputs and more. An input that fell
is added to ``FELL`` and is tried in every run.
"""

from __future__ import annotations

import contextlib
import json
import random
import time
from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest
from weld_packets.errors import PacketError
from weld_packets.model.tables import Table
from weld_packets.revisions.records.record import read_cover, read_record
from weld_packets.revisions.register.filed import in_order, read_filed
from weld_packets.revisions.register.register import read_register, read_register_state
from weld_packets.revisions.register.signing import read_signature
from weld_packets.revisions.set_ups.record import read_set_up
from weld_packets.site.build.manifest import compare_manifest, manifest_bytes
from weld_packets.sources.drawings.outlines import read_outlines
from weld_packets.sources.orders.enclosures import SPOT_COLUMNS
from weld_packets.sources.reading.binding import bind
from weld_packets.sources.reading.files import decode
from weld_packets.sources.reading.sheet import read_sheet
from weld_packets.sources.reading.strict_yaml import read_yaml
from weld_packets.sources.tables.chart_rows import expand_rows
from weld_packets.sources.tables.tables import record_of

ROOT = Path(__file__).resolve().parents[2]
FROZEN = ROOT / "tests" / "revisions" / "frozen" / "version-1"
LIMIT = 2.0
"""Seconds of this process that one input may take."""
NUMBERS = [b"1e99", b"-1e40", b"1e-300", b"0", b"-1", b"9" * 40, b"nan", b"inf", b"0x1f", b"1_0", b"1,5"]
SIGNS = [b"[" * 3000, b"{" * 3000, rb'"\ud800"', b"\x00", b"\xff\xfe", "\u3164\u202e".encode(), b"null", b"true", b"{}"]


def read_table(data: bytes) -> Table:
    document = read_yaml(decode(data, "table.yaml"), "table.yaml")
    kind = record_of(document)
    return bind(expand_rows(document, kind), kind)


def drawing() -> bytes:
    document = ezdxf.new()
    document.units = 4
    document.modelspace().add_lwpolyline([(0, 0), (90, 0, 0.4), (90, 60)], format="xyb", close=True)
    document.modelspace().add_circle((20, 20), 5)
    from io import StringIO  # noqa: PLC0415 - the one use

    text = StringIO()
    document.write(text)
    return text.getvalue().encode()


def _state(data: bytes, _: Path) -> object:
    return read_register_state(data.decode("latin-1"))


def _manifest(data: bytes, _: Path) -> object:
    return compare_manifest(data, {})


class Reader:
    """How inputs of one kind are read, and good ones to spoil."""

    def __init__(self, good: list[bytes], read: Callable[[bytes, Path], object]) -> None:
        self.good = good
        self.read = read


def _drawn(data: bytes, folder: Path) -> object:
    path = folder / "drawing.dxf"
    path.write_bytes(data)
    return read_outlines(path, "drawing.dxf")


def _entry(data: bytes, _: Path) -> object:
    return in_order([read_filed(data, "lk-1.20261129T100000Z-0123456789ab.json")], "")


RECORD = (FROZEN / "door-1" / "released" / "A.json").read_bytes()
ENTRIES = [path.read_bytes() for path in sorted((ROOT / "instructions" / "register").glob("*.json"))]
TABLES = [path.read_bytes() for path in sorted((ROOT / "tables").glob("*.yaml"))]
SET_UP = json.dumps({"set_up_version": 1, "slug": "wo-1", "id": "0" * 16, "operation": 1, "revision": "A"}).encode()
SIGNATURE = json.dumps({"signature_version": 1, "algorithm": "Ed25519", "key": "a", "signature": "00"}).encode()
READERS = {
    "table": Reader(TABLES, lambda data, _: read_table(data)),
    "points": Reader(
        [(ROOT / "instructions" / "lk-2041-service-module" / "side_panel_spots.csv").read_bytes()],
        lambda data, _: read_sheet(decode(data, "points.csv"), "points.csv", SPOT_COLUMNS),
    ),
    "drawing": Reader([drawing()], _drawn),
    "record": Reader([RECORD], lambda data, _: read_record(data, "A.json")),
    "cover": Reader([RECORD], lambda data, _: read_cover(data, "A.json")),
    "register": Reader([(FROZEN / "register.jsonl").read_bytes()], lambda data, _: read_register(data)),
    "entry": Reader(ENTRIES, _entry),
    "state": Reader([b"12:1a2b 3c4d 5e6f + 7788 99aa bbcc"], _state),
    "manifest": Reader([manifest_bytes({"a.html": "0" * 64, "b/c.js": "1" * 64})], _manifest),
    "signature": Reader([SIGNATURE], lambda data, _: read_signature(data)),
    "set-up": Reader([SET_UP], lambda data, _: read_set_up(data, "set-up.json")),
}
FELL: list[tuple[str, bytes]] = [
    ("manifest", b'{"sha256":' + b"[" * 50_000),
    ("manifest", rb'{"sha256":{"\ud800":"x"}}'),
    ("entry", b'{"entry":' + b"[" * 50_000),
    ("record", RECORD.replace(b'"groups":[', b'"groups":[' + b"[" * 3000, 1)),
    ("register", b"[" * 50_000 + b"\n" + b"[" * 50_000),
]


def spoilt(good: bytes, chance: random.Random) -> bytes:
    """Return ``good`` with a slice changed, taken out, repeated or exchanged for a number or signs that are odd."""
    start = chance.randrange(len(good))
    end = min(len(good), start + chance.choice([1, 1, 2, 8, 40, 400]))
    kind = chance.randrange(5)
    new = [
        bytes(chance.randrange(256) for _ in range(end - start)),
        b"",
        good[start:end] * 2,
        chance.choice(NUMBERS),
        chance.choice(SIGNS),
    ][kind]
    return good[:start] + new + good[end:]


def answered(kind: str, data: bytes, folder: Path) -> None:
    begun = time.process_time()
    with contextlib.suppress(PacketError):
        READERS[kind].read(data, folder)
    assert time.process_time() - begun < LIMIT, (kind, data)


def tried(kind: str, count: int, seed: int, folder: Path) -> None:
    chance = random.Random(f"{kind} {seed}")  # noqa: S311 - the same inputs every time
    for _ in range(count):
        data = spoilt(chance.choice(READERS[kind].good), chance)
        try:
            answered(kind, data, folder)
        except Exception as error:
            error.add_note(f"{kind}: {data!r}")
            raise


@pytest.mark.parametrize("kind", READERS)
def test_a_share_of_spoilt_inputs_is_answered(kind: str, tmp_path: Path) -> None:
    tried(kind, 8, 1, tmp_path)


@pytest.mark.parametrize(("kind", "data"), FELL, ids=range(len(FELL)))
def test_an_input_that_fell_once_is_answered(kind: str, data: bytes, tmp_path: Path) -> None:
    answered(kind, data, tmp_path)


@pytest.mark.fuzz
@pytest.mark.parametrize("kind", READERS)
def test_fifteen_thousand_spoilt_inputs_are_answered(kind: str, tmp_path: Path) -> None:
    tried(kind, 1_400, 2, tmp_path)
