"""Spoilt inputs of every kind are answered by the program's own errors, each within two seconds.

The ordinary run takes a small share; `pytest -m fuzz -n 0` takes 20,000 inputs. An input that fell
is added to ``FELL`` and is tried in every run.
"""

from __future__ import annotations

import binascii
import contextlib
import io
import json
import random
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest
from openpyxl import Workbook
from weld_packets.errors import PacketError
from weld_packets.model.table import Table
from weld_packets.revisions.records.record import read_cover, read_record
from weld_packets.revisions.register.filed import in_order, read_filed
from weld_packets.revisions.register.first_part import read_register
from weld_packets.revisions.register.register import read_register_state
from weld_packets.revisions.register.signing import read_signature
from weld_packets.revisions.set_ups.record import json_of, read_form, read_set_up
from weld_packets.revisions.set_ups.run_record import RUN_FORM, Run
from weld_packets.site.build.manifest import compare_manifest, manifest_bytes
from weld_packets.sources.drawings.outlines import read_outlines
from weld_packets.sources.orders.enclosures import SPOT_COLUMNS
from weld_packets.sources.reading.binding import bind
from weld_packets.sources.reading.files import decode
from weld_packets.sources.reading.sheet import read_sheet
from weld_packets.sources.reading.strict_yaml import read_yaml
from weld_packets.sources.reading.workbook import read_range
from weld_packets.sources.tables.rows import expand_rows
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
    text = io.StringIO()
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


def workbook() -> bytes:
    book = Workbook()
    sheet = book.create_sheet("Chart")
    for row in (("thickness (mm)", "pitch (in)", "overlap (mm)"), (1.0, 0.75, 12), (1.5, 1.25, 14)):
        sheet.append(row)
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def _unpacked(data: bytes) -> bytes:
    """Return a workbook with its parts kept as they are, so that what is spoilt is not the packing alone."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as new:
        for part in old.infolist():
            new.writestr(part.filename, old.read(part))
    return packed.getvalue()


def _repacked(data: bytes) -> bytes:
    """Return a workbook whose parts are what ``data`` makes of them, with the checks of the packing made anew."""
    packed = io.BytesIO()
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as new:
            for part in old.infolist():
                if part.compress_type != zipfile.ZIP_STORED:
                    return data
                part.CRC = binascii.crc32(_part(data, part))
                new.writestr(part.filename, _part(data, part))
    except Exception:  # noqa: BLE001 - what cannot be packed anew is given as it is
        return data
    return packed.getvalue()


def _part(data: bytes, part: zipfile.ZipInfo) -> bytes:
    begun = part.header_offset + 30 + len(part.filename)
    return data[begun : begun + part.file_size]


def _rows(data: bytes, folder: Path) -> object:
    path = folder / "chart.xlsx"
    path.write_bytes(_repacked(data))
    return read_range(path, "chart.xlsx", "Chart", "A1:C3")


def _filed(data: bytes, _: Path) -> object:
    """Read a record from a cell as `packets records add` does, whichever it is."""
    content = json_of(data, "record.json")
    if isinstance(content, dict) and content.get("form") == RUN_FORM:
        return read_form(Run, data, "record.json")
    return read_set_up(data, "record.json")


def _drawn(data: bytes, folder: Path) -> object:
    path = folder / "drawing.dxf"
    path.write_bytes(data)
    return read_outlines(path, "drawing.dxf")


def _entry(data: bytes, _: Path) -> object:
    return in_order([read_filed(data, "lk-1.20261129T100000Z-0123456789ab.json")])


RECORD = (FROZEN / "door-1" / "released" / "A.json").read_bytes()
ENTRIES = [path.read_bytes() for path in sorted((ROOT / "instructions" / "register").glob("*.json"))]
TABLES = [path.read_bytes() for path in sorted((ROOT / "tables").glob("*.yaml"))]
_HEAD = {
    "version": 1, "id": "0" * 16, "order": "T-1", "slug": "wo-1", "revision": "A", "status": "in force",
    "record_digest": "0" * 64, "packet_digest": "1" * 64, "begun": "2026-12-02T07:00:00+00:00",
}  # fmt: skip
_AT = {"at": "2026-12-02T07:30:00+00:00", "by": "J. Setter"}
SET_UP = json.dumps(_HEAD | {
    "form": "set-up record", "status_reason": "", "operation": 1, "operation_name": "Frame", "cell": "C2",
    "finished": "", "setter": "J. Setter",
    "readings": [{"value": "current/1", "robot": "C2A", "entered": "120", "number": "120", "unit": "A",
                  "verdict": "equal", "hidden": False, "repeat": 0} | _AT],
    "numbers": [{"robot": "C2A", "what": "program", "asked": "P1", "entered": "P1", "verdict": "match",
                 "by_scan": True} | _AT],
    "results": [{"result": "coupon", "entered": "4.2", "number": "4.2", "verdict": "accepted"} | _AT],
    "steps": [{"list": "set-up", "key": "clamp", "digest": "0" * 12, "done": _AT["at"], "by": ""}],
    "accepted": [{"what": "coupons"} | _AT], "counters": [{"what": "wire", "count": "3.3"}],
    "lots": [{"what": "wire", "lot": "L-7"}], "instruments": [], "deviations": [], "serials": {"from": "1", "to": "9"},
}).encode()  # fmt: skip
RUN = json.dumps(_HEAD | {
    "form": "run record",
    "starts": [{"list": "start", "operation": 1, "cell": "C2", "revision": "A", "record_digest": "0" * 64,
                "status": "in force", "status_reason": "", "ticks": []} | _AT],
    "counts": [{"count": "20"} | _AT],
    "events": [{"key": "0" * 12, "due": 20, "what": "tip dress", "at_count": "20", "passed_over": False} | _AT],
}).encode()  # fmt: skip
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
    "set-up": Reader([SET_UP], _filed),
    "run": Reader([RUN], _filed),
    "workbook": Reader([_unpacked(workbook()), workbook()], _rows),
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
