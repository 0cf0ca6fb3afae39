"""Records and register on the disk: a release is there whole or not at all, whenever the process or the power ends.

The register is the point of decision. New files wait under a hidden name; putting the new entry of the register in its
place decides; then the files get their names. A reader takes a waiting file where the register lists its digest, so
that no moment shows half a release. What waits without being listed is removed by the next writer.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from pathlib import Path, PurePosixPath

from weld_packets.errors import PacketError, Problem, refuse
from weld_packets.revisions.queries.archive import Archive
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.register.entries import PROPOSED, RUNS, SET_UPS, Entry, ProposalEntry, RegisterEntry
from weld_packets.revisions.register.filed import (
    CONTENTS,
    FOLDER,
    Filed,
    Unread,
    content_path,
    filed_bytes,
    in_order,
    missing_entries,
    read_filed,
    unread,
)
from weld_packets.revisions.register.first_part import REGISTER, read_register
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.store.disk import Disk, alone, read_plain

RELEASED = "released"
_GUARDED = (RELEASED, PROPOSED, SET_UPS, RUNS)
"""The folders of an order in which no file may be that the register does not list."""
ORDER_SOURCE = "order.yaml"
_NEW = ".new"
_WAITING = ".waiting"


def load_register(instructions: Path) -> Register:
    """Return the register of ``instructions``, an empty one before the first release.

    Raises PacketError where it has been altered, is no plain file or folder, or is gone while there are records.
    """
    register, missing = register_as_far(instructions)
    refuse(each.problem for each in missing)
    return register


def register_as_far(instructions: Path) -> tuple[Register, tuple[Unread, ...]]:
    """Return what can be read of the register, and each entry that is missing or altered.

    Raises PacketError where its first part or its folder cannot be read, or all of it is gone while there are records.
    """
    path = instructions / REGISTER
    data = read_plain(path, REGISTER)
    first = Register() if data is None else read_register(data)
    entries, spoilt = _filed(instructions / FOLDER)
    gone = missing_entries(entries, first.first_digest, spoilt)
    missing = (*(each for of_file in spoilt.values() for each in of_file), *gone)
    register = Register(first.first, first.lines, in_order(entries), is_whole=not missing)
    if not register.listed and not missing and released_files(instructions):
        message = "is missing, while there are records of releases or set-ups"
        remedy = (
            f"restore the folder {FOLDER}/, and {REGISTER} where the plant had one, from a copy, or with git; "
            "never begin a new one"
        )
        raise PacketError([Problem("the register", 0, "", "", message, remedy)])
    return register, missing


def _filed(folder: Path) -> tuple[list[Filed], dict[str, tuple[Unread, ...]]]:
    """Return the entries that have a file of their own, in no order, and by its name what is wrong with any other."""
    if not folder.is_dir() or folder.is_symlink():
        if os.path.lexists(folder):
            message, remedy = "is not a folder", "restore the folder from a copy, or with git"
            raise PacketError([Problem(FOLDER, 0, "", "", message, remedy)])
        return [], {}
    entries: list[Filed] = []
    spoilt: dict[str, tuple[Unread, ...]] = {}
    for path in sorted(folder.glob("[!.]*")):
        if path.is_dir() and not path.is_symlink():
            continue
        try:
            entries.append(read_filed(read_plain(path, f"{FOLDER}/{path.name}") or b"", path.name))
        except PacketError as error:
            spoilt[path.name] = tuple(unread(path.name, error.problems))
    return entries, spoilt


def open_archive(instructions: Path) -> Archive:
    """Return all records below ``instructions``. Raises PacketError where the register has been altered."""
    return archive_for(load_register(instructions), instructions)


def archive_for(register: Register, instructions: Path) -> Archive:
    """Return the archive of a register that has been read."""
    return Archive(register, partial(load_file, instructions))


def load_file(instructions: Path, name: str, digest: str) -> bytes | None:
    """Return the content of the released file ``name``, None where it is missing.

    A file that was decided on but had no time to get its name is found by its ``digest``.
    Raises PacketError for anything but a plain file, and for one in a folder that is a link.
    """
    path = instructions / name
    _refuse_links(instructions, path)
    for candidate in (path, _waiting(path)):
        data = read_plain(candidate, name)
        if data is not None and (candidate == path or sha256(data) == digest):
            return data
    return None


def _refuse_links(instructions: Path, path: Path) -> None:
    """Raise PacketError where a folder above a record is a link: what it holds is kept elsewhere."""
    for folder in path.parents:
        if folder == instructions:
            return
        if folder.is_symlink():
            shown = folder.relative_to(instructions).as_posix()
            remedy = "put the folder itself here, or restore it from a copy or with git"
            raise PacketError([Problem(shown, 0, "", "", "is a link: the records in it are kept elsewhere", remedy)])


def known_orders(instructions: Path) -> frozenset[str]:
    """Return the names of all orders that have a source."""
    return frozenset(path.parent.name for path in instructions.glob(f"*/{ORDER_SOURCE}"))


def released_files(instructions: Path) -> frozenset[str]:
    """Return every file in a folder of released records or of set-up records, below ``instructions``."""
    found = (
        f"{order}/{folder}/{name}"
        for order in _names(instructions)
        for folder in _GUARDED
        for name in _names(f"{instructions}/{order}/{folder}")
    )
    return frozenset(name for name in found if PurePosixPath(name).suffix != _WAITING)


def _names(folder: Path | str) -> list[str]:
    """Return what is in a folder, nothing where there is none or it cannot be read."""
    try:
        return os.listdir(folder)  # noqa: PTH208 - of ten thousand orders, most of which have no records
    except OSError:
        return []


def unlisted(instructions: Path, register: Register, order: str) -> list[Problem]:
    """Return a problem for each record of ``order`` that the register does not list."""
    listed = listed_files(register)
    found = (
        f"{order}/{folder}/{path.name}" for folder in _GUARDED for path in (instructions / order / folder).glob("*")
    )
    # A file that is still being written has another ending.
    strays = sorted(name for name in found if name not in listed and not name.endswith(_WAITING))
    remedy = "restore the register from a copy or with git; 'packets verify' shows what else differs"
    return [Problem(name, 0, "", "", "is not in the register", remedy) for name in strays]


@contextmanager
def writing(instructions: Path, disk: Disk) -> Iterator[Register]:
    """Hold the instructions for one writer and yield the register, after tidying what a killed writer left.

    Raises PacketError while another writer holds them, and where the disk refuses.
    """
    try:
        with alone(instructions):
            register = load_register(instructions)
            _tidy(instructions, register, disk)
            yield register
    except OSError as error:
        place = str(error.filename or instructions)
        message = f"cannot be written: {error.strerror}"
        raise PacketError([Problem(place, 0, "", "", message, "make room, or ask for the right to write")]) from None


def commit(instructions: Path, register: Register, entry: Entry, files: Mapping[str, bytes], disk: Disk) -> Register:
    """Bring an ``entry`` and its ``files`` (by name below ``instructions``) to the disk together.

    Return the ``register`` after it. Only inside ``writing``. Raises PacketError where one of the files exists already.
    """
    after = register.with_entry(entry)
    targets = {instructions / name: data for name, data in files.items()}
    for target in targets:
        _refuse_links(instructions, target)
    _clear_set_aside(targets, register, disk)
    _refuse_existing(targets)
    disk.make_folder(instructions / FOLDER)
    for target, data in targets.items():
        disk.make_folder(target.parent)
        disk.create(_waiting(target), data)
    newest = after.filed[-1]
    folder = instructions / FOLDER
    disk.create(folder / f".{newest.name}{_NEW}", filed_bytes(newest))
    disk.replace(folder / f".{newest.name}{_NEW}", folder / newest.name)
    for target in targets:
        _give_name(target, disk)
    return after


def listed_files(register: Register) -> dict[str, str]:
    """Return the SHA-256 of each file that the register lists, by name below the instructions folder."""
    records = {entry.path: entry.record_digest for entry in register.listed if isinstance(entry, RegisterEntry)}
    records |= {entry.path: entry.record_digest for entry in register.entries}  # these count where two have one name
    for of_orders in (register.set_ups, register.runs):
        records |= {entry.path: entry.file_digest for entries in of_orders.values() for entry in entries}
    records |= {entry.path: entry.packet_digest for entry in register.listed if isinstance(entry, ProposalEntry)}
    return records | {entry.signature_path: entry.signing.sha256 for entry in register.entries if entry.signing}


def _tidy(instructions: Path, register: Register, disk: Disk) -> None:
    listed = listed_files(register)
    for waiting in sorted(
        path for each in (*_GUARDED, CONTENTS) for path in instructions.glob(f"*/{each}/.*{_WAITING}")
    ):
        target = waiting.with_name(waiting.name[1 : -len(_WAITING)])
        name, digest = target.relative_to(instructions).as_posix(), sha256(waiting.read_bytes())
        if listed.get(name) != digest and name != content_path(digest):
            disk.remove(waiting)
        else:
            _give_name(target, disk)
    for fresh in sorted((instructions / FOLDER).glob(f".*{_NEW}")):
        disk.remove(fresh)


def _give_name(target: Path, disk: Disk) -> None:
    if not target.exists():
        disk.link(_waiting(target), target)
    disk.remove(_waiting(target))


def _clear_set_aside(targets: Iterable[Path], register: Register, disk: Disk) -> None:
    """Remove what a merge left in the place of a file: a record that is set aside, or its signature.

    A withdrawal has the name that its revision gives it, so that one made anew would find the name taken.
    """
    records = (each for each in register.listed if isinstance(each, RegisterEntry))
    aside = [each for each in records if each.record_digest in register.set_aside]
    digests = {each.record_digest for each in aside} | {each.signing.sha256 for each in aside if each.signing}
    for path in targets:
        if path.is_file() and sha256(path.read_bytes()) in digests:
            disk.remove(path)


def _refuse_existing(targets: Mapping[Path, bytes]) -> None:
    found = [path for path in targets if path.exists()]
    if found:
        message = "exists already, but the register does not list it; released files are never overwritten"
        remedy = "find out with 'packets verify' where it comes from, and move it away"
        raise PacketError(Problem(str(path), 0, "", "", message, remedy) for path in found)


def _waiting(path: Path) -> Path:
    return path.with_name(f".{path.name}{_WAITING}")
