from __future__ import annotations

import multiprocessing
import os
import shutil
import signal
import stat
import time
from datetime import date
from multiprocessing.queues import SimpleQueue
from multiprocessing.synchronize import Barrier
from pathlib import Path
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.queries.archive import order_history, released_packet
from weld_packets.revisions.register.signing import Signer, public_of, public_pem
from weld_packets.revisions.store.disk import Disk, alone
from weld_packets.revisions.store.files import commit, load_file, load_register, open_archive, writing
from weld_packets.revisions.store.releasing import record_release
from weld_packets.revisions.store.verification import verify_records

SIGNER = Signer("quality", bytes(range(32)))


class Mortal(Disk):
    """Kills its process at a given moment: before, after and, in writing a file, in the middle of each step."""

    def __init__(self, last: int) -> None:
        self.last = last
        self.moment = 0

    def tick(self) -> None:
        self.moment += 1
        if self.moment == self.last:
            os.kill(os.getpid(), signal.SIGKILL)

    def create(self, path: Path, data: bytes, mode: int = 0o644) -> None:
        self.tick()
        super().create(path, data[: len(data) // 2], mode)
        self.tick()
        path.unlink()
        super().create(path, data, mode)
        self.tick()

    def make_folder(self, folder: Path) -> None:
        self.tick()
        super().make_folder(folder)
        self.tick()

    def replace(self, fresh: Path, target: Path) -> None:
        self.tick()
        super().replace(fresh, target)
        self.tick()

    def link(self, existing: Path, name: Path) -> None:
        self.tick()
        super().link(existing, name)
        self.tick()

    def remove(self, path: Path) -> None:
        self.tick()
        super().remove(path)
        self.tick()


def tell_tale(plant: Any) -> tuple[int, list[str]]:
    """Return what every reader sees: records in the register, and what verification finds."""
    found = verify_records(plant.instructions)
    return len(found.register.listed), [str(finding) for finding in found.findings]


def killed(plant: Any, moment: int, signer: Signer | None) -> bool:
    """Release in another process that is killed at ``moment``; return whether it came so far."""
    child = os.fork()
    if child == 0:
        record_release(plant.instructions, plant.wanted(plant.titled("next")), signer, Mortal(moment))
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
@pytest.mark.parametrize(("signer", "kills"), [(None, 16), (SIGNER, 25)], ids=["plain", "signed"])
@pytest.mark.parametrize("earlier", [0, 1])
def test_a_kill_at_any_moment_leaves_the_old_state_or_the_new(
    tmp_path: Path, plant: Any, earlier: int, signer: Signer | None, kills: int
) -> None:
    (plant.instructions / "keys").mkdir()
    (plant.instructions / "keys/quality.pub").write_bytes(public_pem(public_of(SIGNER.secret)))
    for _ in range(earlier):
        plant.release(day=1)
    original, seen = plant.instructions, []
    for moment in range(1, 100):
        plant.instructions = tmp_path / f"kill-{moment}"
        shutil.copytree(original, plant.instructions)
        was_killed = killed(plant, moment, signer)
        records, findings = tell_tale(plant)
        seen.append(records)
        assert findings == []
        if records > earlier:
            assert released_packet(open_archive(plant.instructions), "door-1", "AB"[earlier]).head.title == "next"
        if not was_killed:
            break
        assert_the_next_writer_tidies_up(plant, records)
    assert len(seen) - 1 == kills
    assert seen == sorted(seen)
    assert {earlier, earlier + 1} == set(seen)


def assert_the_next_writer_tidies_up(plant: Any, records: int) -> None:
    plant.release(plant.titled("after the kill"), 5)
    assert tell_tale(plant) == (records + 1, [])
    assert not [name for name in plant.files() if Path(name).name.startswith(".")]


def copy_as_left(left: Path, target: Path) -> None:
    """Copy a folder in which a file may have two names, which a writer that was killed leaves."""
    names: dict[int, str] = {}

    def copy(source: str, name: str) -> None:
        known = names.setdefault(Path(source).stat().st_ino, name)
        if known == name:
            shutil.copy2(source, name)
        else:
            os.link(known, name)

    shutil.copytree(left, target, copy_function=copy)


def contents(folder: Path) -> dict[str, tuple[bytes, int]]:
    """Return what each file below a folder holds, and how many names it has; of a folder neither."""
    return {
        path.relative_to(folder).as_posix(): (path.read_bytes(), path.stat().st_nlink) if path.is_file() else (b"", 0)
        for path in folder.rglob("*")
    }


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_a_writer_killed_while_tidying_up_after_a_killed_one_harms_nothing(tmp_path: Path, plant: Any) -> None:
    original, kills, seen = plant.instructions, 0, []
    for first in range(1, 17):
        left = plant.instructions = tmp_path / f"kill-{first}"
        shutil.copytree(original, left)
        kills += killed(plant, first, None)
        state = contents(left)
        if state in seen:  # killed after a step, or before the next one
            continue
        seen.append(state)
        records, findings = tell_tale(plant)
        for second in range(1, 7):
            plant.instructions = tmp_path / f"kill-{first}-{second}"
            copy_as_left(left, plant.instructions)
            child = os.fork()
            if child == 0:
                record_release(plant.instructions, plant.wanted(plant.titled("another")), disk=Mortal(second))
                os._exit(1)
            kills += os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
            assert tell_tale(plant) == (records, findings) == (records, [])
            shutil.rmtree(plant.instructions)
    assert len(seen) == 10
    assert kills == 16 + len(seen) * 6


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
@pytest.mark.parametrize("packets", ["the same", "different"])
def test_of_releases_at_once_one_wins_and_the_others_are_reported(plant: Any, packets: str) -> None:
    for turn in range(5):
        titles = [f"{turn} {number if packets == 'different' else ''}" for number in range(2)]
        before = len(load_register(plant.instructions).entries)
        outcomes = race(plant, titles)
        won = [line for line in outcomes if line.startswith("won")]
        refused = [line for line in outcomes if line.startswith("refused")]
        assert len(won) + len(refused) == 2
        assert won
        assert packets == "different" or len(won) == 1
        assert all("being written at this moment" in line or "nothing has changed" in line for line in refused)
        assert tell_tale(plant) == (before + len(won), [])


def race(plant: Any, titles: list[str]) -> list[str]:
    """Release in as many processes as there are titles, all let go at the same moment; return what each says."""
    context = multiprocessing.get_context("fork")
    start, said = context.Barrier(len(titles)), context.SimpleQueue()
    racers = [context.Process(target=racer, args=(plant, title, start, said)) for title in titles]
    for each in racers:
        each.start()
    for each in racers:
        each.join(60)
        assert each.exitcode == 0
    return [said.get() for _ in racers]


def racer(plant: Any, title: str, start: Barrier, said: SimpleQueue[str]) -> None:
    wanted = plant.wanted(plant.titled(title))
    start.wait(60)
    try:
        said.put(f"won {record_release(plant.instructions, wanted).entry.revision}")
    except PacketError as error:
        said.put(f"refused {error.problems[0].message}")


def test_a_second_writer_is_reported_at_once(plant: Any) -> None:
    with alone(plant.instructions):
        begun = time.monotonic()
        with pytest.raises(PacketError, match="another record is being written"):
            plant.release()
        assert time.monotonic() - begun < 5
    assert plant.release().entry.revision == "A"


def test_a_writer_that_waits_in_the_middle_keeps_others_out(plant: Any) -> None:
    class Slow(Disk):
        def replace(self, fresh: Path, target: Path) -> None:
            with pytest.raises(PacketError, match="at this moment"):
                record_release(plant.instructions, plant.wanted(plant.titled("other")))
            super().replace(fresh, target)

    record_release(plant.instructions, plant.wanted(), disk=Slow())
    assert tell_tale(plant) == (1, [])


def test_every_file_reaches_the_medium_before_the_register_decides(plant: Any) -> None:
    steps: list[tuple[str, str]] = []

    class Noting(Disk):
        def create(self, path: Path, data: bytes, mode: int = 0o644) -> None:
            super().create(path, data, mode)
            steps.append(("create", path.name))

        def replace(self, fresh: Path, target: Path) -> None:
            super().replace(fresh, target)
            steps.append(("replace", target.name))

        def link(self, existing: Path, name: Path) -> None:
            super().link(existing, name)
            steps.append(("link", name.name))

    record_release(plant.instructions, plant.wanted(), SIGNER, Noting())
    (entry,) = (path.name for path in plant.entry_files())
    assert steps == [
        ("create", ".A.json.waiting"),
        ("create", ".A.sig.waiting"),
        ("create", f".{entry}.new"),
        ("replace", entry),
        ("link", "A.json"),
        ("link", "A.sig"),
    ]


def test_names_and_contents_are_brought_to_the_medium(plant: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    import posix  # noqa: PLC0415 - its own, since tests do not wait for the disk otherwise

    folders, files = [], []

    def noting(descriptor: int) -> None:
        (folders if stat.S_ISDIR(os.fstat(descriptor).st_mode) else files).append(descriptor)
        posix.fsync(descriptor)

    monkeypatch.setattr(os, "fsync", noting)
    plant.release()
    assert len(files) == 2  # record and entry of the register
    assert len(folders) == 7  # two new folders, two new files, entry in place, link, one name taken away


def test_released_files_are_never_overwritten(plant: Any) -> None:
    plant.release(plant.titled("frame", "frame-1"))
    stray = plant.instructions / "door-1/released/A.json"
    stray.parent.mkdir()
    stray.write_text("{}")
    with pytest.raises(PacketError, match="is not in the register"):
        plant.release()
    assert stray.read_text() == "{}"
    assert load_register(plant.instructions).of("door-1") == ()


def test_creating_a_file_refuses_an_existing_one(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"old")
    with pytest.raises(FileExistsError):
        Disk().create(tmp_path / "a", b"new")
    assert (tmp_path / "a").read_bytes() == b"old"


def test_linking_refuses_a_taken_name(tmp_path: Path) -> None:
    for name in ("a", "b"):
        (tmp_path / name).write_text(name)
    with pytest.raises(FileExistsError):
        Disk().link(tmp_path / "a", tmp_path / "b")
    assert (tmp_path / "b").read_text() == "b"


def test_a_medium_without_second_names_is_served_too(plant: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    def impossible(*_: object) -> None:
        raise PermissionError(1, "no links here")

    monkeypatch.setattr(os, "link", impossible)
    plant.three()
    assert tell_tale(plant) == (4, [])
    assert not [name for name in plant.files() if name.endswith(".waiting")]


def test_a_full_disk_leaves_the_old_state_and_is_reported(plant: Any) -> None:
    class Full(Disk):
        def create(self, path: Path, data: bytes, mode: int = 0o644) -> None:
            if path.name.endswith(".new"):
                raise OSError(28, "No space left on device", str(path))
            super().create(path, data, mode)

    plant.release()
    with pytest.raises(PacketError, match="cannot be written: No space left on device"):
        record_release(plant.instructions, plant.wanted(plant.titled("next")), disk=Full())
    assert tell_tale(plant) == (1, [])
    assert plant.release(plant.titled("next"), 3).entry.revision == "B"


def test_a_missing_folder_is_reported(tmp_path: Path) -> None:
    with pytest.raises(PacketError, match="cannot be written"), writing(tmp_path / "nowhere", Disk()):
        pass


def test_a_waiting_file_is_read_only_where_the_register_lists_it(plant: Any) -> None:
    plant.release()
    final = plant.instructions / "door-1/released/A.json"
    waiting = final.with_name(".A.json.waiting")
    digest = load_register(plant.instructions).entries[0].record_digest
    final.rename(waiting)
    assert load_file(plant.instructions, "door-1/released/A.json", digest) == waiting.read_bytes()
    assert load_file(plant.instructions, "door-1/released/A.json", "0" * 64) is None
    assert order_history(open_archive(plant.instructions), "door-1", date(2026, 3, 2))[0].revision == "A"


def test_a_name_that_was_given_before_the_kill_is_not_given_again(plant: Any) -> None:
    plant.release()
    final = plant.instructions / "door-1/released/A.json"
    waiting = final.with_name(".A.json.waiting")
    os.link(final, waiting)
    plant.release(plant.titled("next"), 3)
    assert not waiting.exists()
    assert tell_tale(plant) == (2, [])


def test_nothing_is_added_on_top_of_an_altered_chain(plant: Any) -> None:
    plant.release()
    record = plant.instructions / "door-1/released/A.json"
    record.write_bytes(record.read_bytes().replace(b"first issue", b"other issue"))
    with pytest.raises(PacketError, match="is altered"):
        plant.release(plant.titled("next"), 3)
    with pytest.raises(PacketError, match="nothing is added on top"):
        plant.withdraw("A")


def test_files_are_committed_with_their_register_or_not_at_all(plant: Any) -> None:
    plant.release()
    with writing(plant.instructions, Disk()) as register, pytest.raises(PacketError, match="exists already"):
        commit(plant.instructions, register, register.entries[0], {"door-1/released/A.json": b""}, Disk())
