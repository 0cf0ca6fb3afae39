"""From a plan to a finished folder: pages, assets, stylesheets, manifest, swap."""

from __future__ import annotations

import os
from collections.abc import Collection
from io import FileIO
from pathlib import Path

from weld_packets.site.build.as_built import Holds, noted, remember
from weld_packets.site.build.assets import FILES, STORE, SharedAssets, SharedFiles, link_assets
from weld_packets.site.build.manifest import write_manifest
from weld_packets.site.build.mkdocs_build import MkDocsBuilder, SiteLooks
from weld_packets.site.build.site_card import write_card
from weld_packets.site.build.swap import clear_abandoned, replacing
from weld_packets.site.pages.site_plan import SitePlan


class Emitter:
    """Emits any number of sites below one folder; opening it costs, each site after that is cheap."""

    def __init__(self, looks: SiteLooks, site_root: Path) -> None:
        """Open the theme with the plant's ``looks``, and clear away what killed builds left."""
        clear_abandoned(site_root)
        self._site_root = site_root
        empty = site_root / STORE / "no-pages"
        empty.mkdir(parents=True, exist_ok=True)
        self._builder = MkDocsBuilder(looks, empty)
        self._assets: SharedAssets | None = None
        self._shared_files = SharedFiles(site_root / STORE / FILES)

    def emit(self, plan: SitePlan, fingerprint: str = "") -> Path:
        """Build the site of ``plan`` beside the old one and swap it in; return its folder.

        ``fingerprint`` is kept in the site, and beside it for `is_current`. Where building fails, the old site is left
        as it was.
        """
        target = self._site_root / plan.slug
        with replacing(target) as fresh:
            self._fill(plan, fresh, fingerprint)
            card = plan.card
            note = noted(fresh, Holds(fingerprint, card.steady, card.built, card.renew, card.zone))
        remember(target, note)
        return target

    def _fill(self, plan: SitePlan, fresh: Path, fingerprint: str) -> None:
        assets = self._shared()
        self._builder.build_pages(plan, fresh)
        link_assets(assets, fresh)
        shared = self._shared_files.link_into(plan.shared, fresh)
        data = {page.data_path: page.data.encode() for page in plan.pages if page.data}
        for name, content in {**plan.files, **data}.items():
            (fresh / name).parent.mkdir(parents=True, exist_ok=True)
            (fresh / name).write_bytes(content)
        write_card(plan, fresh, fingerprint)
        linked = {**assets.files, **shared}
        write_manifest(fresh, _contents(fresh, linked), linked)

    def _shared(self) -> SharedAssets:
        if self._assets is None:
            self._assets = self._builder.share_assets(self._site_root)
        return self._assets


def _contents(site: Path, linked: Collection[str]) -> dict[str, bytes]:
    """Return every file of ``site`` but the ``linked`` ones, by its path inside."""
    found: dict[str, bytes] = {}
    for folder, _, names in os.walk(site):
        inside = Path(folder).relative_to(site).as_posix()
        paths = (name if inside == "." else f"{inside}/{name}" for name in names)
        found.update((path, _content(f"{site}/{path}")) for path in paths if path not in linked)
    return found


def _content(path: str) -> bytes:
    with FileIO(path) as file:
        return file.read()
