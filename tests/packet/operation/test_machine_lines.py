"""What both robots weld with, and what nobody has stated of it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from weld_packets.packet.operation.sheet import machine_lines


def test_torches_have_no_lines_of_guns(make: Any) -> None:
    (view,) = make.views(make.arc_operation())
    assert machine_lines(view) == ()


def test_what_is_not_stated_says_so(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    found = {line.name: line.values for line in machine_lines(view)}
    assert found.pop("Gun") == (
        "E-C5A, form C, opens 100\xa0mm (3.937\xa0in)",
        "E-C5B, form C, opens 100\xa0mm (3.937\xa0in)",
    )
    assert found == {
        "Drive of the gun": ("servo", "servo"),
        "Current type": ("not stated", "not stated"),
        "Upslope": ("not stated", "not stated"),
        "Stepper": ("not stated", "not stated"),
        "Cooling water": ("not stated", "not stated"),
    }


def test_each_gun_says_its_own(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    stated = {"current_type": "MFDC", "stepper": "off", "drive": "pneumatic"}
    guns = make.approved.guns | {"E-C5B": make.approved.guns["E-C5B"].model_copy(update=stated)}
    found = {
        line.name: line.values for line in machine_lines(replace(view, approved=replace(make.approved, guns=guns)))
    }
    assert found["Current type"] == ("not stated", "medium-frequency direct current (MFDC)")
    assert found["Stepper"] == ("not stated", "off")
    assert [line.unstated for line in machine_lines(view)] == [False, False, True, True, True, True]
    assert found["Drive of the gun"] == ("servo", "pneumatic")
