"""One number of a welding control holds one setting of each value, over the whole order."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.errors import Gathering
from weld_packets.planning.weld_schedules import check_coupon_programs, check_weld_schedules


@pytest.fixture
def faults_of(line: Any) -> Any:
    """Return a function from what two seams are set to, each with its number, to their faults."""

    def faults(*sets: tuple[int | None, dict[str, tuple[float, str]]], operations: int = 1) -> list[tuple[str, str]]:
        operation = line.frames()
        settings = tuple(
            replace(
                each, weld_schedule=number, dialled=tuple(line.figure(key, *value) for key, value in values.items())
            )
            for each, (number, values) in zip(operation.settings, sets, strict=True)
        )
        gathering = Gathering()
        if operations == 1:
            check_weld_schedules([replace(operation, settings=settings)], gathering)
        else:
            check_weld_schedules([replace(operation, settings=(each,)) for each in settings], gathering)
        return [(problem.key, problem.message.replace("\N{NO-BREAK SPACE}", " ")) for problem in gathering.problems]

    return faults


SLOW, FAST = {"arc_voltage": (19.0, "V")}, {"arc_voltage": (21.0, "V")}


def test_two_sets_under_one_number_are_refused_with_what_differs(faults_of: Any) -> None:
    assert faults_of((7, SLOW), (7, FAST)) == [
        (
            "operations[0].seams[1].weld schedule",
            "weld schedule 7 of A would hold two settings: arc_voltage 19 V for S1 and 21 V for S2",
        )
    ]


def test_two_operations_may_not_need_one_number_for_two_sets_either(faults_of: Any) -> None:
    ((key, message),) = faults_of((7, SLOW), (7, FAST), operations=2)
    assert key == "operations[1].seams[1].weld schedule"
    assert message.startswith("weld schedule 7 of A would hold two settings")


def test_what_the_control_does_not_hold_may_differ(faults_of: Any) -> None:
    assert faults_of((7, SLOW | {"work_angle": (40.0, "°")}), (7, SLOW | {"work_angle": (45.0, "°")})) == []


def test_numbers_of_their_own_and_no_numbers_are_good(faults_of: Any) -> None:
    assert (
        faults_of((7, SLOW), (8, FAST))
        == faults_of((7, SLOW), (7, SLOW))
        == faults_of((None, SLOW), (None, FAST))
        == []
    )


def test_a_robot_numbered_in_part_is_refused(faults_of: Any) -> None:
    assert faults_of((7, SLOW), (None, FAST)) == [
        ("operations[0].seams[1].weld schedule", "S2 has no weld schedule, and other welds of A have one")
    ]


@pytest.fixture
def proved(line: Any) -> Any:
    """Return a function from what two seams without numbers are set to, to the faults of their coupon program."""

    def faults(
        *sets: dict[str, tuple[float, str]], programs: dict[str, Any], operations: int = 1
    ) -> list[tuple[str, str]]:
        found = line.frames()
        operation = found.operation.model_copy(update={"coupon_programs": programs})
        settings = tuple(
            replace(each, dialled=tuple(line.figure(key, *value) for key, value in values.items()))
            for each, values in zip(found.settings, sets, strict=True)
        )
        parts = [settings] if operations == 1 else [(each,) for each in settings]
        gathering = Gathering()
        check_coupon_programs([replace(found, operation=operation, settings=part) for part in parts], gathering)
        return [(problem.key, problem.message.replace("\N{NO-BREAK SPACE}", " ")) for problem in gathering.problems]

    return faults


def test_one_coupon_program_cannot_prove_two_settings(proved: Any) -> None:
    assert proved(SLOW, FAST, programs={"A": "T1"}) == [
        (
            "operations[0].coupon programs.A",
            "one coupon cannot prove two settings: arc_voltage 19 V for S1 and 21 V for S2",
        )
    ]


def test_nor_can_it_over_two_operations(proved: Any) -> None:
    ((key, _),) = proved(SLOW, FAST, programs={"A": "T1"}, operations=2)
    assert key == "operations[1].coupon programs.A"


def test_one_coupon_program_proves_welds_that_the_control_sets_the_same(proved: Any) -> None:
    assert proved(SLOW, SLOW | {"work_angle": (40.0, "°")}, programs={"A": "T1"}) == []


def test_without_a_coupon_program_and_with_numbers_nothing_is_compared_here(proved: Any) -> None:
    assert proved(SLOW, FAST, programs={}) == proved(SLOW, FAST, programs={"A": {7: "T1"}}) == []
