"""What a welder must know besides the settings, as printed: once, in order, and in both systems of units."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR
from typing import Any

import pytest
from weld_packets.calculation.results import SeamKind, WeldSettings
from weld_packets.calculation.trace import Detail, Said, not_stated
from weld_packets.model.trade import Joint
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import WeldDetail
from weld_packets.packet.settings.details import weld_details
from weld_packets.packet.settings.values import Showing
from weld_packets.units import kinds, quantity


def settings(joint: Joint, *details: Detail, welds: tuple[str, ...] = ("S1",)) -> WeldSettings:
    return WeldSettings(joint, SeamKind(joint, (), "", ()), "C1A", welds, 1, (), (), (), details=details)


def printed(*of: WeldSettings, first: Any = "metric") -> tuple[WeldDetail, ...]:
    return weld_details(of, Showing(first, 50))


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def one(key: str, text: str = "same") -> Detail:
    return Detail(key, key.capitalize(), (text,), "source")


def test_what_reads_the_same_for_all_welds_is_stated_once() -> None:
    (line,) = printed(settings("T fillet", one("tacks")), settings("lap fillet", one("tacks"), welds=("L1", "L2")))
    assert (line.of, line.welds, line.source) == ("", ("S1", "L1", "L2"), "source")


def test_what_reads_the_same_from_two_sources_is_stated_once_with_both() -> None:
    other = Detail("tacks", "Tacks", ("same",), "another")
    (line,) = printed(settings("T fillet", one("tacks")), settings("lap fillet", other, welds=("L1",)))
    assert (line.of, line.source) == ("", "source; another")


def test_what_differs_names_its_welds() -> None:
    first, second = printed(settings("T fillet", one("gap", "0.5")), settings("lap fillet", one("gap", "0.6")))
    assert [(line.text, line.of) for line in (first, second)] == [("0.5", "T fillet"), ("0.6", "lap fillet")]


def test_a_detail_of_later_welds_is_where_their_work_has_it() -> None:
    later = settings("two", one("polarity"), one("overlap"), one("nozzle"))
    found = printed(settings("one", one("polarity"), one("nozzle")), later)
    assert [line.key for line in found] == ["polarity", "overlap", "nozzle"]


def test_several_details_of_later_welds_stay_together_where_their_work_has_them() -> None:
    later = settings("two", one("polarity"), one("overlap"), one("tacks"), one("nozzle"))
    found = printed(settings("one", one("polarity"), one("nozzle")), later)
    assert [line.key for line in found] == ["polarity", "overlap", "tacks", "nozzle"]


@pytest.mark.parametrize(
    ("said", "metric", "customary"),
    [
        (Said(quantity(8.0, "mm"), kinds.SIZE), "8 mm (0.315 in)", "0.315 in (8 mm)"),
        (Said(quantity(0.25, "in"), kinds.THICKNESS), "6.35 mm (0.25 in)", "0.25 in (6.35 mm)"),
        (Said(quantity(5.0, "°C"), kinds.TEMPERATURE), "5 °C (41 °F)", "41 °F (5 °C)"),
        (Said(quantity(27.1, "°C"), kinds.TEMPERATURE, ROUND_CEILING), "28 °C (81 °F)", "81 °F (28 °C)"),  # 80.78 °F
        (Said(quantity(28.0, "°C"), kinds.TEMPERATURE, ROUND_CEILING), "28 °C (83 °F)", "83 °F (28 °C)"),  # 82.4 °F
        (Said(quantity(177.0, "°C"), kinds.TEMPERATURE, ROUND_FLOOR), "177 °C (350 °F)", "350 °F (177 °C)"),  # 350.6 °F
        (
            Said(quantity(350.0, "°F"), kinds.TEMPERATURE, ROUND_FLOOR),
            "176 °C (350 °F)",
            "350 °F (176 °C)",
        ),  # 176.67 °C
        (Said(quantity(0.3, "s"), kinds.DURATION), "0.3 s", "0.3 s"),
    ],
)
def test_quantities_stand_in_both_systems(said: Said, metric: str, customary: str) -> None:
    weld = settings("T fillet", Detail("key", "Key", ("at most ", said)))
    assert plain(printed(weld)[0].text) == f"at most {metric}"
    assert plain(printed(weld, first="US customary")[0].text) == f"at most {customary}"


def test_what_nobody_states_is_marked() -> None:
    (line,) = printed(settings("T fillet", not_stated("polarity", "Polarity", "the table of wires")))
    assert (line.stated, line.text) == (False, "not stated by the table of wires")


@pytest.fixture(scope="module")
def demo(demo_packets: dict[str, Packet]) -> tuple[Packet, ...]:
    return tuple(demo_packets.values())


WANTED = {
    *("polarity", "transfer", "working_temperature", "preheat", "interpass", "tacks", "arc_start", "crater_fill"),
    *("pre_flow", "post_flow", "nozzle", "work_lead", "burn_through"),
}


def test_every_arc_operation_of_the_demo_has_its_details_and_all_are_stated(demo: tuple[Packet, ...]) -> None:
    arc = [operation for packet in demo for operation in packet.operations if operation.process != "21"]
    assert len(arc) == 6
    for operation in arc:
        assert {detail.key for detail in operation.details} >= WANTED
        assert [detail.key for detail in operation.details if not detail.stated] == []
        assert all(detail.source or detail.key == "burn_through" for detail in operation.details)


def test_spots_have_no_such_details(demo: tuple[Packet, ...]) -> None:
    assert {operation.details for packet in demo for operation in packet.operations if operation.process == "21"} == {
        ()
    }


def test_the_order_in_inches_shows_its_temperatures_in_fahrenheit_first(demo: tuple[Packet, ...]) -> None:
    texts = [plain(detail.text) for detail in demo[2].operations[0].details if detail.key == "working_temperature"]
    assert texts == ["dry and at least 41 °F (5 °C)"]
    limits = {plain(detail.text)[:24] for detail in demo[2].operations[0].details if detail.key == "interpass"}
    assert limits == {"at most 482 °F (250 °C) "}


def test_a_weld_of_several_passes_waits_for_a_temperature_and_not_for_a_colour(demo: tuple[Packet, ...]) -> None:
    steps = [step for step in demo[2].operations[0].prove if "482 °F" in plain(step.value)]
    assert [step.do for step in steps] == [
        "Fit the probe of a contact thermometer to each coupon of C3A, beside the seam.",
        "Watch the display of the contact thermometer of C3A while the coupons are welded.",
    ]
    assert "from outside the fence" in steps[1].see
    assert "coupon fails" in steps[1].see
    does = [step.do for step in demo[2].operations[0].prove]
    assert does.index(steps[1].do) < next(index for index, do in enumerate(does) if "and weld the coupons" in do)
    assert "Do not judge it by colour." in steps[1].see
    assert not any(
        "glow" in text
        for packet in demo
        for operation in packet.operations
        for text in (*operation.notes, operation.model_dump_json())
    )


def test_a_weld_of_one_pass_waits_for_nothing(demo: tuple[Packet, ...]) -> None:
    assert not any("contact thermometer" in step.do for step in demo[0].operations[0].prove)


def test_components_are_measured_before_they_are_welded(demo: tuple[Packet, ...]) -> None:
    steps = [step for step in demo[0].operations[0].prove if step.do == "Measure the temperature of the components."]
    assert [plain(step.value) for step in steps] == ["at least 5 °C (41 °F)"]
    assert not any(step.do.startswith("Measure the temperature") for step in demo[0].operations[2].prove)


def test_polarity_is_read_at_the_work_leads(demo: tuple[Packet, ...]) -> None:
    (step,) = (step for step in demo[0].operations[0].set_up if "work lead" in step.do)
    assert step.value == "DC+"
