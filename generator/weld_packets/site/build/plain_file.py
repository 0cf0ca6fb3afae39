"""Reading what a build has written, whatever somebody has put in its place since."""

from __future__ import annotations

from io import FileIO

from weld_packets.revisions.store.disk import open_plain


def plain_content(path: str) -> bytes:
    """Return the content of a plain file; raise OSError for anything else."""
    with FileIO(path, opener=open_plain) as file:
        return file.read()
