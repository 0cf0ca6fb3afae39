"""Show one order while an engineer edits it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from weld_packets.commands.places import INSTRUCTIONS
from weld_packets.commands.worker import Worker
from weld_packets.errors import PacketError
from weld_packets.site.build.serving import LiveSite


def serve(root: Path, slug: str, port: int, tell: Callable[[str], None]) -> None:
    """Serve the draft of ``slug`` until interrupted, and rebuild it whenever a source or table changes."""
    site = Worker(root).preview(slug)

    def rebuild() -> str:
        try:
            Worker(root).preview(slug)
        except PacketError as error:
            tell(str(error))
            return str(error)
        tell(f"rebuilt {slug}")
        return ""

    def watched() -> Iterator[Path]:
        for folder in (root / INSTRUCTIONS, root / "tables", root / "site_overrides"):
            yield from (path for path in folder.rglob("*") if path.is_file())

    live = LiveSite(site, rebuild, watched, port)
    tell(f"open {live.address} (stop with Ctrl+C)")
    live.run()
