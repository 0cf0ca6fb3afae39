"""Coupon programs as the packet holds them, and what an order uses the programs of its robots for."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.errors import Problem
from weld_packets.packet.program_use import ProgramClash, ProgramUse
from weld_packets.packet.programs import operation_uses, part_uses, program_uses
from weld_packets.packet.records.operation import CouponProgram
from weld_packets.packet.records.settings import WeldGeometry


def _numbered(make: Any) -> Any:
    def change(found: Any) -> Any:
        settings = (
            replace(make.spot_settings("C5A", ("A1",), key="k1"), weld_schedule=1),
            replace(make.spot_settings("C5A", ("A2",), key="k2", current="9.0"), weld_schedule=2),
            replace(make.spot_settings("C5B", ("B1", "B2"), key="k1"), weld_schedule=1),
        )
        return replace(found, settings=settings)

    coupons = {"C5A": {"1": "T1", "2": "T2"}, "C5B": {"1": "T1"}}
    (view,) = make.views(make.spot_operation(**{"coupon programs": coupons}), change=change)
    return view


def test_an_operation_lists_each_coupon_program_with_its_schedule_and_what_it_proves(make: Any) -> None:
    (operation,) = make.packet(make.spot_operation(**{"coupon programs": {"C5A": "T1", "C5B": "T2"}})).operations
    assert operation.coupon_programs == (
        CouponProgram(robot="C5A", weld_schedule="", program="T1", welds="Stack k1"),
        CouponProgram(robot="C5B", weld_schedule="", program="T2", welds="Stack k1"),
    )


def test_uses_are_those_of_the_part_and_of_each_weld_schedule_with_its_own_settings(make: Any) -> None:
    uses = operation_uses(_numbered(make))
    assert [(use.robot, use.program, use.place, use.coupon, use.weld_schedule) for use in uses] == [
        ("C5A", "1203", "operations[0].programs.C5A", False, ""),
        ("C5B", "1204", "operations[0].programs.C5B", False, ""),
        ("C5A", "T1", "operations[0].coupon programs.C5A.1", True, "1"),
        ("C5A", "T2", "operations[0].coupon programs.C5A.2", True, "2"),
        ("C5B", "T1", "operations[0].coupon programs.C5B.1", True, "1"),
    ]
    assert [use.settings.get("weld_current") for use in uses] == [None, None, "8.4 kA", "9.0 kA", "8.4 kA"]


def test_settings_read_the_same_whichever_system_of_units_comes_first(make: Any) -> None:
    operation = make.spot_operation(**{"coupon programs": {"C5A": "T1", "C5B": "T2"}})
    metric, customary = (program_uses(make.packet(operation, show_first=first)) for first in ("metric", "US customary"))
    assert metric == customary
    assert metric[2].settings["electrode_force"] == "2.6 kN = 580 lbf"


def test_a_setting_that_differs_between_welds_of_a_schedule_is_stated_with_all_its_values(make: Any) -> None:
    def change(found: Any) -> Any:
        settings = (make.arc_settings("C1A", ("sA",)), make.arc_settings("C1A", ("sB",)))
        slower = tuple(
            replace(figure, value=figure.value / 2, text=figure.text / 2, allowed_range=None)
            if figure.key == "travel_speed" else figure for figure in settings[1].dialled
        )  # fmt: skip
        return replace(found, settings=(settings[0], replace(settings[1], key="s2-c1a", dialled=slower)))

    (view,) = make.views(make.arc_operation(**{"coupon programs": {"C1A": "T1"}}), change=change)
    use = next(use for use in operation_uses(view) if use.coupon)
    assert use.settings["travel_speed"] == "17.7 in/min = 7.5 mm/s and 8.9 in/min = 3.75 mm/s"


def test_the_welds_of_a_program_are_the_same_from_the_order_and_from_its_packet(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    of_order = part_uses(view)
    assert of_order == program_uses(make.packet(make.spot_operation()))[: len(of_order)]
    assert [use.welds for use in of_order] == [2, 2]
    assert len({use.places for use in of_order}) == len(of_order)


def placed(*points: tuple[str, ...], form: str = "spot", robot: str = "C5A") -> str:
    """Return the digest of the places of the welds of C5A, of which the first one has ``points``."""
    first = WeldGeometry(key="A1", robot=robot, side="A", form=form, pieces=points, label="1")
    other = first.model_copy(update={"robot": "C5A", "pieces": (("9", "9", "9"),)})
    sheet = SimpleNamespace(
        number=1, programs=[SimpleNamespace(robot="C5A", number="P1")], coupon_programs=(), groups=(),
        geometry=(first, other),
    )  # fmt: skip
    (use,) = program_uses(SimpleNamespace(operations=[sheet]))  # type: ignore[arg-type]
    return use.places


def test_places_are_one_within_a_rounding_of_inches_and_another_from_a_tenth_of_a_millimetre_on() -> None:
    here = placed(("12.7", "0", "-0"))
    assert placed(("12.72", "-0.04", "0")) == here
    assert placed(("12.8", "0", "0")) != here
    assert placed(("12.7", "0", "0"), ("1", "2", "3")) != here
    assert placed(("12.7", "0", "0"), form="seam") != here
    assert placed(("12.7", "0", "0"), robot="C5B") != here
    assert placed(("9", "9", "9")) != here


def test_the_program_of_a_part_has_no_settings_of_its_own() -> None:
    assert ProgramUse("C5A", "1203", "").settings == {}


@pytest.mark.parametrize(
    ("here", "there", "hinders"),
    [
        (("B", "2026-12-31"), ("C", "2026-12-31"), True),  # both are or will be in force
        (("", ""), ("C", "2026-12-31"), False),  # the draft may take effect after that day
        (("", ""), ("C", ""), True),
        (("B", ""), ("", ""), True),
        (("", ""), ("", ""), False),
    ],
)
def test_two_uses_of_a_program_hinder_where_they_cannot_be_apart_in_time(
    here: tuple[str, str], there: tuple[str, str], *, hinders: bool
) -> None:
    uses = (
        ProgramUse("C1A", "P1", "programs.C1A", revision=revision, days=("2026-12-01", last))
        for revision, last in (here, there)
    )
    assert ProgramClash("one", "two", Problem("order.yaml", 1, "", "", "", ""), *uses).hinders is hinders
