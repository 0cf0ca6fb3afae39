"""Bars stand beside what differs from the revision before, and beside nothing else."""

from __future__ import annotations

import re
from typing import Any

import pytest
from weld_packets.packet.records.operation import CouponProgram, Program
from weld_packets.packet.records.order import ChangeLine, Control, Packet
from weld_packets.packet.records.settings import WeldGeometry
from weld_packets.revisions.differences.changes import Added, Altered, Change, Removed, SettingChanged, WeldRemoved
from weld_packets.revisions.differences.diff import diff
from weld_packets.site.pages.order_pages import pages_of_revision
from weld_packets.site.pages.revision_pages import plan_released_site
from weld_packets.site.pages.revisions.change_bars import ChangeBars, changed_parts
from weld_packets.site.pages.revisions.change_ranking import (
    class_of,
    gathered,
    is_for_history,
    is_primary,
    rank,
    split_changes,
)
from weld_packets.site.pages.revisions.order_history import RevisionView
from weld_packets.units import Amount


def view(old: Packet, new: Packet) -> RevisionView:
    control = Control(revision="B", status="in force", digest="0" * 64)
    return RevisionView(new, control, changes=diff(old, new), compared_with="A")


def pages(found: RevisionView) -> dict[str, str]:
    return {page.path: page.html for page in pages_of_revision(found)}


def barred(html: str) -> list[str]:
    """Return the opening tags that carry a bar."""
    return re.findall(r"<(\w+)[^>]* data-changed[ >]", html)


def altered_operation(packet: Packet, **changed: Any) -> Packet:
    operation = packet.operations[0].model_copy(update=changed)
    return packet.model_copy(update={"operations": (operation, *packet.operations[1:])})


def test_a_first_revision_has_no_bars(packet: Packet) -> None:
    control = Control(revision="A", status="in force", digest="0" * 64)
    for html in pages(RevisionView(packet, control)).values():
        assert "data-changed" not in html
        assert "since revision" not in html


def test_a_changed_setting_has_a_bar_a_word_and_a_link_to_the_history(packet: Packet) -> None:
    group = packet.operations[0].groups[0]
    force = group.dialled[1].model_copy(update={"amount": Amount(value="2.8", unit="kN")})
    dialled = (group.dialled[0], force, *group.dialled[2:])
    new = altered_operation(packet, groups=(group.model_copy(update={"dialled": dialled}),))
    operation = pages(view(packet, new))["operation-1.html"]
    (mark,) = re.findall(r'<td class="card-value" data-changed>(.*?)</td>', operation, re.DOTALL)
    assert 'changed since revision A:</span><span class="card-one" id="set-operation-1-force">' in mark
    assert "1 change since revision A" in operation
    assert '<a href="history.html#rev-b">All changes, with reason and approval</a>' in operation
    assert "data-changed" not in pages(view(packet, new))["operation-2.html"]


def test_a_value_that_came_about_otherwise_has_its_bar_where_that_is_shown(packet: Packet) -> None:
    group = packet.operations[0].groups[0]
    current = group.dialled[0]
    trace = tuple(p.model_copy(update={"revision": "5"}) if p.table else p for p in current.trace)
    dialled = (current.model_copy(update={"trace": trace}), *group.dialled[1:])
    new = altered_operation(packet, groups=(group.model_copy(update={"dialled": dialled}),))
    found = pages(view(packet, new))
    assert "data-changed" not in found["operation-1.html"]
    assert barred(found["operation-1-calculations.html"]) == ["details"]


def test_another_calculation_of_the_same_value_says_that_the_calculation_changed(packet: Packet) -> None:
    group = packet.operations[0].groups[0]
    first = group.dialled[0]
    point = first.trace[0].model_copy(update={"label": "another input"})
    anew = first.model_copy(update={"trace": (point, *first.trace[1:])})
    new = altered_operation(packet, groups=(group.model_copy(update={"dialled": (anew, *group.dialled[1:])}),))
    calculations = pages(view(packet, new))["operation-1-calculations.html"]
    assert calculations.count(">calculation changed<") == 1
    assert ">changed<" not in calculations


def test_a_table_revision_that_leaves_every_value_as_it_was_marks_no_value(packet: Packet) -> None:
    group = packet.operations[0].groups[0]
    first = group.dialled[0]
    cited = next(point for point in first.trace if point.table)
    trace = tuple(point.model_copy(update={"revision": "9"}) if point is cited else point for point in first.trace)
    anew = first.model_copy(update={"trace": trace})
    table = next(use for use in packet.tables if use.table == cited.table)
    tables = tuple(use.model_copy(update={"revision": "9"}) if use is table else use for use in packet.tables)
    new = altered_operation(packet, groups=(group.model_copy(update={"dialled": (anew, *group.dialled[1:])}),))
    calculations = pages(view(packet, new.model_copy(update={"tables": tables})))["operation-1-calculations.html"]
    assert "changed<" not in calculations


def test_a_changed_step_has_a_bar_and_its_neighbours_have_none(packet: Packet) -> None:
    steps, (stage,) = packet.operations[0].set_up, packet.operations[0].set_up_stages
    changed = steps[1].model_copy(update={"value": "F-20"})
    tasks = tuple(
        task.model_copy(update={"value": "F-20"}) if task.key == changed.key else task for task in stage.tasks
    )
    new = altered_operation(
        packet,
        set_up=(steps[0], changed, *steps[2:]),
        set_up_stages=(stage.model_copy(update={"tasks": tasks}),),
    )
    operation = pages(view(packet, new))["operation-1-set-up.html"]
    assert barred(operation) == ["li"]
    assert operation.index("data-changed") < operation.index("F-20")


def test_what_is_removed_marks_no_neighbour(packet: Packet) -> None:
    new = altered_operation(packet, set_up=packet.operations[0].set_up[1:])
    found = view(packet, new)
    assert barred(pages(found)["operation-1-set-up.html"]) == []
    assert "1 change since revision A" in pages(found)["operation-1.html"]


def test_a_moved_weld_is_marked_in_the_table_of_welds(plant: Any) -> None:
    old, new = plant.packet, altered_operation(plant.packet, geometry=_moved(plant.packet.operations[0].geometry))
    assert barred(pages(view(old, new))["operation-1-map.html"]) == ["tr"]


def _moved(geometry: tuple[WeldGeometry, ...]) -> tuple[WeldGeometry, ...]:
    return (geometry[0], geometry[1].model_copy(update={"pieces": (("66", "60", "0"),)}), *geometry[2:])


def test_every_change_lies_in_some_part(plant: Any) -> None:
    plant.three()
    for found in plant.history(20).views:
        marked = changed_parts(found.packet, found.changes)
        assert bool(marked) == bool(found.changes)


def test_settings_and_welds_lead_and_what_follows_from_them_does_not(plant: Any) -> None:
    plant.three()
    second = next(one for one in plant.history(20).views if one.name == "B")
    leading, following = split_changes(second.changes)
    assert [str(change).partition(",")[0] for change in leading] == ["operation 1"]
    assert not any(is_primary(change) for change in following)


TABLE = ("tables", "spot-lc")
SORTED: list[Change] = [
    SettingChanged((), (("operations", "operation-1", "groups", "g1", "dialled", "force"),), "Force", "2", "3", ()),
    WeldRemoved((), (("operations", "operation-1", "geometry", "S1"),), "S1", "R11", "0/0"),
    Altered((), (("operations", "operation-1", "programs", "R11", "number"),), "number", "1", "2"),
    Altered((), (("operations", "operation-1", "results", "first-off/t1/leg", "minimum"),), "minimum", "3.5", "3.6"),
    Altered((), (("head", "quantity"),), "quantity", "1", "2"),
    Altered((), (("callouts", "crush", "avoid"),), "avoid", "a", "b"),
    Altered((), (("operations", "operation-1", "set_up", "3", "do"),), "step", "a", "b"),
    Altered((), (("cautions", "1"),), "caution", "a", "b"),
]


def test_changes_are_stated_from_settings_down_to_texts() -> None:
    assert [rank(change) for change in SORTED] == list(range(8))
    leading, following = split_changes(reversed(SORTED))
    assert (leading, following) == (SORTED[:6], SORTED[6:])


RESULT = ("operations", "operation-1", "results", "first-off/t1/leg")


def test_a_result_that_is_new_or_gone_or_has_another_limit_is_a_limit_of_acceptance() -> None:
    assert class_of(Added((), (RESULT,), "leg")) == class_of(Removed((), (RESULT,), "leg")) == "limits of acceptance"
    for limit in ("minimum", "maximum"):
        assert class_of(Altered((), ((*RESULT, limit),), limit, "3.5", "3.6")) == "limits of acceptance"
    assert class_of(Altered((), ((*RESULT, "what"),), "what", "leg", "legs")) == "texts, ranges and what follows"


@pytest.mark.parametrize(
    ("path", "before", "after", "apart"),
    [
        (("head", "revision_intent"), "first", "second", True),
        ((*TABLE, "revision"), "A", "B", True),
        (("run", "rules", "C6", "basis"), "28 welds a part", "30 welds a part", True),
        (("run", "consumables", "wire", "start"), "2 kg used, LK-1 revision C", "2 kg used, LK-1 revision D", True),
        (
            ("run", "consumables", "wire", "start"),
            "2 kg used by LK-1 revision C",
            "3 kg used by LK-1 revision D",
            False,
        ),
        (("head", "due"), "2026-12-01", "2026-12-02", False),
    ],
)
def test_what_leaves_all_that_is_done_as_it_was_is_for_the_history(
    path: tuple[str, ...], before: str, after: str, *, apart: bool
) -> None:
    assert is_for_history(Altered((), (path,), path[-1], before, after)) is apart


def test_what_differs_in_the_use_of_a_table_is_one_line() -> None:
    changes = [
        Altered(("table spot-lc",), ((*TABLE, "revision"),), "revision", "A", "B"),
        Added(("table spot-lc", "note"), ((*TABLE, "notes", "1"),), "no number changed"),
        Altered((), (("head", "revision_intent"),), "reason", "a", "b"),
    ]
    assert gathered(changes) == ["table spot-lc: revision A -> B; note, no number changed added", "reason a -> b"]


def test_the_history_and_the_first_page_count_the_same_changes(plant: Any) -> None:
    plant.three()
    history = plant.history(20)
    (page,) = [one.html for one in plan_released_site(history).pages if one.path == "history.html"]
    for found in (one for one in history.views if one.compared_with):
        count = sum(map(len, ChangeBars(found).all))
        assert count
        first = pages(found)["index.html"]
        said = f"{count} change" + ("s" if count > 1 else "")
        assert f"<summary>{said} since revision {found.compared_with}</summary>" in first
        assert f"What changed since revision {found.compared_with}: {said}</h3>" in page


def test_bars_say_nothing_without_a_revision_before(packet: Packet) -> None:
    bars = ChangeBars(RevisionView(packet, Control(revision="A", status="in force", digest="0")))
    assert (bars.since, bars.link, bars.all) == ("", "", ([], []))


@pytest.mark.parametrize("name", ["index", "changeover", "safety", "operation-1", "start", "inspection", "sources"])
def test_every_kind_of_page_shows_its_bars(packet: Packet, name: str) -> None:
    head = packet.head.model_copy(update={"quantity": 99})
    new = altered_operation(packet.model_copy(update={"head": head}), fixture="FX-9", programs=_renumbered(packet))
    new = new.model_copy(
        update={
            "changeover": packet.changeover
            and packet.changeover.model_copy(update={"lines": (_other_after(packet), *packet.changeover.lines[1:])}),
            "callouts": (packet.callouts[0].model_copy(update={"avoid": "Stay out."}), *packet.callouts[1:]),
            "start": (packet.start[0].model_copy(update={"see": "Agreed."}), *packet.start[1:]),
            "inspections": (packet.inspections[0].model_copy(update={"accept": "at least 5 mm"}),),
            "tables": (packet.tables[0].model_copy(update={"revision": "5"}),),
        }
    )
    assert "data-changed" in pages(view(packet, new))[f"{name}.html"]


def _renumbered(packet: Packet) -> tuple[Program, ...]:
    one, *others = packet.operations[0].programs
    return (one.model_copy(update={"number": "2999"}), *others)


def _other_after(packet: Packet) -> ChangeLine:
    assert packet.changeover is not None
    return packet.changeover.lines[0].model_copy(update={"after": "2999"})


def test_another_coupon_program_leads_and_is_named_with_its_robot_and_weld_schedule(packet: Packet) -> None:
    coupon = CouponProgram(robot="R11", weld_schedule="7", program="T7", welds="Stack k1")
    old = altered_operation(packet, coupon_programs=(coupon,))
    new = altered_operation(packet, coupon_programs=(coupon.model_copy(update={"program": "T9"}),))
    ((change,), following) = split_changes(diff(old, new))
    assert str(change) == "operation 1, coupon program of R11 for weld schedule 7: program T7 -> T9"
    assert following == []
