"""Limits of imperfections as an operation prints them: of its own quality level and thickness."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from weld_packets.errors import SourceError
from weld_packets.packet.operation.faults import fault_lines
from weld_packets.packet.operation.inspections import accepted, inspection_lines
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import WeldLimit
from weld_packets.sources.tables.tables import Workspace, load_workspace
from weld_packets.units import Amount, quantity
from weld_packets.units.scales import limit_amount

ROOT = Path(__file__).parents[3]
SHORT = "; only over a short length (25 mm in any 100 mm of weld, a quarter of a weld shorter than 100 mm)"
NBSP = "\N{NO-BREAK SPACE}"


@pytest.fixture(scope="module")
def table(demo_workspace: Workspace) -> Any:
    return demo_workspace.approved.imperfections


def plain(text: str) -> str:
    return text.replace(NBSP, " ")


def view_of(make: Any, table: Any, **more: Any) -> Any:
    """Return a view of the arc operation of two 2 mm sheets, a 3, with the shipped limits."""
    (view,) = make.views(make.arc_operation(**more))
    return replace(view, approved=replace(view.approved, imperfections=table))


def found(view: Any, key: str) -> list[WeldLimit]:
    return [limit for limit in view.limits if limit.key == key]


def sheets(*thicknesses: str) -> list[dict[str, str]]:
    return [
        {"id": f"p{number}", "name": f"Part {number}", "material": "DC01", "thickness": thickness}
        for number, thickness in enumerate(thicknesses, 1)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("level", "thicknesses", "expected"),
    [
        ("B", ("3 mm", "3 mm"), "not permitted"),
        ("C", ("3 mm", "3 mm"), f"depth at most 0.3 mm (0.011 in), that is 0.1 of the thickness 3 mm{SHORT}"),
        ("D", ("3 mm", "3 mm"), f"depth at most 0.6 mm (0.023 in), that is 0.2 of the thickness 3 mm{SHORT}"),
        ("B", ("4 mm", "6 mm"), "depth at most 0.2 mm (0.007 in), that is 0.05 of the thickness 4 mm, at most 0.5 mm"),
        ("C", ("6 mm", "4 mm"), "depth at most 0.4 mm (0.015 in), that is 0.1 of the thickness 4 mm, at most 0.5 mm"),
        ("C", ("6 mm", "6 mm"), "depth at most 0.5 mm (0.019 in), that is 0.1 of the thickness 6 mm, at most 0.5 mm"),
    ],
)  # fmt: skip
def test_undercut_is_that_of_the_own_level_and_of_the_thinner_part(
    make: Any, table: Any, level: str, thicknesses: tuple[str, str], expected: str
) -> None:
    (limit,) = found(view_of(make, table, quality=level, components=sheets(*thicknesses)), "undercut")
    assert (limit.level, plain(limit.text)) == (level, expected)
    assert limit.short is expected.endswith(SHORT)


@pytest.mark.parametrize(
    ("key", "level", "expected"),
    [
        ("throat-too-small", "C", f"shortfall from the required throat 3 mm at most 0.2 mm (0.007 in){SHORT}"),
        (
            "throat-too-large",
            "B",
            (
                "excess over the required throat 3 mm at most 1.45 mm (0.057 in), that is 1 mm + 0.15 of the throat "
                "3 mm, at most 3 mm"
            ),
        ),
    ],
)
def test_a_throat_too_small_or_too_large_is_counted_from_the_one_that_is_required(
    make: Any, table: Any, key: str, level: str, expected: str
) -> None:
    (limit,) = found(view_of(make, table, quality=level), key)
    assert plain(limit.text) == expected


def test_a_sheet_below_the_standard_has_no_limit_and_says_so(make: Any, table: Any) -> None:
    (limit,) = found(view_of(make, table, components=sheets("0.5 mm", "0.5 mm")), "undercut")
    assert limit.text == "no source gives a limit at this thickness"
    assert limit.size is None


def test_a_limit_from_memory_says_so(make: Any, table: Any) -> None:
    view = view_of(make, table)
    assert found(view, "throat-too-small")[0].standing == "from memory"
    assert found(view, "undercut")[0].standing == "read"


def test_a_limit_of_an_unknown_width_is_stated_as_its_rule(demo: Packet) -> None:
    (limit,) = (limit for limit in demo.operations[1].limits if limit.key == "excess-penetration")
    assert (plain(limit.text), limit.size) == ("height at most 1 mm + 0.3 of the measured root width", None)
    assert limit.of.startswith("square butt")
    assert limit.welds == ("J1", "J2")


def test_an_order_in_inches_has_its_limits_in_inches_first(make: Any, table: Any) -> None:
    (view,) = make.views(
        make.arc_operation(quality="C", components=sheets("0.25 in", "0.25 in")), show_first="US customary"
    )
    (limit,) = found(replace(view, approved=replace(view.approved, imperfections=table)), "undercut")
    assert plain(limit.text) == (
        "depth at most 0.019 in (0.5 mm), that is 0.1 of the thickness 0.25 in (6.35 mm), at most 0.019 in (0.5 mm)"
    )


@pytest.mark.parametrize(
    ("millimetres", "shown"), [(0.3, ("0.3", "0.011")), (0.3175, ("0.31", "0.012")), (0.2999, ("0.29", "0.011"))]
)
def test_a_limit_is_never_rounded_up(millimetres: float, shown: tuple[str, str]) -> None:
    amount = limit_amount(quantity(millimetres, "mm"), "metric")
    assert amount == Amount(value=shown[0], unit="mm", second=shown[1], second_unit="in")


def test_spots_are_not_judged_by_these_limits(make: Any, table: Any) -> None:
    (view,) = make.views(make.spot_operation())
    assert replace(view, approved=replace(view.approved, imperfections=table)).limits == ()


@pytest.fixture(scope="module")
def demo(demo_packets: dict[str, Packet]) -> Packet:
    return demo_packets["lk-2055-outdoor-column"]


def test_a_fault_and_a_check_carry_the_limits_that_they_name(make: Any, table: Any) -> None:
    view = view_of(make, table)
    faults = tuple(fault.model_copy(update={"limits": ("undercut",)}) for fault in view.approved.faults)
    checks = tuple(
        check.model_copy(update={"limits": ("burn-through",)} if check.id == "macro" else {})
        for check in view.approved.inspections
    )
    view = replace(view, approved=replace(view.approved, faults=faults, inspections=checks))
    assert [[plain(text)[:26] for text in line.limits] for line in fault_lines(view)] == [
        ["level C, undercut: depth a"]
    ]
    macro, look = inspection_lines([view])
    assert (macro.limits, look.limits) == (("level C, burn-through: not permitted",), ())
    assert (
        accepted(view.inspections[0], view, ("level C, burn-through: not permitted",))
        == "Root fused; level C, burn-through: not permitted"
    )


@pytest.mark.parametrize(
    ("operation", "wanted", "left_out"),
    [
        (0, "Throat and legs of every fillet", "Face, root and alignment of every butt"),
        (1, "Face, root and alignment of every butt", ""),
    ],
)
def test_a_check_of_one_joint_is_only_where_the_joint_is_welded(
    demo: Packet, operation: int, wanted: str, left_out: str
) -> None:
    checked = [line.what for line in demo.inspections if line.operation == demo.operations[operation].key]
    assert wanted in checked
    assert left_out not in checked


def test_every_butt_of_the_demo_has_limits_for_root_face_and_alignment(demo: Packet) -> None:
    (line,) = (line for line in demo.inspections if line.what.startswith("Face, root"))
    names = [text.split(", ", 1)[1].split(" of ")[0] for text in line.limits]
    assert {"incomplete root penetration", "excess penetration", "excess weld metal"} <= set(names)
    assert {"root concavity", "sagging or incompletely filled groove", "linear misalignment"} <= set(names)


def test_an_undercut_of_the_level_b_operation_stops_at_its_own_limit(demo_packets: dict[str, Packet]) -> None:
    """LK-2063 operation 1: level B, 0.25 in; ISO 5817 5011: 0.05 t is 0.3175 mm, of 0.5 mm at most."""
    beams = demo_packets["lk-2063-coastal-column"].operations[0]
    (fault,) = (fault for fault in beams.faults if "undercut" in fault.sign)
    assert fault.stop_when == "The undercut is outside its limit"
    assert [plain(text) for text in fault.limits] == [
        (
            "level B, undercut: depth at most 0.012 in (0.31 mm), that is 0.05 of the thickness 0.25 in (6.35 mm), "
            "at most 0.019 in (0.5 mm)"
        )
    ]


def test_a_step_of_a_prove_out_says_where_its_limits_are_and_all_are_there(
    demo_packets: dict[str, Packet],
) -> None:
    """What a setter with gloves on reads is short, and no limit is lost: each is beside a result of the same stage."""
    referred, limited = 0, 0
    for packet in demo_packets.values():
        results = {operation.key: operation.results for operation in packet.operations}
        for check in (line for line in packet.inspections if line.stage in ("coupon", "first-off")):
            limited += bool(check.limits)
            beside = " ".join(each.accept for each in results[check.operation] if each.stage == check.stage)
            for limit in check.limits:
                assert limit.rpartition(": ")[2] in beside
        for operation in packet.operations:
            for step in operation.prove:
                referred += "on paper under Results" in step.see
                assert len(step.see) < 500, step.see
    assert referred == limited > 0


def test_sources_name_the_imperfections_that_were_read(demo: Packet) -> None:
    (use,) = (use for use in demo.tables if use.table == "imperfections")
    assert {"undercut", "misalignment"} <= set(use.rows)


def test_a_table_may_only_name_imperfections_that_there_are(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "tables", tmp_path / "tables")
    faults = tmp_path / "tables" / "faults.yaml"
    faults.write_text(faults.read_text("utf-8").replace("limits: [undercut]", "limits: [undercutt]"), "utf-8")
    with pytest.raises(SourceError) as refused:
        load_workspace(tmp_path)
    (problem,) = refused.value.problems
    assert (problem.file, problem.key, problem.value) == ("tables/faults.yaml", "entries[1].limits[0]", "undercutt")
    assert "undercut" in problem.remedy
