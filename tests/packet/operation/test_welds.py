from __future__ import annotations

from math import sqrt
from typing import Any

import pytest
from weld_packets.packet.operation.welds import geometry, shown_sizes, weld_columns, weld_lines
from weld_packets.processes.answers import Weld
from weld_packets.units import in_mm, quantity


def _spots(places: list[tuple[str, str]]) -> list[dict[str, str]]:
    return [
        {"id": f"A{index}", "robot": "C5A", "stack": "k1", "x": x, "y": y, "z": "0 mm"}
        for index, (x, y) in enumerate(places, 1)
    ]


def _coordinates(make: Any, places: list[tuple[str, str]], first: str) -> list[tuple[str, ...]]:
    (view,) = make.views(make.spot_operation(spots=_spots(places)), show_first=first)
    return [line.cells[-3:] for line in weld_lines(view)]


def test_coordinates_in_inches_stand_as_the_drawing_wrote_them(make: Any) -> None:
    places = [("2.4409 in", "0.9449 in"), ("3.937 in", "1 in")]
    assert _coordinates(make, places, "US customary") == [("2.4409", "0.9449", "0.00"), ("3.9370", "1.0000", "0.00")]


def test_heads_of_the_coordinates_carry_the_unit_of_the_order(make: Any) -> None:
    (view,) = make.views(make.spot_operation(), show_first="US customary")
    assert weld_columns(view)[-3:] == ("x, in", "y, in", "z, in")
    assert weld_columns(make.views(make.spot_operation())[0])[-3:] == ("x, mm", "y, mm", "z, mm")


def test_coordinates_from_another_system_are_rounded_to_the_digits_that_they_had(make: Any) -> None:
    assert _coordinates(make, [("62 mm", "24.5 mm")], "US customary") == [("2.44", "0.965", "0.00")]
    assert _coordinates(make, [("2.4409 in", "1 in")], "metric") == [("61.999", "25.4", "0")]


def test_places_for_comparison_stay_exact_in_mm(make: Any) -> None:
    (view,) = make.views(make.spot_operation(spots=_spots([("2.4409 in", "1 in")])), show_first="US customary")
    assert geometry(view)[0].pieces == (("61.99886", "25.4", "0"),)


def test_a_seam_has_its_start_its_stop_and_its_length_in_the_order_s_unit(make: Any) -> None:
    (metric,), (inches,) = make.views(make.arc_operation()), make.views(make.arc_operation(), show_first="US customary")
    assert weld_columns(metric)[-3:] == ("Start x, y, z, mm", "Stop x, y, z, mm", "Length, mm")
    start, stop, length = weld_lines(metric)[0].cells[-3:]
    assert (start, stop) == ("10.0, 20.0, 0.0", "110.0, 20.0, 0.0")
    assert float(length) / 25.4 == pytest.approx(float(weld_lines(inches)[0].cells[-1]), abs=0.005)


def test_where_us_customary_comes_first_a_throat_has_its_leg_rounded_up_before_it() -> None:
    throat = quantity(0.155, "in")
    weld = Weld("W1", "C3A", ("plate", "web"), sizes=(("a", throat),), leg=throat * sqrt(2))
    inches = [(letter, amount.text) for letter, amount in shown_sizes(weld, "US customary")]
    assert inches == [("z", "0.220\u00a0in (5.57\u00a0mm)"), ("a", "0.155\u00a0in (3.94\u00a0mm)")]
    assert [letter for letter, _ in shown_sizes(weld, "metric")] == ["a"]


def test_a_throat_without_a_leg_is_shown_alone_in_either_system() -> None:
    weld = Weld("W1", "C3A", ("plate", "web"), sizes=(("a", quantity(0.155, "in")),))

    for first in ("US customary", "metric"):
        assert [letter for letter, _ in shown_sizes(weld, first)] == ["a"]


def test_a_fillet_of_the_arc_family_brings_the_leg_of_its_throat(make: Any) -> None:
    (view,) = make.views(make.arc_operation())
    throats = [in_mm(dict(weld.sizes)["a"]) for weld in view.welds]

    assert [in_mm(weld.leg) for weld in view.welds if weld.leg is not None] == pytest.approx(
        [throat * sqrt(2) for throat in throats]
    )
