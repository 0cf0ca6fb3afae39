"""What an order has of the variables that all processes share."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.calculation.qualification.ordered import allowed, of_products
from weld_packets.calculation.qualification.values import extent, sizes, terms
from weld_packets.calculation.trace import AllowedRange, Figure
from weld_packets.model.order import Component
from weld_packets.units import kinds, quantity


def component(form: str = "", diameter: str = "60 mm") -> Component:
    section = {"section": {"form": form, "axis": "X", "outside diameter": diameter}} if form else {}
    stated = {"id": "one", "name": "one", "material": "steel", "thickness": "3 mm", **section}
    return Component.model_validate(stated)


def products(*components: Component, hollow: bool = False) -> dict[str, Any]:
    approved: Any = SimpleNamespace(materials={"steel": SimpleNamespace(is_hollow_section=hollow)})
    return dict(of_products(components, approved))


@pytest.mark.parametrize(
    ("form", "product"),
    [("round tube", "tube"), ("cold-formed tube", "hollow section"), ("hot-finished tube", "hollow section")],
)
def test_a_round_tube_is_a_tube_and_any_other_a_hollow_section(form: str, product: str) -> None:
    found = products(component(form))

    assert found == {"product": terms(product), "outside diameter": sizes("outside diameter", quantity(60, "mm"))}


def test_a_component_without_a_section_is_a_plate_and_has_no_outside_diameter() -> None:
    assert products(component()) == {"product": terms("plate")}


def test_what_a_component_of_a_hollow_section_is_is_not_known_where_the_order_does_not_say_it() -> None:
    found = products(component(), component("round tube"), hollow=True)

    assert found["product"] == terms(None, "tube")
    assert found["outside diameter"] == sizes("outside diameter", None, quantity(60, "mm"))


def figure(allowed_range: AllowedRange | None, value: float | None = 9.0) -> Figure:
    number = None if value is None else quantity(value, "kA")
    return Figure("weld_current", "Weld current", "I", kinds.SPOT_CURRENT, "kA", number, None, allowed_range)


def of(found: Figure) -> Any:
    return SimpleNamespace(figures=lambda: iter([found]))


def test_a_figure_is_compared_by_its_allowed_range_and_by_its_value_at_an_open_end() -> None:
    low, high = quantity(8.0, "kA"), quantity(10.0, "kA")

    assert allowed("weld current", of(figure(AllowedRange(low, high, "c"))), "weld_current") == extent(
        "weld current", low, high
    )
    assert allowed("weld current", of(figure(AllowedRange(low, None, "c"))), "weld_current") == extent(
        "weld current", low, quantity(9.0, "kA")
    )
    assert allowed("weld current", of(figure(None)), "weld_current") == extent(
        "weld current", quantity(9.0, "kA"), quantity(9.0, "kA")
    )


def test_a_figure_that_is_missing_or_has_no_value_is_not_known() -> None:
    assert allowed("weld current", of(figure(None, None)), "weld_current") is None
    assert allowed("weld current", of(figure(None)), "weld_time") is None
