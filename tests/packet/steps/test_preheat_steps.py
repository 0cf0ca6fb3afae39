"""A preheat that goes beyond the temperature of a room is a step wherever something is welded next."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.packet.steps.prove_out.welding import preheated


def view(unit: str, *minima: str) -> Any:
    """Return a view of a group of settings for each minimum temperature of its components."""
    groups = [SimpleNamespace(key=f"g{at}", name=f"joint {at}") for at, _ in enumerate(minima)]
    values = [SimpleNamespace(amount=SimpleNamespace(value=each, unit=unit), text=f"{each} {unit}") for each in minima]
    return SimpleNamespace(groups=groups, values=lambda key: list(zip(groups, values, strict=True)) if key else [])


@pytest.mark.parametrize(("unit", "room", "warm"), [("°C", "20", "21"), ("°F", "68", "69")])
def test_what_is_warmer_than_a_room_is_preheated_and_measured(unit: str, room: str, warm: str) -> None:
    assert list(preheated(view(unit, room), "every coupon")) == []
    (step,) = preheated(view(unit, warm), "every coupon")
    assert step.do == "Preheat every coupon and measure its temperature beside each seam."
    assert (step.value, step.key) == (f"at least {warm} {unit}", "preheat-g0")
    assert step.see.startswith("Still as warm when the arc starts")


def test_each_temperature_is_a_step_of_its_own_with_its_joints() -> None:
    steps = list(preheated(view("°C", "96", "10", "96", "120"), "the part"))
    assert [(step.value, step.see.partition(";")[0]) for step in steps] == [
        ("at least 96 °C", "Joint 0 and joint 2"), ("at least 120 °C", "Joint 3")
    ]  # fmt: skip
