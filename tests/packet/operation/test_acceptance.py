"""Set-up and production have limits of their own, each at the check that it is for."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.model.tables.inspection import Inspection
from weld_packets.packet.operation.inspections import accepted, figures_of
from weld_packets.units import kinds

NBSP = "\N{NO-BREAK SPACE}"


def check(stage: str, **more: str) -> Inspection:
    stated = {
        "id": "c", "processes": ["21"], "stage": stage, "what": "w", "how": "h", "accept": "Good.", "every": "e",
        "source": "s",
    }  # fmt: skip
    return Inspection.model_validate(stated | more)


SET_UP = f"set up weld diameter 4.93{NBSP}mm (0.194{NBSP}in); target weld diameter 5.48{NBSP}mm (0.216{NBSP}in)"
PRODUCTION = f"minimum weld diameter 3.83{NBSP}mm (0.151{NBSP}in)"


@pytest.mark.parametrize(
    ("stage", "more", "figures"),
    [
        ("coupon", {}, [SET_UP]),
        ("coupon", {"weld diameter": "set-up"}, [SET_UP]),
        ("in process", {"weld diameter": "production"}, [PRODUCTION]),
        ("last-off", {"weld diameter": "production"}, [PRODUCTION]),
        ("coupon", {"weld diameter": "production"}, [PRODUCTION]),
        ("in process", {}, []),
        ("first-off", {}, []),
    ],
)
def test_each_check_has_its_own_limit(make: Any, stage: str, more: dict[str, str], figures: list[str]) -> None:
    (view,) = make.views(make.spot_operation())
    assert figures_of(check(stage, **more), view.groups) == figures


def test_the_first_part_is_held_to_the_depth_on_a_visible_side(make: Any) -> None:
    def visible(result: Any) -> Any:
        depth = make.figure("visible_indentation", "0.12", "mm", kinds.LENGTH)
        return replace(result, settings=tuple(replace(each, derived=(depth,)) for each in result.settings))

    (view,) = make.views(make.spot_operation(), change=visible)
    assert accepted(check("first-off"), view, ()).startswith(f"Good; visible indentation 0.12{NBSP}mm")


def test_the_coupon_of_a_set_up_carries_its_figures_in_a_step_of_its_own(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    assert accepted(check("coupon"), view, ()) == "Good"
    assert accepted(check("in process", **{"weld diameter": "production"}), view, ()) == f"Good; {PRODUCTION}"
