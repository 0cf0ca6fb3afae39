"""Processes 141 and 142 as members of the arc family, on a plant of their own: settings, refusals, steps, hazards.

The chart and the machines are test figures; what has no source says so in the tables.
"""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets.errors import SourceError
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.steps import Action
from weld_packets.packet.records.values import Value
from weld_packets.plant.drafts import draft
from weld_packets.sources.tables.tables import load_workspace

Make = Callable[..., Path]
OTHERS = ("contact tip", "spot", "gun", "electrode cap", "spatter flies")
"""Words of processes that no page of a TIG operation may use."""


def packet_of(root: Path) -> Packet:
    return draft(load_workspace(root), "o-1")


def autogenous(order: dict[str, Any]) -> None:
    (operation,) = order["operations"]
    operation["process"] = "142"
    del operation["wire"]
    for seam in operation["seams"]:
        del seam["throat"]
        seam |= {"joint": "square butt", "position": "PA", "gap": "0 mm"}


def seams(**changes: str) -> Callable[[dict[str, Any]], None]:
    def change(order: dict[str, Any]) -> None:
        for seam in order["operations"][0]["seams"]:
            seam.update(changes)

    return change


def thin(order: dict[str, Any]) -> None:
    for each in order["operations"][0]["components"]:
        each["thickness"] = "0.6 mm"


def both(*changes: Callable[[dict[str, Any]], None]) -> Callable[[dict[str, Any]], None]:
    return lambda order: [each(order) for each in changes] and None


def values(packet: Packet) -> dict[str, Value]:
    (group,) = packet.operations[0].groups
    return {value.key: value for value in (*group.dialled, *group.derived)}


def refusal(root: Path) -> str:
    with pytest.raises(SourceError) as refused:
        packet_of(root)
    return " ".join(f"{problem.key} {problem.message} {problem.remedy}" for problem in refused.value.problems)


def steps(packet: Packet) -> list[Action]:
    (operation,) = packet.operations
    lists = (operation.confirm, operation.set_up, operation.prove, *(each.steps for each in packet.procedures))
    return [step for each in lists for step in each]


def test_cold_wire_lays_the_size_required_at_the_set_feed_and_speed(plant_of: Make) -> None:
    """2 mm throat, 1.1 reinforcement: 4.4 mm² required. 0.91 m/min of 1.0 mm wire at 2.5 mm/s lay 4.76 mm²."""
    found = values(packet_of(plant_of("tig")))
    assert found["welding_current"].amount is not None
    assert found["welding_current"].amount.value == "89"  # the middle of 72.5 to 105 A
    assert found["arc_voltage"].amount is not None
    assert found["arc_voltage"].amount.value == "11.2"
    feed, speed = (float(found[key].amount.value) for key in ("wire_feed_speed", "travel_speed"))  # type: ignore[union-attr]
    assert feed * 1000 / 60 * 3.14159 / 4 / speed == pytest.approx(4.76, abs=0.03)
    assert found["nominal_area"].text.startswith("4.8")


def test_heat_input_has_the_thermal_efficiency_of_tungsten_arcs(plant_of: Make) -> None:
    """0.6 times 89 A times 11.25 V over 2.5 mm/s: 0.240 kJ/mm."""
    heat = values(packet_of(plant_of("tig")))["heat_input"]
    assert heat.amount is not None
    assert float(heat.amount.value) == pytest.approx(0.6 * 89 * 11.25 / 2.5 / 1000, abs=0.005)
    assert any("0.6" in str(point) for point in heat.trace)


def test_the_load_voltage_is_that_of_a_tungsten_source(plant_of: Make) -> None:
    load = values(packet_of(plant_of("tig")))["load_voltage"]
    assert load.amount is not None
    assert float(load.amount.value) == pytest.approx(10 + 0.04 * 89, abs=0.05)


def test_without_filler_there_is_no_wire_and_no_drive_roll(plant_of: Make) -> None:
    packet = packet_of(plant_of("tig", autogenous))
    assert "wire_feed_speed" not in values(packet)
    assert {line.what for line in packet.run.consumables} == {"Electrode", "Gas"}
    said = [step.do for step in steps(packet)]
    assert [each for each in said if "wire" in each.lower() or "drive rolls" in each] == []


def test_with_cold_wire_there_are_drive_rolls_a_spool_and_an_electrode(plant_of: Make) -> None:
    packet = packet_of(plant_of("tig"))
    assert {line.what for line in packet.run.consumables} == {"Wire", "Electrode", "Gas"}
    done = [step.do for step in steps(packet)]
    for words in ("Fit drive rolls", "Grind the electrode", "Fit the electrode", "Pull the old cold wire"):
        assert any(each.startswith(words) for each in done), words


@pytest.mark.parametrize("change", [lambda _: None, autogenous], ids=["141", "142"])
def test_no_step_of_a_tungsten_arc_is_that_of_another_process(plant_of: Make, change: Any) -> None:
    packet = packet_of(plant_of("tig", change))
    for step in steps(packet):
        text = f"{step.do} {step.see} {step.value}".lower()
        assert not [word for word in OTHERS if word in text], text


@pytest.mark.parametrize("change", [lambda _: None, autogenous], ids=["141", "142"])
def test_every_step_has_a_key_and_the_displayed_voltage_is_a_reading(plant_of: Make, change: Any) -> None:
    (operation,) = packet_of(plant_of("tig", change)).operations
    form = set_up_form(operation)
    for name in ("set-up", "prove-out"):
        keys = [step.key for step in form.steps if step.list == name]
        assert len(set(keys)) == len(keys)
        assert all(keys)
    readings = {value.key.rpartition("/")[2] for value in form.values if value.kind == "reading"}
    assert readings == {"arc_voltage"}


@pytest.mark.parametrize("change", [lambda _: None, autogenous], ids=["141", "142"])
def test_a_reader_of_the_steps_finds_every_one_safe(plant_of: Make, change: Any) -> None:
    place = Path(__file__).parents[1] / "packet" / "steps" / "reader.py"
    spec = importlib.util.spec_from_file_location("reader_of_steps", place)
    assert spec is not None
    assert spec.loader is not None
    reader = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = reader
    spec.loader.exec_module(reader)
    (operation,) = packet_of(plant_of("tig", change)).operations
    seen = reader.read(operation.set_up, reader.RUNNING)
    assert seen.wrong == []
    assert reader.read(operation.prove, seen.state).wrong == []


def test_cold_wire_comes_out_of_a_torch_that_may_be_hot_and_is_freed_by_the_list_for_it(plant_of: Make) -> None:
    lists = {each.title: each for each in packet_of(plant_of("tig")).procedures}
    spool = lists["Change a spool of cold wire (W-19-9-L-1.0)"]
    (out,) = (step for step in spool.steps if step.do.startswith("Pull the old cold wire"))
    assert out.see.startswith("The torch may be hot from the arc.")
    assert "hot-metal" in out.callouts
    assert spool.when.endswith("If the wire sticks: “After an emergency stop or a collision”.")


def test_electrodes_are_ground_by_arc_on_time_and_changed_after_their_grindings(plant_of: Make) -> None:
    """80 s of arc a part and 1 h between grindings: 45 parts; 200 parts take 4 grindings."""
    packet = packet_of(plant_of("tig"))
    (rule,) = packet.run.rules
    assert "grind the electrode" in rule.text
    assert "every 45 parts" in rule.text


def test_messages_name_rays_ozone_argon_and_ignition_with_the_shade_of_the_row(plant_of: Make) -> None:
    packet = packet_of(plant_of("tig"))
    found = {each.key: each for each in packet.callouts}
    assert {"tig-rays", "tig-ozone", "tig-argon", "tig-ignition"} <= set(found)
    assert "filter shade: minimum 8" in " ".join(fact.text.lower() for fact in found["tig-rays"].facts)
    assert "arc-rays" not in found


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (both(autogenous, seams(gap="0.5 mm")), "nothing fills a gap of 0.5"),
        (both(autogenous, lambda order: order["operations"][0].update(wire="W-19-9-L-1.0")), "has no filler"),
        (lambda order: order["operations"][0].pop("electrode"), "needs a tungsten electrode"),
        (lambda order: order["operations"][0].pop("wire"), "needs a wire"),
        (lambda order: order["operations"][0].update(gas="M12"), "needs an inert gas"),
        (lambda order: order["operations"][0].update(wire="G3Si1-1.0"), "this wire is for process 135"),
        (lambda order: order["operations"][0].update(electrode="none-such"), "no tungsten electrode of this name"),
        (seams(throat="6 mm"), "the chart does not make this size"),
        (seams(position="PF"), "is for position PB"),
        (thin, "covers from 1"),
    ],
    ids=["gap", "wire without filler", "no electrode", "no wire", "active gas", "wire of another process",
         "unknown electrode", "size", "position", "thickness below the chart"],
)  # fmt: skip
def test_what_cannot_be_computed_is_refused_with_its_reason(plant_of: Make, change: Any, words: str) -> None:
    assert words in refusal(plant_of("tig", change)).replace("\N{NO-BREAK SPACE}", " ")


def test_a_fillet_without_filler_is_refused(plant_of: Make) -> None:
    def fillet(order: dict[str, Any]) -> None:
        autogenous(order)
        for seam in order["operations"][0]["seams"]:
            del seam["gap"]
            seam |= {"joint": "T fillet", "position": "PB", "throat": "2 mm"}

    assert "no tungsten chart fits a T fillet" in refusal(plant_of("tig", fillet))


def test_what_is_recorded_of_an_electrode_counts(plant_of: Make) -> None:
    def recorded(order: dict[str, Any]) -> None:
        order["fitted at start"] = [{"robot": "R91", "electrode used": "30 min", "grindings": "20"}]

    run = packet_of(plant_of("tig", recorded)).run
    assert any("Change the electrode" in each.what and each.robot == "R91" for each in run.events)
    line = next(each for each in run.consumables if each.what == "Electrode" and each.robots == ("R91",))
    found = line.start.replace("\N{NO-BREAK SPACE}", " ")
    assert found == "20 of 20 grindings done, 0.5 h of 1 h arc-on time used as recorded in this order"


def test_the_rule_of_grinding_speaks_of_no_caps_where_an_electrode_is_changed(plant_of: Make) -> None:
    def recorded(order: dict[str, Any]) -> None:
        order["fitted at start"] = [{"robot": "R91", "electrode used": "0 min", "grindings": "18"}]

    rules = {each.robots: each.text for each in packet_of(plant_of("tig", recorded)).run.rules}
    assert rules["R91",].endswith("where a change is listed, make the change instead")
    assert not any("cap" in text for text in rules.values())


def test_what_is_left_of_an_electrode_counts_its_grindings(plant_of: Make) -> None:
    left = packet_of(plant_of("tig")).run.fitted_at_end
    assert {each.turns_done for each in left if each.what == "Electrode"} == {"4 grindings"}
    assert {each.turns_done for each in left if each.what != "Electrode"} == {""}


# ---------------------------------------------------------------- the upper side of a size, as for a wire that melts


def joined(root: Path) -> Path:
    """Let the chart of cold wire be one for laps and butts too."""
    chart = root / "tables" / "tig-cold-wire.yaml"
    text = chart.read_text("utf-8").replace("joints: [T fillet]", "joints: [T fillet, lap fillet, square butt]")
    chart.write_text(text, "utf-8")
    return root


def sheets(first: str, second: str) -> Callable[[dict[str, Any]], None]:
    def change(order: dict[str, Any]) -> None:
        for each, thickness in zip(order["operations"][0]["components"], (first, second), strict=True):
            each["thickness"] = thickness

    return change


def checks(packet: Packet) -> dict[str, str]:
    (group,) = packet.operations[0].groups
    return {check.subject: check.text.replace("\N{NO-BREAK SPACE}", " ") for check in group.checks}


def test_a_lap_by_cold_wire_is_refused_where_its_edge_does_not_carry_the_leg(plant_of: Make) -> None:
    """A throat of 2 mm has a leg of 2.83 mm."""
    said = refusal(joined(plant_of("tig", seams(joint="lap fillet")))).replace("\N{NO-BREAK SPACE}", " ")
    assert "longer than the edge of Web, 2.00 mm" in said


def test_a_lap_by_cold_wire_is_held_against_its_edge(plant_of: Make) -> None:
    found = checks(packet_of(joined(plant_of("tig", both(seams(joint="lap fillet"), sheets("2.9 mm", "2.9 mm"))))))
    assert "at most 2.9 mm along the edge of Web, 2.9 mm" in found["largest leg"]


def test_a_butt_by_cold_wire_has_its_cap_and_its_step_checked(plant_of: Make) -> None:
    def butt(order: dict[str, Any]) -> None:
        for seam in order["operations"][0]["seams"]:
            del seam["throat"]
            seam |= {"joint": "square butt", "gap": "0.5 mm", "flush": "root"}

    found = checks(packet_of(joined(plant_of("tig", both(butt, sheets("2 mm", "2.5 mm"))))))
    assert "of weld metal lie above the sheet" in found["excess weld metal"]
    assert "leaves a step of 0.50 mm: the roots lie in one plane" in found["step of the butt"]
