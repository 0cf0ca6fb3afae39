"""One process's tools for building sites: register, tables and theme are opened once, each when first needed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from functools import cache, cached_property
from pathlib import Path

from weld_packets.errors import PacketError, refusal
from weld_packets.plant.archive import today_of
from weld_packets.plant.drafts import Drafts
from weld_packets.plant.fitted.carrying import Remembered
from weld_packets.plant.orders import open_workspace
from weld_packets.revisions.queries.archive import Archive
from weld_packets.revisions.queries.proposed import proposed_of
from weld_packets.revisions.records.effectivity import UTC_ZONE
from weld_packets.revisions.status.status import draft_control
from weld_packets.revisions.store.clock import moment_now
from weld_packets.revisions.store.files import open_archive, unlisted
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.pages.order_pages import plan_draft_site
from weld_packets.site.pages.revision_pages import plan_released_site
from weld_packets.site.pages.revisions.order_history import OrderHistory, load_order_history, with_draft
from weld_packets.site.pages.site_plan import SitePlan
from weld_packets.sources.digests import OrderDigests
from weld_packets.sources.folders import FITTED, INSTRUCTIONS, OVERRIDES, PREVIEWS, SITES
from weld_packets.sources.looks import load_looks
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units.zones import day_at


class Worker:
    """Builds the site of one order after the other."""

    def __init__(self, root: Path, archive: Archive | None = None) -> None:
        """Take the released records from ``archive`` where one is given; raise PacketError for an altered register."""
        self._root = root
        self.archive = archive or open_archive(root / INSTRUCTIONS)
        """The released records as they were then."""
        self._remembered: Remembered | None = None

    def prepare(self, slugs: Iterable[str], digests: OrderDigests | None = None) -> None:
        """Load what building ``slugs`` takes; raise SourceError where it takes the tables and they are wrong.

        Tables are for drafts: a released order is shown from its records alone. With ``digests`` it is remembered what
        orders leave fitted. Raises PacketError where the clock cannot say what is in force.
        """
        self._remembered = Remembered(self._root / FITTED, digests.of) if digests else None
        register = self.archive.register
        today_of(register.entries, register)
        if not all(register.every(slug) for slug in slugs):
            _ = self._workspace
        self._emitter_in(self._root / SITES)

    def build(self, slug: str, digest: str = "") -> Path:
        """Build the site of ``slug`` as operators see it and return its folder.

        It shows the released revisions; the draft only where nothing has been released yet.
        Raises PacketError where that cannot be.
        """
        instructions = self._root / INSTRUCTIONS
        if unlisted(instructions, self.archive.register, slug):  # or it was recorded since the register was read
            self.archive = open_archive(instructions)
            if strays := unlisted(instructions, self.archive.register, slug):
                raise PacketError(strays)
        history = self._history(slug)
        plan = plan_released_site(history) if history else self._draft_plan(slug)
        return self._emitter_in(self._root / SITES).emit(plan, digest)

    def preview(self, slug: str) -> Path:
        """Build the draft of ``slug``, beside its releases if there are any, apart from what operators see."""
        history = self._history(slug)
        emitter = self._emitter_in(self._root / PREVIEWS)
        if history is None:
            return emitter.emit(self._draft_plan(slug))
        return emitter.emit(plan_released_site(with_draft(history, self._drafts.draft(slug))))

    def rendered(self, slug: str, into: Path, built: date, register: str, fingerprint: str) -> Path:
        """Render the released site of ``slug`` below the folder ``into`` as it was on the day ``built``.

        ``register`` and ``fingerprint`` are what the site says of the register, and its card of its inputs.
        Raises PacketError where there is no release, or a record is not as it was released.
        """
        history = load_order_history(self.archive, slug, built)
        if history is None:
            raise refusal("no revision of this order is released", "build the draft", value=slug)
        plan = plan_released_site(replace(history, register=register))
        return self._emitter_in(into).emit(plan, fingerprint)

    def rendered_draft(self, slug: str, into: Path, fingerprint: str) -> Path:
        """Render the draft of ``slug`` below the folder ``into``; raise PacketError where its sources are wrong."""
        return self._emitter_in(into).emit(self._draft_plan(slug), fingerprint)

    @cache  # noqa: B019 - a worker lives as long as its process
    def _emitter_in(self, folder: Path) -> Emitter:
        return Emitter(self._looks, folder)

    def _history(self, slug: str) -> OrderHistory | None:
        return load_order_history(self.archive, slug, today_of(self.archive.register.of(slug), self.archive.register))

    def _draft_plan(self, slug: str) -> SitePlan:
        packet = self._drafts.draft(slug)
        day = day_at(moment_now(), packet.head.time_zone or UTC_ZONE)
        return plan_draft_site(packet, draft_control(packet), proposed_of(self.archive, slug, day))

    @cached_property
    def _workspace(self) -> Workspace:
        return open_workspace(self._root)

    @cached_property
    def _drafts(self) -> Drafts:
        return Drafts(self._workspace, self.archive, self._remembered)

    @cached_property
    def _looks(self) -> SiteLooks:
        looks = load_looks(self._root)
        return SiteLooks(
            overrides=self._root / OVERRIDES,
            logo=looks.theme.logo or "",
            favicon=looks.theme.favicon or "",
            styles=looks.extra_css,
            address=looks.extra.address or "",
        )
