from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.calculation.results import SpotKind
from weld_packets.calculation.trace import AllowedRange, Given
from weld_packets.packet.settings.merging import merged_figure, setting_groups
from weld_packets.packet.settings.values import Showing
from weld_packets.units import Kind, kinds, quantity

METRIC = Showing("metric", 50)
ONE, TWO = quantity(1, "mm"), quantity(2, "mm")


def plain_spaces(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_robots_with_equal_settings_share_one_group(make: Any) -> None:
    groups = setting_groups(make.result(make.spot_operation()).settings, METRIC)
    assert [(group.robots, group.welds) for group in groups] == [(("C5A", "C5B"), ("A1", "A2", "B1", "B2"))]


def test_shared_group_names_both_machines_in_its_trace(make: Any) -> None:
    (group,) = setting_groups(make.result(make.spot_operation()).settings, METRIC)
    assert group.dialled[0].trace[-1].label == "E-C5A; E-C5B"


@pytest.mark.parametrize(
    ("second", "origins"), [("plate of A", "plate of A"), ("plate of B", "plate of A; plate of B")]
)
def test_a_figure_of_both_robots_names_each_origin_once(make: Any, second: str, origins: str) -> None:
    def figure(origin: str) -> Any:
        allowed = AllowedRange(quantity(1, "kN"), None, origin)
        bare = make.figure("electrode_force", "2.60", "kN", kinds.FORCE)
        return replace(bare, trace=(Given("rated", ONE, "mm", origin),), allowed_range=allowed)

    merged = merged_figure((figure("plate of A"), figure(second)))
    assert merged.allowed_range is not None
    assert (merged.trace[0].origin, merged.allowed_range.origin) == (origins, origins)


def test_robots_with_one_other_digit_stay_apart(make: Any) -> None:
    settings = (make.spot_settings("C5A", ("A1",)), make.spot_settings("C5B", ("B1",), current="8.5"))
    assert [group.robots for group in setting_groups(settings, METRIC)] == [("C5A",), ("C5B",)]


def test_robots_with_another_window_stay_apart(make: Any) -> None:
    one, other = make.spot_settings("C5A", ("A1",)), make.spot_settings("C5B", ("B1",))
    force = replace(other.dialled[0], allowed_range=None)
    settings = (one, replace(other, dialled=(force, *other.dialled[1:])))
    assert len(setting_groups(settings, METRIC)) == 2


def test_stacks_of_one_robot_with_equal_settings_are_set_once_under_all_their_names(make: Any) -> None:
    settings = tuple(
        replace(make.spot_settings("C5A", (weld,), key=key), kind=SpotKind(key, sheets))
        for weld, key, sheets in (("A1", "k1", (ONE, TWO)), ("A9", "k2", (ONE, TWO)), ("A5", "k3", (ONE, ONE)))
    )
    (group,) = setting_groups(settings, METRIC)
    assert plain_spaces(group.title) == "Stacks k1, k2: 1 mm + 2 mm; k3: 1 mm + 1 mm"
    assert (group.name, group.welds) == ("stacks k1, k2 and k3", ("A1", "A9", "A5"))


def test_two_stacks_on_two_robots_join_pairwise(make: Any) -> None:
    settings = tuple(
        make.spot_settings(robot, (f"{robot}{key}",), current=current, key=key)
        for key, current in (("k1", "8.4"), ("k2", "9.0"))
        for robot in ("C5A", "C5B")
    )
    assert [(group.title, group.robots) for group in setting_groups(settings, METRIC)] == [
        ("Stack k1", ("C5A", "C5B")),
        ("Stack k2", ("C5A", "C5B")),
    ]


def test_figure_that_differs_is_kept_for_each_stack(make: Any) -> None:
    one, other = (make.spot_settings("C5A", (weld,), key=key) for weld, key in (("A1", "k1"), ("A2", "k2")))
    face = make.figure("cap_face", "5", "mm", kinds.LENGTH), make.figure("cap_face", "6", "mm", kinds.LENGTH)
    settings = [replace(each, derived=(*each.derived, face[at])) for at, each in enumerate((one, other))]
    (group,) = setting_groups(settings, METRIC)
    sizes = [(value.label, value.amount and value.amount.value) for value in group.derived[-2:]]
    assert sizes == [("Cap face (stack k1)", "5"), ("Cap face (stack k2)", "6")]
    assert len({value.anchor for value in group.derived}) == len(group.derived) == 5


SUMS = pytest.mark.parametrize(
    ("key", "unit", "kind", "label"),
    [
        ("weld_length", "mm", kinds.LENGTH, "Weld length"),
        ("arc_time", "s", kinds.DURATION, "Arc time"),
        ("wire_mass", "kg", kinds.MASS, "Wire mass"),
        ("gas_volume", "l", kinds.VOLUME, "Gas volume"),
    ],
)


@SUMS
def test_sum_that_is_equal_on_both_robots_is_for_each_of_them(
    make: Any, key: str, unit: str, kind: Kind, label: str
) -> None:
    summed = make.figure(key, "60", unit, kind)
    settings = [replace(make.arc_settings(robot, (robot,)), derived=(summed,)) for robot in ("C1A", "C1B")]
    assert [value.label for value in setting_groups(settings, METRIC)[0].derived] == [f"{label} (each robot)"]


@SUMS
def test_sums_of_one_robot_are_stated_one_by_one(make: Any, key: str, unit: str, kind: Kind, label: str) -> None:
    summed = make.figure(key, "60", unit, kind)
    settings = [
        replace(make.arc_settings("C1A", (weld,)), key=weld, derived=(summed,)) for weld in ("s1", "s2")
    ]  # fmt: skip
    labels = [value.label for value in setting_groups(settings, METRIC)[0].derived]
    assert labels == [f"{label} (s1)", f"{label} (s2)"]


def test_what_is_no_sum_is_stated_once_for_both_robots_and_all_welds(make: Any) -> None:
    throat = make.figure("throat", "3", "mm", kinds.LENGTH)
    settings = [
        replace(make.arc_settings(robot, (weld,)), key=weld, derived=(throat,))
        for robot, weld in (("C1A", "s1"), ("C1A", "s2"), ("C1B", "s3"))
    ]
    assert [value.label for value in setting_groups(settings, METRIC)[0].derived] == ["Throat"]


def test_groups_of_one_title_say_which_setting_differs(make: Any) -> None:
    one, other = make.arc_settings("C1A", ("s1",)), make.arc_settings("C1A", ("s2",))
    turned = make.figure("travel_angle", "15", "°", kinds.ANGLE), make.figure("travel_angle", "5", "°", kinds.ANGLE)
    settings = [
        replace(each, key=each.welds[0], dialled=(*each.dialled, turned[at])) for at, each in enumerate((one, other))
    ]
    assert [group.title for group in setting_groups(settings, METRIC)] == [
        "T fillet a 3\N{NO-BREAK SPACE}mm, PB, travel angle 15°",
        "T fillet a 3\N{NO-BREAK SPACE}mm, PB, travel angle 5°",
    ]
