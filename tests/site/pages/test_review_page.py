"""The page for an approver: what is proposed is whole in the site, with what it changes, the weightiest first."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.values import Remark
from weld_packets.revisions.queries.proposed import proposed_of
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.status.release_rules import Release, Signatures
from weld_packets.revisions.status.status import draft_control
from weld_packets.revisions.store.proposing import record_proposal
from weld_packets.site.pages.all_orders.order_list import OrderList
from weld_packets.site.pages.order_pages import plan_draft_site
from weld_packets.site.pages.revision_pages import plan_released_site
from weld_packets.site.pages.revisions.change_ranking import CLASSES, class_of, in_classes
from weld_packets.site.pages.site_plan import PageFragment, SitePlan
from weld_packets.units import Amount


def words(markup: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", markup)))


def page(plan: SitePlan, path: str) -> PageFragment:
    return next(one for one in plan.pages if one.path == path)


def propose(plant: Any, packet: Packet, day: int) -> None:
    by = Signatures(
        author="welding engineer",
        approver="",
        reason="more <parts>",
        effective=Effective(kind="date", start="2026-10-30"),
        recorded=datetime(2026, 10, day, 8, 0, tzinfo=UTC),
        code=Code(version="0.2.0", commit="0" * 40),
    )
    record_proposal(plant.instructions, Release(packet, (), by))


def quantity(packet: Packet, count: int) -> Packet:
    return packet.model_copy(update={"head": packet.head.model_copy(update={"quantity": count})})


@pytest.fixture
def released(plant: Any) -> SitePlan:
    """The site of an order in force at C, of which more parts are proposed with the old place of a weld."""
    plant.three()
    newest = plant.history(20).main.packet
    operation = plant.packet.operations[0]
    moved = newest.operations[0].model_copy(update={"geometry": operation.geometry, "welds": operation.welds})
    changed = newest.model_copy(update={"operations": (moved, *newest.operations[1:])})
    propose(plant, quantity(changed, 777), 20)
    return plan_released_site(plant.history(21))


def test_the_page_names_author_reason_digest_and_the_command_that_approves_exactly_that(
    plant: Any, released: SitePlan
) -> None:
    said = words(page(released, "review.html").html)
    digest = packet_digest(proposed_of(plant.archive(), "pl-2041", plant.history(21).built)[0].packet)
    assert "Why: more <parts>" in said
    assert "Author welding engineer" in said
    assert f"packets release pl-2041 --approver NAME --digest {digest}" in said
    assert "Compared with revision C" in said


def test_welds_come_before_the_head_of_the_order_and_classes_that_are_empty_are_said(released: SitePlan) -> None:
    said = words(page(released, "review.html").html)
    assert "Without a change: settings; programs, fixtures, components; limits of acceptance." in said
    assert said.index("Welds: 1") < said.index("weld S2 moved") < said.index("Head of the order: 1")
    assert "777" in said[said.index("Head of the order: 1") :]
    assert "before and after" in said


def test_the_proposed_pages_are_kept_whole_beside_those_in_force_and_say_that_they_are_not_approved(
    released: SitePlan,
) -> None:
    main = {one.path for one in released.pages if not one.folder} - {"history.html", "check.html", "review.html"}
    assert {one.path.removeprefix("proposed/") for one in released.pages if one.folder == "proposed"} == main
    card = page(released, "proposed/operation-1.html")
    assert card.stamp is not None
    assert (card.stamp.status, card.stamp.revision) == ("proposed", "")
    assert card.notice is not None
    assert (card.notice.href, card.listed, card.search) == ("../review.html", False, ())
    assert "not approved" in card.notice.text
    assert [choice.label for choice in card.choices if choice.chosen] == ["Proposed"]


def test_the_order_and_the_list_of_orders_lead_to_the_page(released: SitePlan) -> None:
    assert released.stamp.status == "in force"
    assert '<a href="review.html">' in page(released, "index.html").html
    assert '<a href="../review.html">' in page(released, "proposed/index.html").html
    assert released.card.review == "review.html"
    assert "Proposed by welding engineer, from 2026-10-30: waits for approval" in released.card.facts


def test_a_first_revision_is_shown_value_by_value(plant: Any) -> None:
    propose(plant, quantity(plant.packet, 777), 4)
    proposed = proposed_of(plant.archive(), "pl-2041", datetime(2026, 10, 4, tzinfo=UTC).date())
    plan = plan_draft_site(plant.packet, draft_control(plant.packet), proposed)
    said = words(page(plan, "review.html").html)
    assert "Compared with nothing: first revision" in said
    assert plant.packet.operations[0].groups[0].dialled[0].label in said
    assert '<a href="review.html">' in page(plan, "index.html").html
    assert page(plan, "proposed/index.html").stamp is not None


def test_an_approver_sees_whether_a_torch_pushes_or_drags(plant: Any) -> None:
    """The number of the travel angle does not say it."""
    operation = plant.packet.operations[0]
    group = operation.groups[0]
    drag = Remark(weight="note", text="drag", reader="setter")
    leans = Amount(value="10", unit="°", second="", second_unit="")
    angle = group.dialled[0].model_copy(
        update={"label": "Travel angle", "figure": "travel_angle", "amount": leans, "window": None, "remarks": (drag,)}
    )
    shown = operation.model_copy(update={"groups": (group.model_copy(update={"dialled": (angle,)}),)})
    propose(plant, plant.packet.model_copy(update={"operations": (shown, *plant.packet.operations[1:])}), 4)
    proposed = proposed_of(plant.archive(), "pl-2041", datetime(2026, 10, 4, tzinfo=UTC).date())
    plan = plan_draft_site(plant.packet, draft_control(plant.packet), proposed)
    assert re.search(r"Travel angle +10\s?° drag ", words(page(plan, "review.html").html))


def test_without_a_proposal_a_site_has_no_such_page(plant: Any) -> None:
    plant.three()
    plan = plan_released_site(plant.history(20))
    assert not any(one.name == "review" or one.folder == "proposed" for one in plan.pages)
    assert "review.html" not in page(plan, "index.html").html
    assert plan.card.review == ""
    assert OrderList().pages()["index.html"].count("Review what is proposed") == 0


def test_two_proposals_after_a_merge_have_a_page_each(plant: Any) -> None:
    propose(plant, quantity(plant.packet, 777), 4)
    (one,) = proposed_of(plant.archive(), "pl-2041", datetime(2026, 10, 4, tzinfo=UTC).date())
    plan = plan_draft_site(plant.packet, draft_control(plant.packet), (one, replace(one)))
    assert {"review.html", "review-2.html"} <= {each.path for each in plan.pages}
    assert "proposed-2/index.html" in page(plan, "review-2.html").html


def test_every_class_of_changes_has_its_place(plant: Any, released: SitePlan) -> None:
    assert released.title
    (one,) = proposed_of(plant.archive(), "pl-2041", plant.history(21).built)
    found = in_classes(one.changes)
    names = [name for name, _ in found]
    assert names == sorted(names, key=CLASSES.index)
    assert sum(len(same) for _, same in found) == len(one.changes)
    assert all(class_of(change) == name for name, same in found for change in same)
