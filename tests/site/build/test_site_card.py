"""A site says which inputs it was built from."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from weld_packets.packet.program_use import ProgramUse
from weld_packets.packet.records.order import Control, Packet
from weld_packets.site.build.as_built import is_current
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.site_card import CARD, Cards, SharedPrograms
from weld_packets.site.pages.order_pages import plan_draft_site

AT = datetime(2026, 11, 25, 9, tzinfo=UTC)


def test_a_built_site_is_current_for_its_own_fingerprint_only(
    looks: SiteLooks, tmp_path: Path, packet: Packet, control: Control
) -> None:
    site = Emitter(looks, tmp_path).emit(plan_draft_site(packet, control), "abc")
    assert is_current(site, "abc", AT)
    assert not is_current(site, "abd", AT)
    assert not is_current(tmp_path / "never-built", "abc", AT)


def test_a_site_that_lost_its_first_page_is_not_current(
    looks: SiteLooks, tmp_path: Path, packet: Packet, control: Control
) -> None:
    site = Emitter(looks, tmp_path).emit(replace(plan_draft_site(packet, control), slug="lost"), "abc")
    (site / "index.html").unlink()
    assert not is_current(site, "abc", AT)


def test_a_site_holds_until_midnight_of_the_plants_last_day(
    looks: SiteLooks, tmp_path: Path, packet: Packet, control: Control
) -> None:
    plan = plan_draft_site(packet, control)
    card = replace(plan.card, steady=("2026-11-24", "2026-11-25"), zone="America/Chicago")
    site = Emitter(looks, tmp_path).emit(replace(plan, slug="chicago", card=card), "abc")
    hours = {(24, 5): False, (24, 6): True, (26, 5): True, (26, 6): False}  # Chicago is six hours behind
    assert {key: is_current(site, "abc", datetime(2026, 11, *key, tzinfo=UTC)) for key in hours} == hours


def test_a_site_is_made_anew_after_its_day(looks: SiteLooks, tmp_path: Path, packet: Packet, control: Control) -> None:
    plan = plan_draft_site(packet, control)
    site = Emitter(looks, tmp_path).emit(replace(plan, card=replace(plan.card, renew="2026-11-25")), "abc")
    days = {25: True, 26: False}
    assert {day: is_current(site, "abc", datetime(2026, 11, day, 12, tzinfo=UTC)) for day in days} == days


def test_a_site_that_was_built_by_a_clock_that_was_ahead_is_made_anew(
    looks: SiteLooks, tmp_path: Path, packet: Packet, control: Control
) -> None:
    plan = plan_draft_site(packet, control)
    site = Emitter(looks, tmp_path).emit(replace(plan, card=replace(plan.card, built="2026-11-25")), "abc")
    days = {23: False, 24: True, 25: True, 26: True}  # a plant's day may be ahead of that of UTC
    assert {day: is_current(site, "abc", datetime(2026, 11, day, 12, tzinfo=UTC)) for day in days} == days


def test_cards_are_those_of_whole_sites_by_name_and_read_anew_each_time(
    looks: SiteLooks, tmp_path: Path, packet: Packet, control: Control
) -> None:
    plan = plan_draft_site(packet, control)
    emitter = Emitter(looks, tmp_path)
    for slug in ("second", "first"):
        emitter.emit(replace(plan, slug=slug), "abc")
    (tmp_path / "no-site").mkdir()
    cards = Cards(tmp_path)
    assert list(cards) == ["first", "second"]
    assert len(cards) == 2
    assert "no-site" not in cards
    assert {card["fingerprint"] for card in cards.values()} == {"abc"}
    emitter.emit(replace(plan, slug="second"), "abd")
    assert [(name, card["fingerprint"]) for name, card in cards.items()] == [("first", "abc"), ("second", "abd")]
    (tmp_path / "first" / CARD).write_text(json.dumps({"order": "half a card"}))
    assert list(cards) == ["second"]


def test_only_programs_of_a_robot_that_several_orders_use_are_compared() -> None:
    def use(robot: str, program: str) -> dict[str, object]:
        return {"robot": robot, "program": program, "place": "p", "coupon": True}

    cards = {
        "a": {"programs": [use("R1", "7"), use("R1", "8"), use("R1", "8")]},
        "b": {"programs": [use("R2", "8"), use("R1", "9")]},
        "c": {"programs": [use("R1", "7")]},
    }
    shared = [ProgramUse("R1", "7", "p", coupon=True)]
    programs = SharedPrograms()
    for name, card in cards.items():
        programs.add(name, card)
    assert list(programs.uses(cards)) == [("a", shared), ("c", shared)]
