"""A site says which inputs it was built from."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from weld_packets.packet.records import Control, Packet
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.site_card import is_current
from weld_packets.site.pages.order_pages import plan_draft_site

DAY = date(2026, 11, 25)


def test_a_built_site_is_current_for_its_own_fingerprint_only(
    looks: SiteLooks, tmp_path: Path, packet: Packet, control: Control
) -> None:
    site = Emitter(looks, tmp_path).emit(plan_draft_site(packet, control), "abc")
    assert is_current(site, "abc", DAY)
    assert not is_current(site, "abd", DAY)
    assert not is_current(tmp_path / "never-built", "abc", DAY)


def test_a_site_that_lost_its_first_page_is_not_current(
    looks: SiteLooks, tmp_path: Path, packet: Packet, control: Control
) -> None:
    site = Emitter(looks, tmp_path).emit(replace(plan_draft_site(packet, control), slug="lost"), "abc")
    (site / "index.html").unlink()
    assert not is_current(site, "abc", DAY)
