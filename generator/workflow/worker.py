"""One process's tools for building sites: the tables and the theme are opened once."""

from __future__ import annotations

from pathlib import Path

from generator.revisions.status import draft_control
from generator.site.emit import Emitter
from generator.site.pages import plan_site
from generator.workflow.drafting import draft
from generator.workflow.places import SITES
from generator.workflow.tables import open_workspace


class Worker:
    """Builds the site of one order after the other."""

    def __init__(self, root: Path) -> None:
        """Load the tables and open the theme; raise SourceError where the tables are wrong."""
        self._workspace = open_workspace(root)
        self._emitter = Emitter(root, root / SITES)

    def build(self, slug: str, digest: str = "") -> Path:
        """Build the site of ``slug`` and return its folder; raise PacketError where that cannot be."""
        packet = draft(self._workspace, slug)
        return self._emitter.emit(plan_site(packet, draft_control(packet)), digest)
