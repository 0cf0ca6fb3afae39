"""Records of every version are read, proved and shown: those of older versions by their upgrades."""

from __future__ import annotations

import json
import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.queries.archive import packet_of
from weld_packets.revisions.records import versions
from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.records.versions import RECORD_VERSION, Upgrade
from weld_packets.revisions.register.first_part import register_bytes
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.store.files import open_archive
from weld_packets.revisions.store.verification import verify_records
from weld_packets.site.pages.revision_pages import plan_released_site
from weld_packets.site.pages.revisions.order_history import load_order_history

FROZEN = sorted((Path(__file__).parents[1] / "frozen").glob("version-*"))
LATER = date(2026, 4, 1)


def shown(instructions: Path) -> str:
    """Return the page of the operation in the site of the one order in ``instructions``."""
    history = load_order_history(open_archive(instructions), "door-1", LATER)
    assert history is not None
    return next(page.html for page in plan_released_site(history).pages if page.path == "operation-2.html")


def test_a_record_of_every_version_is_frozen() -> None:
    assert [folder.name for folder in FROZEN] == [f"version-{number}" for number in range(1, RECORD_VERSION + 1)]


@pytest.mark.parametrize("folder", FROZEN, ids=lambda folder: folder.name)
def test_a_frozen_record_is_verified_and_shown(folder: Path) -> None:
    stored = json.loads((folder / "door-1/released/A.json").read_bytes())
    assert f"version-{stored['record_version']}" == folder.name
    assert verify_records(folder).findings == ()
    page = shown(folder)
    assert "Operation 2: Door panel" in page
    assert '<b>8.4</b> <span class="card-unit"><span>kA</span>' in page


@pytest.mark.parametrize("folder", FROZEN, ids=lambda folder: folder.name)
def test_an_altered_frozen_record_is_found(folder: Path, tmp_path: Path) -> None:
    copied = Path(shutil.copytree(folder, tmp_path / "instructions"))
    record = copied / "door-1/released/A.json"
    record.write_bytes(record.read_bytes().replace(b'"8.4"', b'"8.5"', 1))
    (finding,) = verify_records(copied).findings
    assert finding.file == "door-1/released/A.json"


@pytest.fixture
def older(plant: Any, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return instructions with one record of a version 0, whose key for the reason was ``why``, as were a step's."""
    plant.release()
    instructions: Path = plant.instructions
    path = instructions / "door-1/released/A.json"
    content = json.loads(path.read_bytes()) | {"record_version": 0}
    content["why"] = content.pop("reason")
    content["packet"]["old_title"] = content["packet"]["head"].pop("title")
    content["packet_digest"] = sha256(canonical(content["packet"]))
    path.write_bytes(canonical(content))
    (file,) = plant.entry_files()
    line = json.loads(file.read_bytes())["entry"]
    file.unlink()
    digest = sha256(canonical(content))
    line |= {"record_version": 0, "packet_digest": content["packet_digest"], "record_digest": digest}
    line["why"] = line.pop("reason")
    (instructions / "register.jsonl").write_bytes(register_bytes(Register((), (canonical(line),))))

    def with_reason(content: dict[str, Any]) -> dict[str, Any]:
        content["reason"] = content.pop("why")
        return content

    def with_title(content: dict[str, Any]) -> dict[str, Any]:
        if content["packet"] is not None:
            content["packet"]["head"]["title"] = content["packet"].pop("old_title")
        return with_reason(content)

    monkeypatch.setattr(versions, "UPGRADES", {0: Upgrade(record=with_title, line=with_reason)})
    return instructions


def test_a_record_of_an_older_version_is_brought_up_to_today_s_model(older: Path) -> None:
    archive = open_archive(older)
    (entry,) = archive.register.entries
    assert (entry.record_version, entry.reason) == (RECORD_VERSION, "first issue")
    assert packet_of(archive, entry).head.title == "Locker doors"


def test_a_record_of_an_older_version_is_verified_by_its_own_bytes_and_shown(older: Path) -> None:
    assert verify_records(older).findings == ()
    assert "Operation 2: Door panel" in shown(older)
    path = older / "door-1/released/A.json"
    path.write_bytes(path.read_bytes().replace(b"first issue", b"third issue"))
    assert [finding.file for finding in verify_records(older).findings] == ["door-1/released/A.json"]


def test_a_new_record_follows_one_of_an_older_version(older: Path, plant: Any) -> None:
    plant.release(plant.titled("second"), 9)
    assert verify_records(older).findings == ()
    (line,) = (older / "register.jsonl").read_bytes().splitlines()[1:]
    (file,) = plant.entry_files()
    assert [json.loads(line)["record_version"], json.loads(file.read_bytes())["entry"]["record_version"]] == [0, 1]


def test_without_its_upgrade_an_older_record_is_refused(older: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(versions, "UPGRADES", {})
    with pytest.raises(PacketError, match="not as the program writes it"):
        open_archive(older)
