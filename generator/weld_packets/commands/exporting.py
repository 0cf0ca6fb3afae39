"""One order's website as a file that stands alone."""

from __future__ import annotations

from pathlib import Path

from weld_packets.commands.building import build
from weld_packets.commands.places import SITES
from weld_packets.errors import PacketError, Problem, SourceError
from weld_packets.site.build.export import export_zip


def export(root: Path, slug: str, target: Path | None) -> Path:
    """Bring the site of ``slug`` up to date and write it as a zip file; raise PacketError where it cannot be."""
    report = build(root, [slug], everything=False)
    if report.problems:
        raise PacketError(report.problems)
    chosen = target or Path.cwd() / f"{slug}.zip"
    if not chosen.parent.is_dir():
        raise SourceError(
            [Problem(str(chosen), 0, "", "", "there is no such folder", "name a file in a folder that exists")]
        )
    if chosen.exists() and not chosen.is_file():
        raise SourceError([Problem(str(chosen), 0, "", "", "this is no plain file", "name a file")])
    try:
        return export_zip(root / SITES / slug, chosen)
    except OSError as error:
        message, remedy = f"cannot be written: {error.strerror}", "name a file where you may write, with enough space"
        raise SourceError([Problem(str(chosen), 0, "", "", message, remedy)]) from None
