from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.calculation.trace import Remark, Weight
from weld_packets.diagrams.illustrations import scene_of, seam_lines, spot_points, weld_maps
from weld_packets.diagrams.scene import Bend, Straight
from weld_packets.packet.operation.welds import component_outlines
from weld_packets.units import kinds


def _plate(**outline: Any) -> dict[str, Any]:
    points = [["0", "0"], ["10", "0"], ["10", "5"]]
    return {"id": "p1", "name": "Plate", "material": "DC01", "thickness": "3 mm",
            "outlines": [{"unit": "cm", "points": points, **outline}]}  # fmt: skip


@pytest.mark.parametrize(
    ("plane", "last"),
    [("XY", ("100.00", "50.00", "7.00")), ("XZ", ("100.00", "7.00", "50.00")), ("YZ", ("7.00", "100.00", "50.00"))],
)
def test_outline_of_a_plane_is_placed_in_the_datum_in_millimetres(make: Any, plane: str, last: tuple[str, ...]) -> None:
    (view,) = make.views(make.spot_operation(components=[_plate(plane=plane, offset="7 mm"), {**_plate(), "id": "p2"}]))
    assert component_outlines(view)[0].points[-1] == last


def test_spots_are_numbered_for_each_robot(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    assert [(spot.side, spot.sequence, spot.label) for spot in spot_points(view)] == [
        ("A", 1, "A1"), ("A", 2, "A2"), ("B", 1, "B1"), ("B", 2, "B2")
    ]  # fmt: skip
    assert spot_points(view)[0].at == pytest.approx((30.0, 50.8, 0.0))


def test_seams_carry_path_size_runs_and_distance_of_the_tip(make: Any) -> None:
    first, second = seam_lines(make.views(make.arc_operation())[0])
    assert (first.size, first.passes, first.joint, first.stick_out) == ("a3", 2, "T", "12\N{NO-BREAK SPACE}mm")
    assert isinstance(first.trail.pieces[0], Straight)
    assert isinstance(second.trail.pieces[0], Bend)
    assert second.trail.end == pytest.approx((50.8, 0.0, 0.0))


@pytest.mark.parametrize(("direction", "angle"), [("push", 10.0), ("drag", -10.0)])
def test_a_dragging_torch_leans_the_other_way_whatever_a_note_says(make: Any, direction: str, angle: float) -> None:
    stated_otherwise = Remark(Weight.NOTE, "no drag of the wire in the liner")
    travel = make.figure("travel_angle", "10", "°", kinds.ANGLE, remarks=(stated_otherwise,))

    def leaning(result: Any) -> Any:
        settings = tuple(
            replace(each, dialled=(*each.dialled, travel), travel_direction=direction) for each in result.settings
        )
        return replace(result, settings=settings)

    assert seam_lines(make.views(make.arc_operation(), change=leaning)[0])[0].travel_angle == angle


def test_lengths_are_written_in_the_first_system_of_the_order(make: Any) -> None:
    metric = scene_of(make.views(make.spot_operation())[0]).lengths
    customary = scene_of(make.views(make.spot_operation(), show_first="US customary")[0]).lengths
    assert (metric.text(30.04), metric.unit_length) == ("30\N{NO-BREAK SPACE}mm", 1.0)
    assert (customary.text(254.0), customary.text(30.0), customary.unit_length) == (
        "10\N{NO-BREAK SPACE}in", "1.18\N{NO-BREAK SPACE}in", 25.4
    )  # fmt: skip


def test_each_kind_of_operation_has_its_diagrams(make: Any) -> None:
    arc, spot = make.views(make.arc_operation(), make.spot_operation())
    assert weld_maps(arc)[0].key.startswith("operation-1-")
    assert weld_maps(spot)[0].key.startswith("operation-2-")
    assert all("<svg" in picture.svg and picture.description for view in (arc, spot) for picture in weld_maps(view))
