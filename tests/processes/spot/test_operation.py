from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.results import OperationResult, SpotKind
from weld_packets.calculation.trace import Figure, Given, Lookup, Rounded
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.spot.operation import spot_operation, spot_point
from weld_packets.processes.spot.records import Spot
from weld_packets.units import Quantity, quantity


def problems(operation: Any, approved: Any) -> list[tuple[str, str]]:
    with pytest.raises(OutOfRangeError) as caught:
        spot_operation(operation, approved)
    return [(problem.key, problem.message) for problem in caught.value.problems]


def only(operation: Any, approved: Any) -> str:
    """Return the message of the one problem, which must stand at the first stack."""
    [(key, message)] = problems(operation, approved)
    assert key == "stacks[0]"
    return message


def figure(result: OperationResult, key: str) -> Figure:
    return result.settings[0].figure(key)


def dialled(result: OperationResult) -> dict[str, tuple[str, str]]:
    return {entry.key: (str(entry.text), entry.unit) for entry in result.settings[0].dialled}


def test_a_setter_dials_the_middle_of_every_band_in_the_steps_of_the_machine(build: Any) -> None:
    assert dialled(spot_operation(build.operation(), build.approved())) == {
        "electrode_force": ("2.5", "kN"),
        "squeeze_time": ("15", "cycles@50Hz"),
        "weld_current": ("9.0", "kA"),
        "weld_time": ("12", "cycles@50Hz"),
        "hold_time": ("8", "cycles@50Hz"),
    }


def test_settings_are_grouped_by_stack_and_robot_in_the_order_of_the_spots(build: Any) -> None:
    stacks = [{"id": "k1", "sheets": ["panel", "strip"]}, {"id": "K.2", "sheets": ["strip", "panel"]}]
    spots = [
        build.spot("s1", 20),
        build.spot("s2", 50, robot="B"),
        build.spot("s3", 80),
        build.spot("s4", 110, stack="K.2"),
    ]
    result = spot_operation(build.operation(stacks=stacks, spots=spots), build.approved())
    assert [(group.key, group.robot, group.welds, group.pass_count) for group in result.settings] == [
        ("k1-a", "A", ("s1", "s3"), 1),
        ("k1-b", "B", ("s2",), 1),
        ("k-2-a", "A", ("s4",), 1),
    ]
    assert result.settings[2].kind == SpotKind("K.2", (quantity(1, "mm"), quantity(1, "mm")))


def test_a_60_hz_cell_counts_its_own_cycles(build: Any) -> None:
    approved = build.approved()
    approved = build.approved(cells={"C1": approved.cells["C1"].model_copy(update={"mains": _hertz(60)})})
    found = dialled(spot_operation(build.operation(), approved))
    assert found["weld_time"] == ("14", "cycles@60Hz")  # 240 ms is 14.4 cycles
    assert found["squeeze_time"] == ("18", "cycles@60Hz")  # 300 ms is 18 cycles


def test_times_that_no_allowed_range_limits_are_never_shortened_by_rounding(build: Any) -> None:
    approved = build.approved(guns={"G1": build.gun(**{"time step": "50 ms"}), "G2": build.gun(id="G2")})
    found = dialled(spot_operation(build.operation(), approved))
    assert found["hold_time"] == ("200", "ms")  # 160 ms is stated
    assert found["weld_time"] == ("250", "ms")  # nearest to 240 ms


def test_an_allowed_range_ends_on_steps_of_the_machine_inside_the_chart(build: Any) -> None:
    approved = build.approved(guns={"G1": build.gun(**{"current step": "300 A"}), "G2": build.gun(id="G2")})
    allowed_range = figure(spot_operation(build.operation(), approved), "weld_current").allowed_range
    assert allowed_range is not None
    assert allowed_range.low is not None
    assert allowed_range.high is not None
    assert (allowed_range.low.m_as("A"), allowed_range.high.m_as("A")) == (8100, 9900)
    assert allowed_range.origin.startswith("table plain-bands, row over 0.5")


def test_an_allowed_range_stops_where_gun_or_cap_stop(build: Any) -> None:
    weak = build.gun(**{"force from": "2.25 kN", "current from": "8.5 kA", "current to": "9.5 kA"})
    approved = build.approved(
        guns={"G1": weak, "G2": build.gun(id="G2")}, caps={"cap-6": build.cap(**{"maximum force": "2.8 kN"})}
    )
    result = spot_operation(build.operation(), approved)
    force, current = (figure(result, key).allowed_range for key in ("electrode_force", "weld_current"))
    assert force is not None
    assert current is not None
    assert (str(force.low), str(force.high)) == ("2.3 kilonewton", "2.8 kilonewton")
    assert force.origin.endswith("lower end: gun G1; upper end: cap cap-6")
    assert (str(current.low), str(current.high)) == ("8.5 kiloampere", "9.5 kiloampere")


def test_the_trace_of_a_dialled_figure_ends_with_the_step_of_the_machine(build: Any) -> None:
    lookup, rounded = figure(spot_operation(build.operation(), build.approved()), "weld_current").trace
    assert isinstance(lookup, Lookup)
    assert lookup.values == ("8\N{NO-BREAK SPACE}kA to 10\N{NO-BREAK SPACE}kA",)
    assert isinstance(rounded, Rounded)
    assert (rounded.after, rounded.step, rounded.machine) == (Decimal("9.0"), Decimal("0.1"), "gun G1")


def test_squeeze_and_hold_come_from_the_operation_of_the_chart_before_the_head(build: Any) -> None:
    chart = build.chart(row={"squeeze": "400 ms"})
    result = spot_operation(build.operation(), build.approved(spot_charts={"plain-bands": chart}))
    assert figure(result, "squeeze_time").text == 20
    assert isinstance(figure(result, "squeeze_time").trace[0], Lookup)
    given = figure(result, "hold_time").trace[0]
    assert isinstance(given, Given)
    assert given.origin == "table plain-bands: sequence of the test"


@pytest.mark.parametrize(
    ("reliability", "weight"),
    [("published", None), ("from memory", "warning"), ("common practice, no source", "note")],
)
def test_what_a_table_calls_memory_warns_and_what_it_calls_common_practice_is_noted(
    build: Any, reliability: str, weight: str | None
) -> None:
    factors = {"minimum": "4", "target": "5", "source": "a rule", "reliability": reliability}
    chart = build.chart(**{"weld diameter": factors})
    result = spot_operation(build.operation(), build.approved(spot_charts={"plain-bands": chart}))
    found = [remark.weight.value for remark in figure(result, "minimum_weld_diameter").remarks]
    assert found == ([weight] if weight else [])


def test_a_pulsed_weld_sets_pulses_and_cool_time_and_counts_all_pulses_into_the_duty(build: Any) -> None:
    chart = build.chart(row={"pulses": "3", "cool": "2 cycles@50Hz"})
    approved = build.approved(spot_charts={"plain-bands": chart}, guns=_guns(build, "40 %"))
    result = spot_operation(build.operation(), approved)
    assert dialled(result)["pulses"] == ("3", "1")
    assert dialled(result)["cool_time"] == ("2", "cycles@50Hz")
    assert figure(result, "time_under_force").text == 15 * 20 + 3 * 12 * 20 + 2 * 2 * 20 + 8 * 20
    assert figure(result, "duty_cycle").text == Decimal("31.9")  # 720 ms in 1260 + 1000 ms


def test_duty_rate_and_heating_follow_from_the_times_of_robot_and_gun(build: Any) -> None:
    result = spot_operation(build.operation(), build.approved())
    assert figure(result, "time_under_force").text == 700
    assert figure(result, "fastest_spot_rate").text == Decimal(36)  # 60 / (0.7 + 0.4 + 0.6) = 35.3, up to the safe side
    assert figure(result, "duty_cycle").text == Decimal("14.2")  # 240 of 1700 ms
    assert figure(result, "equivalent_permanent_current").text == Decimal("3.39")
    assert figure(result, "maximum_spot_rate").text == 77  # (5 / 9)^2 of a minute over 240 ms


def test_what_the_sheets_require_is_derived_with_its_trace(build: Any) -> None:
    result = spot_operation(build.operation(), build.approved())
    found = {
        key: str(figure(result, key).text) for key in ("minimum_weld_diameter", "target_weld_diameter", "minimum_pitch")
    }
    assert found == {"minimum_weld_diameter": "4.0", "target_weld_diameter": "5.0", "minimum_pitch": "20"}
    assert str(figure(result, "minimum_edge_distance").text) == "6.0"
    assert figure(result, "electrode_pressure").text == 88  # 2500 N on a face of 6 mm
    factor = figure(result, "minimum_weld_diameter").trace[0]
    assert isinstance(factor, Given)
    assert factor.origin == "table plain-bands: factors of the test"


def test_every_problem_of_an_operation_is_reported_at_once(build: Any) -> None:
    parts = [part | {"thickness": "3 mm"} if part["id"] == "strip" else part for part in _parts(build)]
    stacks = [{"id": "k1", "sheets": ["panel", "strip"]}, {"id": "k2", "sheets": ["panel", "panel"]}]
    parts[0]["thickness"] = "0.9 mm"
    spots = [build.spot("s1", 2, stack="k2"), build.spot("s2", 5, stack="k2"), build.spot("s3", 3000)]
    assert [
        key for key, _ in problems(build.operation(components=parts, stacks=stacks, spots=spots), build.approved())
    ] == [
        "spots[0]",
        "spots[1]",
        "stacks[0]",
    ]


def test_a_stack_without_spots_is_refused(build: Any) -> None:
    stacks = [{"id": "k1", "sheets": ["panel", "strip"]}, {"id": "k2", "sheets": ["panel", "strip"]}]
    assert problems(build.operation(stacks=stacks), build.approved()) == [("stacks[1]", "no spot is on stack k2")]


def test_a_mains_frequency_without_a_count_of_cycles_is_refused(build: Any) -> None:
    cell = build.approved().cells["C1"].model_copy(update={"mains": _hertz(400)})
    found = problems(build.operation(), build.approved(cells={"C1": cell}))
    assert [key for key, _ in found] == ["robots[0].cell", "robots[1].cell"]
    assert "counted in cycles of 50 Hz or 60 Hz" in found[0][1]


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ({"current to": "8.9 kA"}, "Weld current 9.0\N{NO-BREAK SPACE}kA is above the maximum of gun G1, 8.9"),
        ({"current from": "9.1 kA"}, "Weld current 9.0\N{NO-BREAK SPACE}kA is below the minimum of gun G1, 9.1"),
        ({"force to": "2.4 kN"}, "Electrode force 2.5\N{NO-BREAK SPACE}kN is above the maximum of gun G1"),
        (
            {"permanent current": "3.3 kA"},
            "Equivalent continuous current (thermal) 3.39\N{NO-BREAK SPACE}kA is above the rating",
        ),
        ({"maximum duty": "14 %"}, "Duty cycle of the gun 14.2\N{NO-BREAK SPACE}% is above the rating of gun G1, 14"),
        (
            {"current step": "7 kA"},
            "Weld current: no step of 7\N{NO-BREAK SPACE}kA of gun G1 lies between the ends of 8",
        ),
    ],
)
def test_a_gun_that_cannot_do_it_is_refused(build: Any, more: dict[str, str], expected: str) -> None:
    assert expected in only(build.operation(), build.approved(guns={"G1": build.gun(**more), "G2": build.gun(id="G2")}))


@pytest.mark.parametrize(
    ("rating", "shown", "refused"),
    [
        ({"maximum duty": "14.2 %"}, "14.2", False),
        ({"maximum duty": "14.12 %"}, "14.12", False),
        ({"maximum duty": "14.11 %"}, "14.12", True),
        ({"permanent current": "3.39 kA"}, "3.39", False),
        ({"permanent current": "3382 A"}, "3.382", False),
        ({"permanent current": "3381 A"}, "3.382", True),
    ],
)
def test_a_gun_at_its_rating_is_refused_only_where_it_is_passed(
    build: Any, rating: dict[str, str], shown: str, *, refused: bool
) -> None:
    """0.24 s of current in 1.7 s are 14.118 %; the equivalent current is 9 kA times the root of it, 3.3816 kA."""
    guns = {"G1": build.gun(**rating), "G2": build.gun(id="G2", **rating)}
    if refused:
        assert f" {shown}\N{NO-BREAK SPACE}" in only(build.operation(), build.approved(guns=guns))
        return
    key = "duty_cycle" if "maximum duty" in rating else "equivalent_permanent_current"
    result = spot_operation(build.operation(), build.approved(guns=guns))
    assert {str(each.figure(key).text) for each in result.settings} == {shown}


def test_a_cap_that_cannot_stand_the_force_is_refused(build: Any) -> None:
    weak = build.cap(**{"maximum force": "2.4 kN"})
    assert "above the maximum of cap cap-6" in only(build.operation(), build.approved(caps={"cap-6": weak}))


def test_a_cap_face_below_the_minimum_of_the_chart_is_refused(build: Any) -> None:
    small = build.cap(face="4.9 mm")
    message = only(build.operation(), build.approved(caps={"cap-6": small}))
    assert "smaller than the face of table plain-bands" in message


def test_a_cap_face_below_the_minimum_weld_diameter_is_refused(build: Any) -> None:
    chart = build.chart(**{"cap face is": "maximum"})
    message = only(
        build.operation(), build.approved(caps={"cap-6": build.cap(face="3.9 mm")}, spot_charts={"plain-bands": chart})
    )
    assert message.endswith("smaller than the minimum weld diameter, 4.0\N{NO-BREAK SPACE}mm")


@pytest.mark.parametrize(("missing", "expected"), [("squeeze", "no squeeze time"), ("hold", "no hold time")])
def test_a_chart_without_squeeze_or_hold_is_refused(build: Any, missing: str, expected: str) -> None:
    chart = build.chart(**{missing: None})
    assert expected in only(build.operation(), build.approved(spot_charts={"plain-bands": chart}))


def test_pulses_without_a_cool_time_are_refused(build: Any) -> None:
    chart = build.chart(row={"pulses": "2"})
    assert "states no cool time" in only(build.operation(), build.approved(spot_charts={"plain-bands": chart}))


def test_a_setting_outside_physical_bounds_is_refused_with_the_source(build: Any) -> None:
    limits = (build.limit("weld_current", "9.5 kA", "20 kA"), build.limit("thickness", "0.4 mm", "3 mm"))
    message = only(build.operation(), build.approved(limits=limits))
    assert "weld current 9\N{NO-BREAK SPACE}kA is not plausible for resistance spot welding" in message
    assert "bounds of the test" in message


@pytest.mark.parametrize(("lowest", "highest"), [("1.1 mm", "3 mm"), ("0.4 mm", "1.1 mm")])
def test_the_thinnest_and_the_thickest_sheet_of_a_stack_are_held_against_their_bounds(
    build: Any, lowest: str, highest: str
) -> None:
    parts = [build.part("panel", "1.5 mm"), build.part("strip")]
    limits = (build.limit("weld_current", "3 kA", "20 kA"), build.limit("thickness", lowest, highest))
    assert "is not plausible" in only(build.operation(components=parts), build.approved(limits=limits))


def test_an_allowed_range_that_leads_outside_physical_bounds_is_refused_though_its_middle_lies_inside(
    build: Any,
) -> None:
    limits = (build.limit("weld_current", "8.5 kA", "20 kA"), build.limit("thickness", "0.4 mm", "3 mm"))
    assert "weld current 8\N{NO-BREAK SPACE}kA is not plausible" in only(
        build.operation(), build.approved(limits=limits)
    )


def test_a_squeeze_time_is_held_against_its_bound_where_the_table_has_one(build: Any) -> None:
    limits = (build.limit("squeeze_time", "400 ms", "600 ms"),)
    assert "squeeze time 15\N{NO-BREAK SPACE}cycles at 50 Hz is not plausible" in only(
        build.operation(), build.approved(limits=limits)
    )


def _parts(build: Any) -> list[dict[str, Any]]:
    outline = {"unit": "mm", "points": build.rectangle(200, 40)}
    return [build.part("panel", outlines=[outline]), build.part("strip", outlines=[outline])]


def _guns(build: Any, duty: str) -> dict[str, Any]:
    more = {"maximum duty": duty, "permanent current": "9 kA"}
    return {"G1": build.gun(**more), "G2": build.gun(id="G2", **more)}


def _hertz(number: float) -> Quantity:
    return quantity(number, "Hz")


def test_the_number_of_a_set_comes_from_the_stack(build: Any) -> None:
    stacks = [{"id": "k1", "sheets": ["panel", "strip"], "weld schedule": "4"}]
    (settings,) = spot_operation(build.operation(stacks=stacks), build.approved()).settings
    assert settings.weld_schedule == 4


TIMES = ("electrode_force", "squeeze_time", "weld_current", "weld_time", "hold_time")


def test_what_makes_the_weld_is_held_against_physics_and_other_times_only_where_a_limit_names_them(build: Any) -> None:
    def held(*limits: Any) -> list[str]:
        known = build.approved().limits
        found = spot_operation(build.operation(), build.approved(limits=(*known, *limits))).settings[0]
        return [verdict.key for verdict in found.verdicts if verdict.key in {f"plausible_{key}" for key in TIMES}]

    assert held() == ["plausible_electrode_force", "plausible_weld_current", "plausible_weld_time"]
    assert "plausible_hold_time" in held(build.limit("hold_time", "1 cycles@50Hz", "30 cycles@50Hz"))


def test_the_time_between_two_welds_is_that_of_gun_and_move_together(build: Any) -> None:
    between = figure(spot_operation(build.operation(), build.approved()), "fastest_spot_rate").trace[0]
    assert isinstance(between, Given)
    assert between.value == quantity(1.0, "s")  # 0.4 s of the gun and 0.6 s of the move


@pytest.mark.parametrize(("rated", "allowed"), [("14.2 %", True), ("14.1 %", False)])
def test_a_gun_may_be_loaded_to_its_rated_duty_and_not_above(build: Any, rated: str, *, allowed: bool) -> None:
    approved = build.approved(guns=_guns(build, rated))
    if allowed:
        assert figure(spot_operation(build.operation(), approved), "duty_cycle").text == Decimal("14.2")
    else:
        assert "14.2\N{NO-BREAK SPACE}% is above the rating of gun" in problems(build.operation(), approved)[0][1]


def test_a_spot_is_where_its_three_lengths_say() -> None:
    spot = Spot.model_validate({"id": "s1", "robot": "A1", "stack": "k1", "x": "1 in", "y": "2 cm", "z": "-3 mm"})
    assert spot_point(spot) == pytest.approx((25.4, 20, -3))
