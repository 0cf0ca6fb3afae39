"""What tables held, kept beside the register under the digest of the content, each once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from weld_packets.revisions.queries.table_history import table_content
from weld_packets.revisions.register.entries import ApprovalEntry, RegisterEntry
from weld_packets.revisions.register.filed import CONTENTS, FOLDER, content_path
from weld_packets.revisions.register.integrity import Finding, content_findings
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.table_contents import TableContent
from weld_packets.revisions.store.files import load_file


def new_contents(instructions: Path, contents: Iterable[TableContent]) -> dict[str, bytes]:
    """Return the files of those ``contents`` that are not kept yet, by name below ``instructions``."""
    files = {content_path(content.digest): content.data for content in contents}
    return {name: data for name, data in files.items() if not (instructions / name).exists()}


def read_content(instructions: Path, digest: str) -> Mapping[str, Any] | None:
    """Return the content of a digest, None where it is not kept or is altered."""
    return table_content(partial(load_file, instructions), digest)


def kept_findings(instructions: Path, register: Register) -> Iterator[Finding]:
    """Yield what differs among the contents that are kept, and each that an entry names and that is missing."""
    folder = instructions / FOLDER / CONTENTS
    present = {path.name.removesuffix(".json") for path in folder.glob("[!.]*")}  # a path
    for digest in sorted(present | set(_named(register))):
        yield from content_findings(partial(load_file, instructions), content_path(digest), digest)


def _named(register: Register) -> Iterator[str]:
    for entry in register.listed:
        if isinstance(entry, RegisterEntry):
            yield from entry.contents
        elif isinstance(entry, ApprovalEntry):
            yield from (table.content_digest for table in entry.tables)
