from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import chain
from typing import Any

import pytest
from weld_packets.calculation.results import CurrentAndTime
from weld_packets.packet.operation.faults import fault_lines
from weld_packets.packet.records.order import Packet
from weld_packets.units import quantity


def together() -> CurrentAndTime:
    heat, ends = quantity(1, "kA²·s"), (Decimal(1), Decimal(2))
    return CurrentAndTime("cycles@50Hz", "kA", ends, ends, heat, heat, 1, (), "", "")


def _remedies(make: Any, *operations: Any, **more: Any) -> tuple[str, ...]:
    return fault_lines(make.views(*operations, **more)[0])[0].remedies


def test_remedy_goes_at_most_to_the_end_of_the_window(make: Any) -> None:
    assert "Raise the current: weld current at most 9.0\N{NO-BREAK SPACE}kA." in _remedies(make, make.spot_operation())


def test_remedy_without_a_setting_is_as_written(make: Any) -> None:
    assert _remedies(make, make.spot_operation())[0] == "Dress the caps."


def test_remedy_at_the_end_of_its_window_is_left_out(make: Any) -> None:
    assert "Shorten the hold" not in str(_remedies(make, make.spot_operation()))


def test_remedy_on_a_setting_without_window_is_left_out(make: Any) -> None:
    def open_window(result: Any) -> Any:
        settings = tuple(
            replace(each, dialled=tuple(replace(figure, allowed_range=None) for figure in each.dialled))
            for each in result.settings
        )
        return replace(result, settings=settings)

    remedy = _remedies(make, make.spot_operation(), change=open_window)
    assert remedy
    assert "current" not in str(remedy)


def test_remedy_without_direction_gives_the_value_to_set(make: Any) -> None:
    assert _remedies(make, make.arc_operation())[1] == (
        "Set the tip: contact distance 12\N{NO-BREAK SPACE}mm (0.472\N{NO-BREAK SPACE}in)."
    )


def test_groups_with_other_windows_are_distinguished(make: Any) -> None:
    def two(result: Any) -> Any:
        other = make.spot_settings("C5B", ("B1",), current="9.0", key="k2")
        return replace(result, settings=(result.settings[0], other))

    remedy = _remedies(make, make.spot_operation(), change=two)[1]
    assert remedy == (
        "Raise the current: weld current at most 9.0\N{NO-BREAK SPACE}kA for stack k1; "
        "already at the end of its allowed range for stack k2."
    )


def test_robot_is_named_where_the_welds_are_called_the_same(make: Any) -> None:
    def two(result: Any) -> Any:
        settings = (make.spot_settings("C5A", ("A1",)), make.spot_settings("C5B", ("B1",), current="9.0"))
        return replace(result, settings=settings)

    remedy = _remedies(make, make.spot_operation(), change=two)[1]
    assert "at most 9.0\N{NO-BREAK SPACE}kA for stack k1 on C5A; already" in remedy


def test_a_fault_without_any_remedy_left_names_whom_to_call(make: Any) -> None:
    only = tuple(fault.model_copy(update={"remedies": fault.remedies[2:]}) for fault in make.approved.faults)
    (view,) = make.views(make.spot_operation())
    remedy = fault_lines(replace(view, approved=replace(make.approved, faults=only)))[0].remedies
    assert remedy == ("Nothing is left to try inside the allowed ranges: stop and call the foreman (extension 7).",)


def test_faults_of_other_processes_are_left_out(make: Any) -> None:
    assert [line.sign for line in fault_lines(make.views(make.arc_operation())[0])] == ["Pores"]


def _of_force(make: Any, repeats: str | None, direction: str) -> tuple[str, ...]:
    remedy = {"check": "Change the force", "setting": "electrode_force", "direction": direction}
    fault = make.approved.faults[0]
    only = (fault.model_copy(update={"remedies": (type(fault.remedies[0]).model_validate(remedy),)}),)
    share = repeats and quantity(float(repeats), "%")
    guns = {mark: gun.model_copy(update={"force_repeatability": share}) for mark, gun in make.approved.guns.items()}
    (view,) = make.views(make.spot_operation())
    return fault_lines(replace(view, approved=replace(make.approved, faults=only, guns=guns)))[0].remedies


@pytest.mark.parametrize("direction", ["up", "down"])
@pytest.mark.parametrize(("repeats", "offered"), [(None, True), ("7.6", True), ("7.7", False)])
def test_a_force_is_changed_only_where_its_range_leaves_more_than_the_gun_repeats(
    make: Any, repeats: str | None, offered: bool, direction: str
) -> None:
    """2.6 kN is set, 2.4 to 2.8 kN can be set: 0.2 kN either way is 7.69 %."""
    (remedy,) = _of_force(make, repeats, direction)
    assert remedy.startswith("Change the force: electrode force" if offered else "Nothing is left to try")


def test_current_and_weld_time_are_changed_one_while_the_other_is_as_set(make: Any) -> None:
    def coupled(result: Any) -> Any:
        return replace(result, settings=tuple(replace(each, together=together()) for each in result.settings))

    (remedy,) = [
        each for each in _remedies(make, make.spot_operation(), change=coupled) if each.startswith("Raise the current")
    ]
    assert remedy == "Raise the current: weld current at most 9.0\N{NO-BREAK SPACE}kA while the weld time is as set."


def test_what_is_as_set_at_all_groups_of_welds_is_said_once_before_them(demo_packets: dict[str, Packet]) -> None:
    faults = demo_packets["lk-2055-outdoor-column"].operations[1].faults
    found = {each for fault in faults for each in fault.remedies if each.startswith("Travel slower")}
    assert {each.replace("\N{NO-BREAK SPACE}", " ") for each in found} == {
        (
            "Travel slower: travel speed while the wire feed speed is as set: at least 5.0 mm/s (11.9 in/min) "
            "for square butt b 0.5 mm; at least 8.4 mm/s (19.9 in/min) for T fillet a 2.2 mm."
        )
    }


def test_a_wire_feed_is_changed_only_as_far_as_the_displayed_current_allows(demo_packets: dict[str, Packet]) -> None:
    """LK-2063 operation 1: 402 in/min alone would draw 355 A by the law of the wire; its chart ends at 282 A."""
    (ropy,) = (each for each in demo_packets["lk-2063-coastal-column"].operations[0].faults if "Ropy" in each.sign)
    (feed,) = (each for each in ropy.remedies if "wire feed speed at most" in each)
    assert feed.replace("\N{NO-BREAK SPACE}", " ").endswith(
        "402 in/min (10.21 m/min) while the travel speed is as set, welding current (displayed) 254 to 282 A."
    )


def test_a_remedy_that_names_its_setting_does_not_name_it_twice(demo_packets: dict[str, Packet]) -> None:
    faults = demo_packets["lk-2063-coastal-column"].operations[0].faults
    remedies = [remedy.replace("\N{NO-BREAK SPACE}", " ") for fault in faults for remedy in fault.remedies]

    assert "Raise the gas flow: at most 20 l/min (42 ft³/h)." in remedies
    assert "Raise the voltage: arc voltage at most 29.3 V." in remedies


def test_a_travel_speed_moves_no_reading(demo_packets: dict[str, Packet]) -> None:
    remedies = chain.from_iterable(
        each.remedies for each in demo_packets["lk-2063-coastal-column"].operations[0].faults
    )
    assert all("displayed" not in each for each in remedies if "travel speed at" in each)
