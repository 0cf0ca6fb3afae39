from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.packet.groups import check_of, setting_groups
from generator.packet.values import Showing
from generator.process.trace import Verdict

METRIC = Showing("metric", 50)


def test_arms_with_equal_settings_share_one_group(make: Any) -> None:
    groups = setting_groups(make.result(make.spot_row()).settings, METRIC)
    assert [(group.arms, group.welds) for group in groups] == [(("C5A", "C5B"), ("A1", "A2", "B1", "B2"))]


def test_shared_group_names_both_machines_in_its_trace(make: Any) -> None:
    (group,) = setting_groups(make.result(make.spot_row()).settings, METRIC)
    assert group.dialled[0].trace[-1].label == "E-C5A; E-C5B"


def test_arms_with_one_other_digit_stay_apart(make: Any) -> None:
    settings = (make.spot_settings("C5A", ("A1",)), make.spot_settings("C5B", ("B1",), current="8.5"))
    assert [group.arms for group in setting_groups(settings, METRIC)] == [("C5A",), ("C5B",)]


def test_arms_with_another_window_stay_apart(make: Any) -> None:
    one, other = make.spot_settings("C5A", ("A1",)), make.spot_settings("C5B", ("B1",))
    force = replace(other.dialled[0], window=None)
    settings = (one, replace(other, dialled=(force, *other.dialled[1:])))
    assert len(setting_groups(settings, METRIC)) == 2


def test_groups_of_one_arm_are_never_joined(make: Any) -> None:
    settings = (make.spot_settings("C5A", ("A1",)), make.spot_settings("C5A", ("A9",)))
    assert [group.welds for group in setting_groups(settings, METRIC)] == [("A1",), ("A9",)]


def test_two_stacks_on_two_arms_join_pairwise(make: Any) -> None:
    settings = tuple(
        make.spot_settings(arm, (f"{arm}{key}",), current=current, key=key)
        for key, current in (("k1", "8.4"), ("k2", "9.0"))
        for arm in ("C5A", "C5B")
    )
    assert [(group.title, group.arms) for group in setting_groups(settings, METRIC)] == [
        ("stack k1", ("C5A", "C5B")),
        ("stack k2", ("C5A", "C5B")),
    ]


def test_check_that_was_not_made_says_so() -> None:
    assert check_of(Verdict("reach", "spot A1", "no base given", None, "table")).outcome == "not checked"


def test_failed_check_never_reaches_a_packet() -> None:
    with pytest.raises(ValueError, match="failed check"):
        check_of(Verdict("pitch", "spot A1", "20 mm below 35 mm", passed=False, source="table"))
