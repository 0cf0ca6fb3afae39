from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.safety import Hazard
from weld_packets.packet.safety.messages import messages
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.processes.cell.drafts import Draft
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.units import quantity


def _keys(make: Any, operation: Any, **more: Any) -> set[str]:
    return set(messages(make.views(operation, **more)).of_operation["operation-1"])


def _why(make: Any, key: str, *operations: Any) -> str:
    return next(each.why for each in messages(make.views(*operations)).callouts if each.key == key)


def _facts(make: Any, key: str, *operations: Any, **more: Any) -> list[tuple[str, str]]:
    callout = next(each for each in messages(make.views(*operations, **more)).callouts if each.key == key)
    return [(fact.who, fact.text) for fact in callout.facts]


def test_spot_operation_brings_crushing_and_implants_but_no_rays(make: Any) -> None:
    assert _keys(make, make.spot_operation()) == {
        *("lockout", "crush", "implants", "eyes", "hot", "start-up", "teach", "clamps"),
    }


def test_arc_operation_brings_rays_gas_and_noise_but_no_crushing(make: Any) -> None:
    assert _keys(make, make.arc_operation()) == {
        "lockout",
        "rays",
        "gas",
        "noise",
        "hot",
        "start-up",
        "teach",
        "clamps",
    }


def test_zinc_message_needs_both_an_arc_and_a_coated_part(make: Any) -> None:
    assert "zinc" in _keys(make, make.arc_operation("DX51"))
    assert "zinc" not in _keys(make, make.spot_operation("DX51"))
    assert "Part 1 has a hot-dip zinc coating" in _why(make, "zinc", make.arc_operation("DX51"))


def test_names_of_components_are_parted_by_semicolons_where_one_holds_a_comma(make: Any) -> None:
    def why(*names: str) -> str:
        operation = make.arc_operation("DX51")
        coated = operation.components[0]
        named = (coated.model_copy(update={"id": f"P{at}", "name": name}) for at, name in enumerate(names, 1))
        return _why(make, "zinc", operation.model_copy(update={"components": tuple(named)}))

    assert "Edge strip, front; Panel have a hot-dip zinc coating" in why("Edge strip, front", "Panel")
    assert "Strip and Panel have a hot-dip zinc coating" in why("Strip", "Panel")


def test_chromium_message_appears_with_stainless_sheet_and_names_its_share(make: Any) -> None:
    assert "chromium" not in _keys(make, make.arc_operation("DC01"))
    assert "304 holds 18 % chromium" in _why(make, "chromium", make.arc_operation("304"))


@pytest.mark.parametrize(("share", "is_stated"), [("5", True), ("4.99", False)])
def test_chromium_message_begins_at_the_share_that_it_names(make: Any, share: str, *, is_stated: bool) -> None:
    wire = make.approved.wires["W10"].model_copy(update={"chromium": Decimal(share)})
    make.approved = replace(make.approved, wires={"W10": wire})
    assert ("chromium" in _keys(make, make.arc_operation("DC01"))) is is_stated


def test_chromium_in_the_wire_alone_is_enough(make: Any) -> None:
    wire = make.approved.wires["W10"].model_copy(update={"chromium": Decimal(20)})
    make.approved = replace(make.approved, wires={"W10": wire})
    assert "G3Si1 holds 20 % chromium" in _why(make, "chromium", make.arc_operation("DC01"))


def _shade(make: Any, change: Any) -> str:
    return str(_facts(make, "rays", make.arc_operation(), change=change)[0][1])


def _robots(make: Any, *settings: Any) -> Any:
    """Change an operation to one group of settings for each robot, with these currents and the tops of their ranges."""

    def change(each: Any) -> Any:
        one = make.spot_settings if isinstance(each.operation, SpotOperation) else make.arc_settings
        cell = each.operation.cell
        welds = ("A1", "B1") if isinstance(each.operation, SpotOperation) else ("sA", "sB")
        groups = [
            one(f"{cell}{side}", (weld,), current=now, top=top)
            for side, weld, (now, top) in zip("AB", welds, settings, strict=True)
        ]
        return replace(each, settings=tuple(groups))

    return change


def test_message_over_a_current_goes_by_the_largest_current_that_the_settings_allow(make: Any) -> None:
    assert "strong" not in _keys(make, make.spot_operation())
    for top, strong in (("10", False), ("10.1", True)):
        views = make.views(make.spot_operation(), change=_robots(make, ("8.4", "9.0"), ("8.4", top)))
        assert ("strong" in messages(views).of_operation["operation-1"]) is strong
    found = next(each for each in messages(views).callouts if each.key == "strong")
    assert "Largest allowed current 10.1\N{NO-BREAK SPACE}kA, over 10\N{NO-BREAK SPACE}kA." in found.why


def test_the_end_of_an_allowed_range_counts_as_the_page_rounds_it(make: Any) -> None:
    """A setter cannot go to 10.04 kA where the page allows at most 10.0 kA in steps of 0.1 kA."""
    views = make.views(make.spot_operation(), change=_robots(make, ("8.4", "10.04"), ("8.4", "10.04")))
    assert "strong" not in messages(views).of_operation["operation-1"]


def test_message_up_to_a_current_holds_at_its_end_and_not_above(make: Any) -> None:
    at_end = make.views(make.arc_operation(), change=lambda each: make.result(each.operation, current="90", top="100"))
    above = make.views(make.arc_operation(), change=lambda each: make.result(each.operation, current="90", top="101"))
    assert "weak" in messages(at_end).of_operation["operation-1"]
    assert "weak" not in messages(above).of_operation["operation-1"]


def test_message_up_to_a_current_needs_every_group_to_stay_below(make: Any) -> None:
    views = make.views(make.arc_operation(), change=_robots(make, ("90", ""), ("150", "")))
    assert "weak" not in messages(views).of_operation["operation-1"]


def test_crushing_message_gives_the_largest_force_that_is_allowed(make: Any) -> None:
    ((_, text),) = _facts(make, "crush", make.spot_operation())
    assert text == "Largest allowed electrode force: 2.8\N{NO-BREAK SPACE}kN (630\N{NO-BREAK SPACE}lbf)."


def test_ray_message_gives_the_shade_and_behind_it_current_and_table(make: Any) -> None:
    assert _facts(make, "rays", make.arc_operation()) == [
        ("Every operation", "Filter shade: minimum 10, suggested 11.")
    ]
    assert "150\N{NO-BREAK SPACE}A (table shades" in _why(make, "rays", make.arc_operation())


@pytest.mark.parametrize(
    ("current", "shade"),
    [
        ("59", "minimum 7"), ("60", "minimum 10, suggested 11"), ("61", "minimum 10, suggested 11"),
        ("159", "minimum 10, suggested 11"), ("160", "minimum 10, suggested 12"), ("161", "minimum 10, suggested 12"),
        ("159.99999999999997", "minimum 10, suggested 12"),
        ("250", "minimum 10, suggested 12"), ("250.00000000000003", "minimum 10, suggested 12"),
    ],
)  # fmt: skip
def test_an_end_that_two_shade_rows_share_belongs_to_the_darker_one(make: Any, current: str, shade: str) -> None:
    assert _shade(make, lambda each: make.result(each.operation, current=current)) == f"Filter shade: {shade}."


def test_shade_goes_by_the_group_with_the_largest_current(make: Any) -> None:
    for settings in ((("50", ""), ("200", "")), (("200", ""), ("50", ""))):
        assert _shade(make, _robots(make, *settings)) == "Filter shade: minimum 10, suggested 12."


def test_shade_goes_by_the_end_of_the_allowed_range_and_not_by_the_set_current(make: Any) -> None:
    assert _shade(make, _robots(make, ("150", "159"), ("150", "159"))) == "Filter shade: minimum 10, suggested 11."
    assert _shade(make, _robots(make, ("150", "159"), ("150", "170"))) == "Filter shade: minimum 10, suggested 12."


def test_operations_with_other_shades_share_one_message_that_lists_both(make: Any) -> None:
    views = make.views(
        make.arc_operation(),
        make.spot_operation(),
        make.arc_operation(name="Hotter"),
        change=lambda each: make.result(each.operation, current="200") if each.operation.name == "Hotter" else each,
    )
    (rays,) = [each for each in messages(views).callouts if each.key == "rays"]
    assert [(fact.who, fact.operations, fact.text) for fact in rays.facts] == [
        ("Operation 1", ("operation-1",), "Filter shade: minimum 10, suggested 11."),
        ("Operation 3", ("operation-3",), "Filter shade: minimum 10, suggested 12."),
    ]


@pytest.mark.parametrize(("current", "top"), [("251", ""), ("240", "251")])
def test_current_beyond_the_chart_of_shades_is_refused(make: Any, current: str, top: str) -> None:
    views = make.views(make.arc_operation(), change=lambda each: make.result(each.operation, current=current, top=top))
    with pytest.raises(OutOfRangeError, match=r"no row of table shades gives a filter shade .* at 251") as refused:
        messages(views)
    assert refused.value.problems[0].key == "operations[0]"


def test_noise_field_and_teach_speed_are_the_cells_own(make: Any) -> None:
    assert _facts(make, "noise", make.arc_operation())[0][1] == (
        "Noise at cell C1: 96\N{NO-BREAK SPACE}dB(A), measured at the gate."
    )
    assert _facts(make, "implants", make.spot_operation())[0][1] == "Magnetic field at cell C5: 0.8 mT at the gate."
    assert "250\N{NO-BREAK SPACE}mm/s" in _facts(make, "teach", make.spot_operation())[0][1]


def test_operation_adds_its_figures_only_to_messages_that_they_are_about(make: Any) -> None:
    assert (
        _why(make, "start-up", make.spot_operation()) == "Every operation of this order."
    )  # no teach speed at the start
    assert "caps close" not in _facts(make, "teach", make.spot_operation())[0][1]  # no force at the moving robot


def test_operations_with_the_same_reason_share_a_message_and_others_keep_their_own(make: Any) -> None:
    views = make.views(make.spot_operation(), make.spot_operation("DX51"), make.arc_operation())
    found = messages(views)
    lockout = [each for each in found.callouts if each.key.startswith("lockout")]
    crush = [each for each in found.callouts if each.key.startswith("crush")]
    assert [each.why for each in lockout] == ["Every operation of this order."]
    assert len(crush) == 1
    assert crush[0].why.startswith("Operations 1 and 2: ")


def test_operations_with_other_figures_get_their_own_message(make: Any) -> None:
    views = make.views(
        make.spot_operation(),
        make.spot_operation(name="Stronger"),
        change=lambda each: make.result(each.operation, top="10.4") if each.operation.name == "Stronger" else each,
    )
    found = messages(views)
    assert "strong" not in found.of_operation["operation-1"]
    assert "strong" in found.of_operation["operation-2"]
    assert {each.key for each in found.at("prove", "operation-2")} == {"strong", "hot", "teach", "start-up"}


def test_message_is_before_the_first_step_that_it_is_about(make: Any) -> None:
    found = messages(make.views(make.spot_operation())).at("set up", "operation-1")
    caps = (Draft("Fit caps.", topics=("caps",)), Draft("Dress caps.", topics=("caps",)))
    drafts = (Draft("Lock out.", topics=("enter",)), *caps, Draft("Close the clamps.", topics=("clamps",)))
    assert [step.callouts for step in printed_steps(drafts, found)] == [("lockout",), ("crush",), (), ("clamps",)]


def test_no_reduced_speed_is_promised_where_robots_start_in_automatic(make: Any) -> None:
    found = messages(make.views(make.spot_operation()))
    facts = {call.key: str(call.facts) for call in found.callouts if "W018" in call.signs or "W019" in call.signs}
    starting = {call.key for call in found.callouts if "start" in call.stages}
    assert all("reduced speed" not in facts[key] for key in starting & facts.keys())


def _with_hazard(make: Any, **more: Any) -> None:
    """Let the shop have one message with these fields, besides the one for the eyes."""
    stated = {"word": "WARNING", "hazard": "h", "consequence": "c", "avoid": "a", "source": "s"}
    one = stated | {"id": "one", "stages": ["run"]} | more
    eyes = stated | {"id": "eyes", "stages": [], "signs": ["M013", "M019"]}
    make.approved = replace(make.approved, hazards=tuple(Hazard.model_validate(each) for each in (one, eyes)))


def _change_cell(make: Any, **more: Any) -> None:
    make.approved = replace(
        make.approved, cells={name: cell.model_copy(update=more) for name, cell in make.approved.cells.items()}
    )


@pytest.mark.parametrize(
    ("noise", "holding"),
    [(79, {"measured"}), (80, {"measured", "offered"}), (84, {"measured", "offered"}), (85, {"measured", "worn"}),
     (None, {"unknown"})],
)  # fmt: skip
def test_noise_of_a_cell_decides_which_message_about_it_holds(
    make: Any, noise: float | None, holding: set[str]
) -> None:
    _change_cell(make, noise=None if noise is None else quantity(noise, "dB(A)"))
    conditions = {
        "worn": {"noise from": "85 dB(A)"},
        "offered": {"noise from": "80 dB(A)", "noise below": "85 dB(A)"},
        "unknown": {"noise measured": "no"},
        "measured": {"noise measured": "yes"},
    }
    for operation in (make.arc_operation(), make.spot_operation()):
        found = set()
        for name, when in conditions.items():
            _with_hazard(make, when=when)
            found |= {name} if "one" in _keys(make, operation) else set()
        assert found == holding


def test_noise_that_was_not_measured_is_said_to_be_so(make: Any) -> None:
    _change_cell(make, noise=None)
    _with_hazard(make, when={"noise measured": "no"}, facts=["noise"])
    assert _facts(make, "one", make.arc_operation()) == [("Every operation", "Noise at cell C1: not measured.")]
    assert "The noise at cell C1 has not been measured." in _why(make, "one", make.arc_operation())


def test_a_cylinder_endangers_by_its_pressure_and_not_by_what_is_in_it(make: Any) -> None:
    _with_hazard(make, when={"shielding gas": "yes"})
    assert "Gas M21 comes under pressure in a cylinder." in _why(make, "one", make.arc_operation())
    assert _keys(make, make.spot_operation()) == {"eyes"}


def test_a_message_names_whom_to_call(make: Any) -> None:
    _with_hazard(make, facts=["supervisor"])
    assert _facts(make, "one", make.arc_operation()) == [
        ("Every operation", "Supervisor to call: the foreman (extension 7).")
    ]


def test_marked_line_is_named_only_where_one_is_drawn(make: Any) -> None:
    assert "line" not in _facts(make, "implants", make.spot_operation())[0][1]
    _change_cell(make, marked_line="yellow, 2 m outside the fence")
    assert _facts(make, "implants", make.spot_operation())[0][1] == (
        "Magnetic field at cell C5: 0.8 mT at the gate; with an implant, do not cross the marked line "
        "(yellow, 2 m outside the fence) unless individually cleared."
    )


@pytest.mark.parametrize(
    ("share", "holds", "why"),
    [("0 %", False, ""), ("2.5 %", True, "Gas M21 holds 2.5\N{NO-BREAK SPACE}% carbon dioxide."),
     (None, True, "The table of gases does not state the share of carbon dioxide in gas M21.")],
)  # fmt: skip
def test_carbon_monoxide_goes_by_the_carbon_dioxide_of_the_gas_and_by_doubt(
    make: Any, share: str | None, holds: bool, why: str
) -> None:
    stated = None if share is None else quantity(float(share.split()[0]), "%")
    gas = make.approved.gases["M21"].model_copy(update={"carbon_dioxide": stated})
    make.approved = replace(make.approved, gases={"M21": gas})
    _with_hazard(make, when={"carbon dioxide over": "0 %"})
    assert ("one" in _keys(make, make.arc_operation())) is holds
    assert not holds or why in _why(make, "one", make.arc_operation())
    assert "one" not in _keys(make, make.spot_operation())


def test_fire_message_gives_distance_and_watch_of_the_plant_in_both_systems(make: Any) -> None:
    _with_hazard(make, facts=["fire precautions"])
    assert _facts(make, "one", make.spot_operation())[0][1] == (
        "No combustibles within 11\N{NO-BREAK SPACE}m (35\N{NO-BREAK SPACE}ft) where sparks can leave the cell; "
        "fire watch for at least 30\N{NO-BREAK SPACE}min after the last weld."
    )


def test_the_plants_figures_of_a_message_say_where_they_are_from(make: Any) -> None:
    _with_hazard(make, facts=["fire precautions", "reduced speed", "oxygen alarm"])
    sources = {"fire_distance_source": "law 1", "fire_watch_source": "law 2.", "reduced_speed_source": "law 3"}
    plant = make.approved.plant.model_copy(update=sources)
    make.approved = replace(make.approved, plant=plant)
    fire = "Distance of combustibles by table plant (law 1); fire watch by table plant (law 2)."
    assert f"{fire} Reduced speed by table plant (law 3)." in _why(make, "one", make.arc_operation())
    assert "Oxygen" not in _why(make, "one", make.arc_operation())
    alarm = {"oxygen_alarm": quantity(19.5, "%"), "oxygen_alarm_source": "law 4"}
    make.approved = replace(make.approved, plant=plant.model_copy(update=alarm))
    assert "Oxygen alarm by table plant (law 4)." in _why(make, "one", make.arc_operation())


def test_oxygen_alarm_is_the_plants_or_said_to_be_missing(make: Any) -> None:
    _with_hazard(make, facts=["oxygen alarm"])
    assert _facts(make, "one", make.arc_operation())[0][1] == "Oxygen alarm: not stated in the table of the plant."
    plant = make.approved.plant.model_copy(update={"oxygen_alarm": quantity(19.5, "%")})
    make.approved = replace(make.approved, plant=plant)
    assert _facts(make, "one", make.arc_operation())[0][1] == "Oxygen alarm: 19.5\N{NO-BREAK SPACE}%."


def test_dressing_and_cooling_are_given_for_each_gun_and_for_no_torch(make: Any) -> None:
    guns = dict(make.approved.guns)
    cooled = {"dressing": "hand", "cooling_flow": quantity(5.7, "l/min")}
    guns["E-C5B"] = guns["E-C5B"].model_copy(update=cooled)
    make.approved = replace(make.approved, guns=guns)
    _with_hazard(make, facts=["dressing", "cooling water"])
    assert _facts(make, "one", make.spot_operation())[0][1] == (
        "C5A: power dressing; C5B: hand dressing. "
        "C5A: cooling water: flow not stated in the table of machines; "
        "C5B: cooling water: at least 5.7\N{NO-BREAK SPACE}l/min (1.5\N{NO-BREAK SPACE}gal/min) through each electrode."
    )
    assert _facts(make, "one", make.arc_operation()) == []


def test_guns_that_are_dressed_in_the_same_way_are_named_together(make: Any) -> None:
    _with_hazard(make, facts=["dressing"])
    assert _facts(make, "one", make.spot_operation())[0][1] == "C5A and C5B: power dressing."


def test_message_without_a_stage_belongs_to_its_operation_and_to_no_step(make: Any) -> None:
    _with_hazard(make, stages=[])
    found = messages(make.views(make.spot_operation()))
    assert found.of_operation["operation-1"] == ("one", "eyes")
    assert [call.key for call in found.callouts] == ["one", "eyes"]
    assert not any(found.at(stage) for stage in ("confirm", "set up", "prove", "start", "run", "changeover"))


# ---------------------------------------------------------------- eyes


def _without(make: Any, *signs: str) -> Any:
    """Return a plant whose table of hazards shows none of some signs."""
    kept = tuple(each for each in make.approved.hazards if set(signs).isdisjoint(each.signs))
    return type(make)(replace(make.approved, hazards=kept))


def test_no_packet_of_an_arc_is_without_a_welding_mask(make: Any) -> None:
    """29 CFR 1910.252(b)(2)(i)(A); a table of hazards that was made before the plant had the process knows none."""
    bare = _without(make, "M019")
    with pytest.raises(OutOfRangeError, match=r"process 135 shows a welding mask \(sign M019\)"):
        messages(bare.views(bare.arc_operation()))
    assert messages(bare.views(bare.spot_operation())).callouts


def test_no_packet_of_spots_is_without_a_face_shield_or_goggles(make: Any) -> None:
    """29 CFR 1910.252(b)(2)(i)(C)."""
    bare = _without(make, "M013")
    with pytest.raises(OutOfRangeError, match=r"process 21 shows a face shield or goggles \(sign M013 or M004\)"):
        messages(bare.views(bare.spot_operation()))
    assert messages(bare.views(bare.arc_operation())).callouts


def test_every_operation_without_protection_of_the_eyes_is_named(make: Any) -> None:
    bare = _without(make, "M013", "M019")
    with pytest.raises(OutOfRangeError) as found:
        messages(bare.views(bare.arc_operation(), bare.spot_operation()))
    assert [each.key for each in found.value.problems] == ["operations[0].process", "operations[1].process"]
