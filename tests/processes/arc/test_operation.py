"""One arc operation: groups, dialled figures, refusals reported together, reach and sense of positions."""

from math import ceil
from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc import FAMILY
from weld_packets.units import magnitude
from weld_packets.wording.titles import title_of


def upward(length: int) -> dict[str, Any]:
    return {"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"to": ["0", "0", str(length)]}]}


def test_the_figures_to_set_stand_in_the_order_of_setting(bench: Any) -> None:
    (settings,) = FAMILY.compute(bench.operation(), bench.approved()).settings
    assert [figure.key for figure in settings.dialled] == [
        "wire_feed_speed",
        "arc_voltage",
        "travel_speed",
        "gas_flow",
        "contact_distance",
        "work_angle",
        "travel_angle",
    ]


def test_every_set_value_lies_on_a_step_and_inside_its_allowed_range(bench: Any) -> None:
    (settings,) = FAMILY.compute(bench.operation(), bench.approved()).settings
    for figure in settings.dialled[:4]:
        assert figure.allowed_range.low <= figure.value <= figure.allowed_range.high
        assert figure.step is None or figure.text % figure.step == 0


def test_the_travel_speed_aims_above_the_throat_required_by_the_margin(bench: Any) -> None:
    """Hand calculation: 49.742 mm³/s of weld metal at 4 m/min; 1.1 · 2.4² mm² and 6.2 % more: 7.38 mm/s."""
    (settings,) = FAMILY.compute(bench.operation(), bench.approved()).settings
    assert str(settings.figure("travel_speed").text) == "7.3"
    assert bench.number(settings, "throat_obtained") == pytest.approx((49.742 / 7.3 / 1.1) ** 0.5, rel=1e-4)
    assert bench.number(settings, "throat_target") == pytest.approx(2.4 * 1.03122, rel=1e-4)
    assert settings.pass_count == 1


def test_the_plants_own_margin_is_target_at(bench: Any) -> None:
    """Hand calculation: 49.742 mm³/s over 1.1 · 2.4² · 1.05² mm² is 7.12 mm/s."""
    margin = {"size margin": "5 %", "size margin source": "trials"}
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(with_plant=bench.plant(**margin))).settings
    assert bench.number(settings, "throat_target") == pytest.approx(2.52)
    assert str(settings.figure("travel_speed").text) == "7.2"
    assert str(settings.figure("wire_feed_speed").text) == "4.1"


def test_no_end_of_an_allowed_range_makes_the_weld_smaller_than_required(bench: Any) -> None:
    """Hand calculation: 1.1 · 2.4² mm² are deposited at 7.85 mm/s and 4 m/min, or at 7.3 mm/s and 3.72 m/min."""
    (settings,) = FAMILY.compute(bench.operation(), bench.approved()).settings
    speed, feed = settings.figure("travel_speed"), settings.figure("wire_feed_speed")
    assert speed.allowed_range.high.magnitude == pytest.approx(7.8)
    assert feed.allowed_range.low.magnitude == pytest.approx(3.8)
    assert feed.allowed_range.high.magnitude == pytest.approx(4.4)
    assert speed.allowed_range.origin.endswith("upper end: the size required")
    assert feed.allowed_range.origin.endswith("lower end: the size required")


def test_no_end_of_an_allowed_range_makes_the_weld_larger_than_a_limit_that_was_read(bench: Any) -> None:
    """Hand calculation at level B: at most 2.4 + 1 + 0.15 · 2.4 = 3.76 mm, deposited at 4.4 m/min and 3.52 mm/s."""
    table = bench.chart(row={"travel speed from": "2 mm/s"})
    (settings,) = FAMILY.compute(bench.operation(quality="B"), bench.approved(charts=(table,), limits=())).settings
    speed, feed = settings.figure("travel_speed"), magnitude(settings.figure("wire_feed_speed").value, "m/min")
    assert speed.allowed_range.low.magnitude == pytest.approx(ceil(10 * feed / 4 * 49.742 / (1.1 * 3.76**2)) / 10)
    assert "lower end: largest throat, standard: 5214, level B" in speed.allowed_range.origin


def test_a_butt_without_a_cap_keeps_the_allowed_ranges_of_the_chart(bench: Any) -> None:
    (settings,) = FAMILY.compute(
        bench.operation(bench.seam("S1", joint="square butt", gap="0.5 mm")), bench.approved()
    ).settings
    speed, feed = settings.figure("travel_speed"), settings.figure("wire_feed_speed")
    assert (speed.allowed_range.low.magnitude, speed.allowed_range.high.magnitude) == pytest.approx((7, 9))
    assert (feed.allowed_range.low.magnitude, feed.allowed_range.high.magnitude) == pytest.approx((3.6, 4.4))


def test_a_wire_for_another_metal_is_refused_although_gas_and_diameter_fit_the_chart(bench: Any) -> None:
    """A 19 9 L Si wire in a chart of plain steel would lay a brittle deposit without anybody having asked for it."""
    of_approved = bench.approved(with_wire=bench.wire(bases=["austenitic stainless"]))
    with pytest.raises(
        OutOfRangeError, match="wire W10 is for austenitic stainless; component web is structural steel"
    ):
        FAMILY.compute(bench.operation(), of_approved)


def test_a_gas_flow_that_the_gas_is_not_used_at_is_refused_and_an_allowed_range_cut(bench: Any) -> None:
    table = bench.chart(row={"gas flow from": "20 l/min", "gas flow to": "28 l/min"})
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(charts=(table,))).settings
    allowed_range = settings.figure("gas_flow").allowed_range
    assert allowed_range.high.magnitude == pytest.approx(25)
    assert allowed_range.origin.endswith("upper end: gas M21")
    table = bench.chart(row={"gas flow from": "24 l/min", "gas flow to": "30 l/min"})
    with pytest.raises(OutOfRangeError, match=r"Gas flow 27.*outside what gas M21 is used at"):
        FAMILY.compute(bench.operation(), bench.approved(charts=(table,)))


def test_seams_of_equal_settings_are_one_group_and_others_are_apart(bench: Any) -> None:
    seams = [
        bench.seam("S1"),
        bench.seam("S2", throat="0.24 cm"),
        bench.seam("S3", components=["plate", "web"]),
        bench.seam("S4", robot="B"),
        bench.seam("S5", joint="lap fillet"),
        bench.seam("S6", travel_angle="5°") | {"travel angle": "5°"},
    ]
    seams[-1].pop("travel_angle")
    groups = FAMILY.compute(bench.operation(*seams), bench.approved()).settings
    assert [group.welds for group in groups] == [("S1", "S2", "S3"), ("S4",), ("S5",), ("S6",)]
    assert [group.key for group in groups] == ["a-s1", "b-s4", "a-s5", "a-s6"]


def test_keys_that_differ_only_in_signs_are_distinguished(bench: Any) -> None:
    seams = [bench.seam("S.1"), bench.seam("S-1", joint="lap fillet")]
    assert [group.key for group in FAMILY.compute(bench.operation(*seams), bench.approved()).settings] == [
        "a-s-1",
        "a-s-1-2",
    ]


def test_a_title_names_joint_size_position_and_sheets(bench: Any) -> None:
    (settings,) = FAMILY.compute(bench.operation(bench.seam("S1", leg="3.4 mm")), bench.approved()).settings
    assert title_of([settings.kind]).replace("\N{NO-BREAK SPACE}", " ") == "T fillet z 3.4 mm, PB, 3 mm + 4 mm"


def test_angles_come_from_the_order_before_the_chart(bench: Any) -> None:
    tilted = bench.seam("S1") | {"work angle": "40°"}
    (settings,) = FAMILY.compute(bench.operation(tilted), bench.approved()).settings
    assert (str(settings.figure("work_angle").text), str(settings.figure("travel_angle").text)) == ("40", "10")
    assert bench.notes(settings.figure("travel_angle")) == ["push"]


@pytest.mark.parametrize(("angle", "warned"), [("60°", False), ("61°", True), ("-45°", True)])
def test_an_angle_far_from_the_chart_s_is_warned_of(bench: Any, angle: str, *, warned: bool) -> None:
    """A power-source maker's manual: butt ± 15°."""
    (settings,) = FAMILY.compute(bench.operation(bench.seam("S1") | {"work angle": angle}), bench.approved()).settings
    assert bool(bench.warnings(settings.figure("work_angle"))) is warned


def planned(bench: Any, **more: Any) -> Any:
    """Return a shop whose chart has a plan of two passes."""
    passes = [{"place": "root", "aim": "at the root"}, {"place": "cover", "aim": "at the toe", "cleaning": "brush"}]
    table = bench.chart(**{"pass plans": [{"passes": passes, "source": "plan of the test"}]}, **more)
    return bench.approved(charts=(table,))


def test_a_throat_of_two_passes_is_welded_in_two_passes_of_equal_section(bench: Any) -> None:
    """Hand calculation: half of 1.1 · 3.4² mm² and 6.2 % more is deposited at 7.36 mm/s."""
    (settings,) = FAMILY.compute(bench.operation(bench.seam("S1", throat="3.4 mm")), planned(bench)).settings
    assert settings.pass_count == 2
    assert str(settings.figure("travel_speed").text) == "7.3"
    assert bench.number(settings, "throat_obtained") == pytest.approx((2 * 49.742 / 7.3 / 1.1) ** 0.5, rel=1e-4)


def test_each_pass_says_where_it_lies_and_which_throat_is_then_reached(bench: Any) -> None:
    (settings,) = FAMILY.compute(bench.operation(bench.seam("S1", throat="3.4 mm")), planned(bench)).settings
    assert [(each.number, each.place, each.aim, each.cleaning) for each in settings.passes] == [
        (1, "root", "at the root", "not stated"),
        (2, "cover", "at the toe", "brush"),
    ]
    target = 3.4 * 1.03122
    assert [magnitude(each.throat, "mm") for each in settings.passes] == pytest.approx(
        [target / 2**0.5, target], rel=1e-4
    )
    assert settings.pass_source.startswith("plan of")


def test_a_chart_for_single_passes_does_not_serve_two(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match="more passes: the chart has no plan for them"):
        FAMILY.compute(bench.operation(bench.seam("S1", throat="3.4 mm")), bench.approved())


def test_a_throat_between_one_pass_and_two_is_refused_with_what_the_chart_can_make(bench: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(bench.seam("S1", throat="2.7 mm")), planned(bench))
    (problem,) = refused.value.problems
    assert problem.key == "seams[0].throat"
    message = problem.message.replace("\N{NO-BREAK SPACE}", " ")
    assert "1 pass: a pass of throat 2.70 mm is above the chart's 2.60 mm" in message
    assert "2 passes: no 3.6 to 4.4 m/min of wire feed with 7.0 to 9.0 mm/s of travel speed makes it" in message
    remedy = problem.remedy.replace("\N{NO-BREAK SPACE}", " ")
    assert "throats of 2.05 mm to 2.50 mm in 1 pass, 2.85 mm to 3.55 mm in 2 passes" in remedy


def test_a_refused_leg_is_reported_in_legs_and_with_inches_first_where_the_order_has_them_first(bench: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(bench.seam("S1", throat=None, leg="3.85 mm")), planned(bench))
    (problem,) = refused.value.problems
    assert problem.key == "seams[0].leg"
    assert "a pass of leg 3.85\N{NO-BREAK SPACE}mm is above the chart's 3.67\N{NO-BREAK SPACE}mm" in problem.message
    remedy = problem.shown_first("US customary").remedy.replace("\N{NO-BREAK SPACE}", " ")
    assert "legs of 0.1142 in (2.90 mm) to 0.1391 in (3.53 mm) in 1 pass" in remedy


@pytest.mark.parametrize(
    ("key", "at_most", "chart"),
    [
        ("leg", "3.42", {"throat from": None, "throat to": None, "leg from": "3.1 mm", "leg to": "3.42 mm"}),
        ("throat", "2.43", {"throat to": "2.434 mm"}),
    ],
)
def test_a_size_above_the_chart_is_refused_with_one_upper_end(
    bench: Any, key: str, at_most: str, chart: dict[str, Any]
) -> None:
    """The welds of this bench reach 2.5 mm: it is the chart alone that ends the size, and not at a whole 0.05 mm."""
    approved = bench.approved(charts=(bench.chart(row=chart),))
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(bench.seam("S1", **{"throat": None, key: "5 mm"})), approved)
    (problem,) = refused.value.problems
    assert f"a pass of {key} 5.00 mm is above the chart's {at_most} mm" in problem.message.replace(
        "\N{NO-BREAK SPACE}", " "
    )
    assert f" to {at_most} mm in 1 pass)" in problem.remedy.replace("\N{NO-BREAK SPACE}", " ")
    seam = bench.seam("S1", **{"throat": None, key: f"{at_most} mm"})
    assert FAMILY.compute(bench.operation(seam), approved).settings[0].pass_count == 1


@pytest.mark.parametrize(("throat", "passes"), [("2.05 mm", 1), ("2.5 mm", 1), ("2.85 mm", 2), ("3.55 mm", 2)])
def test_every_throat_that_a_refusal_offers_can_be_made(bench: Any, throat: str, passes: int) -> None:
    settings = FAMILY.compute(bench.operation(bench.seam("S1", throat=throat)), planned(bench)).settings
    assert settings[0].pass_count == passes


def test_too_small_a_throat_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match=r"1 pass: no 3\.6 to 4\.4"):
        FAMILY.compute(bench.operation(bench.seam("S1", throat="2 mm")), bench.approved())


def test_a_throat_that_the_chart_does_not_give_to_one_pass_is_refused_although_the_speed_fits(bench: Any) -> None:
    table = bench.chart(row={"throat from": "2.45 mm", "throat to": "2.6 mm"})
    with pytest.raises(OutOfRangeError, match=r"a pass of throat 2\.40.*is below the chart's 2\.45"):
        FAMILY.compute(bench.operation(), bench.approved(charts=(table,)))


def test_a_chart_may_print_legs(bench: Any) -> None:
    legs = {"throat from": None, "throat to": None, "leg from": "3.5 mm", "leg to": "3.6 mm"}
    approved = bench.approved(charts=(bench.chart(row=legs),))
    assert FAMILY.compute(bench.operation(bench.seam("S1", throat="2.5 mm")), approved).settings[0].pass_count == 1
    with pytest.raises(OutOfRangeError, match=r"throat 2\.40.*below the chart's 2\.48"):
        FAMILY.compute(bench.operation(), approved)


def test_all_problems_of_an_operation_are_reported_at_once(bench: Any) -> None:
    far = {"unit": "m", "start": ["0", "0", "0"], "pieces": [{"to": ["2", "0", "0"]}]}
    bent = {"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"via": ["1", "0", "0"], "to": ["2", "0", "0"]}]}
    seams = [
        bench.seam("S1", throat="2.9 mm"),
        bench.seam("S2", path=far),
        bench.seam("S3", path=bent),
        bench.seam("S4", joint="lap fillet", position="PE"),
    ]
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(*seams), bench.approved())
    assert sorted(problem.key for problem in refused.value.problems) == [
        "seams[0].throat",
        "seams[1].path",
        "seams[2].path.pieces[0]",
        "seams[3]",
    ]


def test_the_farthest_point_of_each_robot_is_checked_against_its_reach(bench: Any) -> None:
    bow = {"unit": "mm", "start": ["-600", "0", "0"], "pieces": [{"via": ["0", "600", "0"], "to": ["600", "0", "0"]}]}
    seams = [bench.seam("S1"), bench.seam("S2", path=bow), bench.seam("S3", robot="B")]
    verdicts = FAMILY.compute(bench.operation(*seams), bench.approved()).verdicts
    assert [(verdict.key, verdict.subject, verdict.passed) for verdict in verdicts] == [
        ("reach", "robot A", True),
        ("reach", "robot B", True),
        ("seam_on_edge", "seams", None),
    ]
    assert "600\N{NO-BREAK SPACE}mm from the base (seam S2)" in verdicts[0].text


@pytest.mark.parametrize(
    ("position", "rise", "warned"),
    [
        *(("PF", 100, False), ("PF", -100, True), ("PG", -100, False), ("PG", 100, True)),
        *(("PF", 0, True), ("PG", 0, True)),  # a level path goes neither up nor down
    ],
)
def test_a_vertical_position_that_its_path_contradicts_is_warned_of(
    bench: Any, position: str, rise: int, *, warned: bool
) -> None:
    path = {"path": upward(rise)} if rise else {}
    result = FAMILY.compute(bench.operation(bench.seam("S1", position=position, **path)), bench.approved())
    found = [verdict for verdict in result.verdicts if verdict.key == "position"]
    assert [verdict.passed for verdict in found] == ([None] if warned else [])


def test_a_figure_beyond_physics_is_refused_with_the_bound_and_its_source(bench: Any) -> None:
    limits = (bench.limit("welding_current", "20 A", "100 A"), bench.limit("travel_speed", "20 mm/s", "50 mm/s"))
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(), bench.approved(limits=limits))
    assert len(refused.value.problems) == 2
    assert all("bounds of the test" in problem.message for problem in refused.value.problems)


def test_an_allowed_range_that_leads_beyond_physics_is_refused_though_its_value_lies_inside(bench: Any) -> None:
    (settings,) = FAMILY.compute(bench.operation(), bench.approved()).settings
    allowed_range = next(figure.allowed_range for figure in settings.dialled if figure.key == "travel_speed")
    value = next(figure.value for figure in settings.dialled if figure.key == "travel_speed")
    assert allowed_range.low.m_as("mm/s") < value.m_as("mm/s")
    lowest = f"{(allowed_range.low.m_as('mm/s') + value.m_as('mm/s')) / 2:.3f} mm/s"
    with pytest.raises(OutOfRangeError, match=r"travel speed .* is not plausible"):
        FAMILY.compute(bench.operation(), bench.approved(limits=(bench.limit("travel_speed", lowest, "50 mm/s"),)))


def test_a_figure_without_a_bound_says_that_nothing_was_checked(bench: Any) -> None:
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(limits=())).settings
    verdict = next(verdict for verdict in settings.verdicts if verdict.key == "plausible_welding_current")
    assert verdict.passed is None


def test_settings_that_the_machine_cannot_give_are_all_refused(bench: Any) -> None:
    machine = bench.source(**{"wire feed from": "5 m/min", "voltage to": "17 V"})
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(), bench.approved(machine=machine))
    assert len(refused.value.problems) == 2
    assert all("outside what source of the test can be set to" in problem.message for problem in refused.value.problems)


def test_a_chart_from_memory_is_noted_and_does_not_block(bench: Any) -> None:
    table = bench.chart(reliability="from memory")
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(charts=(table,))).settings
    assert [verdict.passed for verdict in settings.verdicts if verdict.key == "chart_standing"] == [None]


def test_words_of_a_source_do_not_decide_how_far_it_is_trusted(bench: Any) -> None:
    table = bench.chart(source="Not from memory, as a reader of the shop's notes might think")
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(charts=(table,))).settings
    assert not [verdict for verdict in settings.verdicts if verdict.key == "chart_standing"]


def test_a_pulsed_arc_warns_that_means_are_approximate(bench: Any) -> None:
    table = bench.chart(transfer="pulsed")
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(charts=(table,))).settings
    assert any("pulsed" in text for text in bench.warnings(settings.figure("arc_energy")))


def test_an_unusual_heat_input_warns(bench: Any) -> None:
    table = bench.chart(row={"current from": "30 A", "current to": "40 A"})
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(charts=(table,))).settings
    assert bench.warnings(settings.figure("heat_input")) == ["outside the usual 0.1 to 2 kJ/mm"]


@pytest.mark.parametrize(("slowest", "fastest", "warned"), [("2.8", "3.2", True), ("2.9", "3.5", False)])
def test_a_heat_input_above_2_kilojoules_per_millimetre_is_unusual(
    bench: Any, slowest: str, fastest: str, *, warned: bool
) -> None:
    """0.8 · 30.9 · 250 / 3000 = 2.06 kJ/mm at 3.0 mm/s, and 1.93 kJ/mm at 3.2 mm/s."""
    chart = {
        "current from": "240 A", "current to": "260 A", "voltage from": "30 V", "voltage to": "31.8 V",
        "travel speed from": f"{slowest} mm/s", "travel speed to": f"{fastest} mm/s",
    }  # fmt: skip
    approved = bench.approved(charts=(bench.chart(row=chart),), limits=())
    (settings,) = FAMILY.compute(
        bench.operation(bench.seam("S1", joint="square butt", gap="0.5 mm")), approved
    ).settings
    assert bench.number(settings, "heat_input") == pytest.approx(2.06 if warned else 1.93, abs=0.005)
    assert bench.warnings(settings.figure("heat_input")) == (["outside the usual 0.1 to 2 kJ/mm"] if warned else [])


@pytest.mark.parametrize(("low", "high", "warned"), [("40", "50", True), ("45", "55", False)])
def test_a_heat_input_below_a_tenth_of_a_kilojoule_per_millimetre_is_unusual(
    bench: Any, low: str, high: str, *, warned: bool
) -> None:
    """0.8 · 19 · 45 / 7300 = 0.0937 kJ/mm, and 0.1041 kJ/mm at 50 A."""
    table = bench.chart(row={"current from": f"{low} A", "current to": f"{high} A"})
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(charts=(table,))).settings
    assert bench.number(settings, "heat_input") == pytest.approx(0.0937 if warned else 0.1041, abs=0.0001)
    assert bench.warnings(settings.figure("heat_input")) == (["outside the usual 0.1 to 2 kJ/mm"] if warned else [])


def test_arc_time_wire_and_gas_follow_from_length_runs_and_rates(bench: Any) -> None:
    seams = [bench.seam("S1", throat="3.4 mm"), bench.seam("S2", throat="3.4 mm")]
    (settings,) = FAMILY.compute(bench.operation(*seams), planned(bench)).settings
    burning = 2 * 200 / 7.3
    assert bench.number(settings, "weld_length") == pytest.approx(200)
    assert bench.number(settings, "arc_time") == pytest.approx(burning)
    assert bench.number(settings, "wire_mass") == pytest.approx(4000 / 60 * 0.785398 * 7.85e-6 * burning, rel=1e-5)
    assert bench.number(settings, "gas_volume") == pytest.approx(12 / 60 * (burning + 4 * 2))
    assert bench.number(settings, "deposition_rate") == pytest.approx(4 * 60 * 6.1654 * 0.95 / 1000, rel=1e-4)
    per_length = 1000 * bench.number(settings, "wire_mass") / 0.2
    assert bench.number(settings, "wire_per_weld_length") == pytest.approx(per_length, rel=1e-6)


def test_a_curved_path_is_measured_along_the_curve(bench: Any) -> None:
    half = {"unit": "cm", "start": ["0", "0", "0"], "pieces": [{"via": ["5", "5", "0"], "to": ["10", "0", "0"]}]}
    (settings,) = FAMILY.compute(bench.operation(bench.seam("S1", path=half)), bench.approved()).settings
    assert str(settings.figure("weld_length").text) == "157"


def test_more_passes_than_a_chart_has_plans_for_are_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(bench.seam("S1", throat="12 mm")), planned(bench))
    (problem,) = refused.value.problems
    assert "2 passes: a pass of throat 8.49" in problem.message
    assert "3 passes" not in problem.message


def test_a_size_given_as_leg_is_refused_at_its_own_key_as_the_order_states_it(bench: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(bench.seam("S1", throat=None, leg="4.1 mm")), bench.approved())
    (problem,) = refused.value.problems
    assert (problem.key, problem.value) == ("seams[0].leg", "4.1 mm")


def test_a_chart_without_throats_is_limited_by_its_feeds_and_speeds_alone(bench: Any) -> None:
    approved = bench.approved(charts=(bench.chart(row={"throat from": None, "throat to": None}),))
    assert FAMILY.compute(bench.operation(), approved).settings[0].pass_count == 1
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(bench.seam("S1", throat="2.9 mm")), approved)
    remedy = refused.value.problems[0].remedy.replace("\N{NO-BREAK SPACE}", " ")
    assert "throats of 2.05 mm to 2.50 mm in 1 pass" in remedy


def test_a_crooked_path_alone_in_its_group_is_refused_and_not_our_fault(bench: Any) -> None:
    bent = {"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"via": ["1", "0", "0"], "to": ["2", "0", "0"]}]}
    with pytest.raises(OutOfRangeError, match="make no circle"):
        FAMILY.compute(bench.operation(bench.seam("S1", path=bent)), bench.approved())


def test_a_point_written_twice_is_no_piece_of_a_path(bench: Any) -> None:
    short = {"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"to": ["0.001", "0", "0"]}]}
    with pytest.raises(OutOfRangeError, match="ends where it starts"):
        FAMILY.compute(bench.operation(bench.seam("S1", path=short)), bench.approved())


def test_several_passes_of_a_chart_for_single_passes_are_warned_of(bench: Any) -> None:
    (one,) = FAMILY.compute(bench.operation(), planned(bench)).settings
    (two,) = FAMILY.compute(bench.operation(bench.seam("S1", throat="3.4 mm")), planned(bench)).settings
    assert bench.warnings(one.figure("passes")) == []
    assert bench.warnings(two.figure("passes")) == ["2 passes, from a chart for single passes"]


def test_a_chart_that_makes_no_size_at_all_offers_none(bench: Any) -> None:
    table = bench.chart(row={"throat from": "4 mm", "throat to": "5 mm"})
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(), bench.approved(charts=(table,)))
    assert refused.value.problems[0].remedy == "change the size, or use another chart"


def test_a_zinc_coat_under_an_arc_is_warned_of(bench: Any) -> None:
    of_approved = bench.approved(materials=(bench.material("DX51D", coating="hot-dip zinc"),))
    parts = {"web": ("S235", "3 mm"), "plate": ("DX51D", "4 mm")}
    verdicts = [
        verdict
        for verdict in FAMILY.compute(bench.operation(components=parts), of_approved).verdicts
        if verdict.key == "coating"
    ]
    assert [(verdict.subject, verdict.passed) for verdict in verdicts] == [("plate", None)]
    assert not [
        verdict for verdict in FAMILY.compute(bench.operation(), bench.approved()).verdicts if verdict.key == "coating"
    ]


def numbered(bench: Any, *numbers: str, **second: Any) -> Any:
    one = {"weld schedule": numbers[0]} if numbers[0] else {}
    two = {"weld schedule": numbers[1]} if numbers[1] else {}
    return bench.operation(bench.seam("S1", **one), bench.seam("S2", **second, **two))


def test_seams_of_one_number_are_one_group_that_carries_it(bench: Any) -> None:
    (settings,) = FAMILY.compute(numbered(bench, "7", "7"), bench.approved()).settings
    assert (settings.welds, settings.weld_schedule) == (("S1", "S2"), 7)


def test_seams_of_equal_settings_under_two_numbers_are_two_groups(bench: Any) -> None:
    found = FAMILY.compute(numbered(bench, "7", "8"), bench.approved()).settings
    assert [(each.welds, each.weld_schedule) for each in found] == [(("S1",), 7), (("S2",), 8)]


def test_an_order_that_numbers_no_seam_has_no_number(bench: Any) -> None:
    (settings,) = FAMILY.compute(numbered(bench, "", ""), bench.approved()).settings
    assert settings.weld_schedule is None


def test_a_gas_flow_that_ends_where_the_gas_does_is_the_charts_own(bench: Any) -> None:
    table = bench.chart(row={"gas flow from": "8 l/min", "gas flow to": "25 l/min"})
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(charts=(table,))).settings
    found = settings.figure("gas_flow").allowed_range
    assert (found.low.magnitude, found.high.magnitude) == (8, 25)
    assert "gas M21" not in found.origin
