"""Fit-up: the root gap and what it costs, tacks, closed seams, and the range of the contact distance."""

from typing import Any

import pytest
from weld_packets.calculation.countermeasures import BUTT_GAP, MEASURE_TACKS
from weld_packets.calculation.sentences import sentence
from weld_packets.calculation.trace import Weight, in_words, metric_text
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.inspection import Imperfections
from weld_packets.packet.settings.values import Showing, printed_value
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.seam_groups import closes, welded_length_mm
from weld_packets.processes.arc.size.fit_up import Fillet, bridged_gap, butt_gap, gap_figures, tack_check, throat_at_gap
from weld_packets.units import in_mm, magnitude, quantity

GAP = {"of wire": "0.5", "of wire source": "rule of the test"}


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def mm(value: float) -> Any:
    return quantity(value, "mm")


# ---------------------------------------------------------------- root gap


@pytest.mark.parametrize(
    ("leg", "gap", "lost"),
    [(3, 0.5, 17), (3, 1, 33), (4, 0.5, 12), (4, 1, 25), (4, 1.6, 40), (5, 0.5, 10), (5, 1, 20), (6, 1.6, 27)],
)
def test_a_gap_costs_throat(leg: float, gap: float, lost: float) -> None:
    """Computed by hand from (z - g) / √2; no published table."""
    left = in_mm(throat_at_gap(leg=mm(leg), gap=mm(gap))) / in_mm(throat_at_gap(leg=mm(leg), gap=mm(0)))
    assert 100 * (1 - left) == pytest.approx(lost, abs=0.6)


def test_a_robot_bridges_a_share_of_its_wire() -> None:
    assert in_mm(bridged_gap(share=quantity(0.5, "1"), wire_diameter=mm(1.2))) == pytest.approx(0.6)


def limits(plus: str) -> Imperfections:
    levels = [{"level": level, "over": "0.5 mm", "plus": plus, "share": "0.1"} for level in "BCD"]
    entry = {
        "id": "gap",
        "numbers": ["617"],
        "name": "gap",
        "share of": "throat",
        "limits": levels,
        "source": "standard",
    }
    head = {"table": "i", "title": "t", "source": "s", "revision": "1", "kind": "imperfections", "short length": "x"}
    return Imperfections.model_validate(head | {"entries": [entry]})


def gaps(
    bench: Any,
    *,
    joint: str = "T fillet",
    plus: str | None = None,
    rule: Any = GAP,
    expected: float = 2.2,
    **seam: str,
) -> list[Any]:
    approved = bench.approved(
        with_plant=bench.plant(**({"root gap": rule} if rule else {})),
        imperfections=None if plus is None else limits(plus),
    )
    group = bench.group(bench.operation(bench.seam("S1", joint=joint, **seam)), approved)
    return list(gap_figures(group, Fillet(mm(3), mm(2.12), mm(expected)), 1, approved))


def test_the_gap_is_what_the_robot_bridges_and_the_throat_what_it_leaves(bench: Any) -> None:
    """Half of 1.0 mm; (3 - 0.5) / √2 = 1.77 mm."""
    gap, _, left = gaps(bench)
    assert magnitude(gap.value, "mm") == pytest.approx(0.5)
    assert magnitude(left.value, "mm") == pytest.approx(1.7678, abs=1e-4)
    assert str(left.text) == "1.8"


def test_a_quality_level_that_allows_less_decides(bench: Any) -> None:
    """0.2 mm + 0.1 · 2.12 mm = 0.412 mm, shown and kept rounded down."""
    gap = gaps(bench, plus="0.2 mm")[0]
    assert (str(gap.text), magnitude(gap.value, "mm")) == ("0.41", pytest.approx(0.41))
    assert "standard: 617" in gap.trace[2].origin


def test_a_quality_level_that_allows_more_does_not(bench: Any) -> None:
    assert magnitude(gaps(bench, plus="0.3 mm")[0].value, "mm") == pytest.approx(0.5)


def test_a_gap_that_costs_throat_warns_and_says_up_to_which_gap_it_is_kept(bench: Any) -> None:
    """√2 · (2.2 - 2.12) = 0.1131 mm, rounded down."""
    gap, kept, _ = gaps(bench)
    assert (str(kept.text), magnitude(kept.value, "mm")) == ("0.11", pytest.approx(0.11))
    (remark,) = gap.remarks
    assert remark.weight is Weight.WARNING
    assert plain(remark.text) == "at a gap of 0.50 mm the required leg leaves 1.8 mm of the required throat 2.12 mm"
    assert remark.countermeasure.stage == "loading"
    assert plain(metric_text(remark.countermeasure.do)) == (
        "Measure the root gap, clamps closed. Over 0.11 mm the throat is not kept: close it, or stop."
    )


def test_the_sentence_on_a_gap_rounds_it_down_once_in_each_unit_as_its_figure_does(bench: Any) -> None:
    """0.508 · 1.0 mm is 0.0200 in and 0.50 mm, which would be 0.0197 in; √2 · (2.2 - 2.12) mm is 0.00445 in."""
    gap, kept, _ = gaps(bench, rule=GAP | {"of wire": "0.508"})
    (remark,) = gap.remarks
    said = plain(sentence((*in_words(remark.said), "; ", *in_words(remark.countermeasure.do)), "US customary"))
    assert said.startswith("at a gap of 0.0200 in (0.50 mm) the required leg leaves ")
    assert "Over 0.0044 in (0.11 mm) the throat is not kept" in said
    shown = [printed_value(figure, Showing("US customary", 60), "k").amount for figure in (gap, kept)]
    assert [plain(amount.text) for amount in shown if amount] == ["0.0200 in (0.50 mm)", "0.0044 in (0.11 mm)"]


@pytest.mark.parametrize(("expected", "warns"), [(2.473, True), (2.474, False)])
def test_a_gap_within_what_the_settings_give_in_excess_does_not_warn(
    bench: Any, expected: float, *, warns: bool
) -> None:
    """√2 · (2.4736 - 2.12) is the 0.5 mm that the robot bridges."""
    gap, *_, left = gaps(bench, expected=expected)
    assert bool(gap.remarks) is warns
    assert left.key == "throat_at_gap"


def test_the_cost_of_a_gap_is_reported_of_t_joints_alone(bench: Any) -> None:
    assert [figure.key for figure in gaps(bench, joint="lap fillet")] == ["root_gap"]


@pytest.mark.parametrize(("of_wire", "listed"), [("3", False), ("2.9", True)])
def test_a_gap_as_wide_as_the_leg_leaves_no_throat_to_speak_of(bench: Any, of_wire: str, *, listed: bool) -> None:
    """A leg of 3 mm, and 3 or 2.9 times the wire of 1.0 mm."""
    keys = [figure.key for figure in gaps(bench, rule=GAP | {"of wire": of_wire})]
    assert ("throat_at_gap" in keys) is listed


def test_a_butt_and_a_plant_without_a_rule_have_no_root_gap(bench: Any) -> None:
    assert gaps(bench, joint="square butt", gap="0 mm") == []
    assert gaps(bench, rule=None) == []


# ---------------------------------------------------------------- tacks


def tacks(bench: Any, thickness: str = "4 mm", **stated: Any) -> list[Any]:
    operation = bench.operation(tacks=stated, components=bench.sheets("3 mm", thickness))
    return list(tack_check(bench.group(operation, bench.approved())))


@pytest.mark.parametrize(
    ("thickness", "length", "enough"),
    [("4 mm", "16 mm", True), ("4 mm", "15.9 mm", False), ("12 mm", "49 mm", False), ("12 mm", "50 mm", True)],
)
def test_tacks_are_held_against_the_quoted_rule_for_plate(
    bench: Any, thickness: str, length: str, *, enough: bool
) -> None:
    (verdict,) = tacks(bench, thickness, number="2", length=length, **{"made by": "robot A"})
    assert (verdict.passed, verdict.warns) == ((True, False) if enough else (None, True))
    assert verdict.countermeasure is (None if enough else MEASURE_TACKS)


def test_the_tacks_of_a_seam_go_before_those_of_its_operation(bench: Any) -> None:
    own = {"number": "1", "length": "20 mm", "made by": "hand"}
    operation = bench.operation(bench.seam("S1", tacks=own), tacks={"number": "0"})
    assert bench.group(operation, bench.approved()).tacks.number == 1


def test_clamps_alone_need_no_length(bench: Any) -> None:
    assert tacks(bench, number="0") == []


@pytest.mark.parametrize("stated", [{"length": "20 mm"}, {"made by": "robot A"}])
def test_tacks_say_how_long_they_are_and_who_makes_them(bench: Any, stated: dict[str, str]) -> None:
    with pytest.raises(OutOfRangeError, match="tacks without"):
        tacks(bench, number="2", **stated)


@pytest.mark.parametrize(("number", "fits"), [("5", True), ("6", False)])
def test_more_tacks_than_fit_on_a_seam_are_refused(bench: Any, number: str, *, fits: bool) -> None:
    stated = {"number": number, "length": "20 mm", "made by": "robot A"}
    if fits:
        assert tacks(bench, **stated)
        return
    with pytest.raises(OutOfRangeError, match="do not fit on seam S1"):
        tacks(bench, **stated)


def test_tacks_in_inches_that_just_fill_a_seam_fit_on_it(bench: Any) -> None:
    """Three of 1.1 in are 83.82 mm, which a float makes a little more, as long as a seam of 3.3 in."""
    path = {"unit": "in", "start": ["0", "0", "0"], "pieces": [{"to": ["3.3", "0", "0"]}]}
    stated = {"number": "3", "length": "1.1 in", "made by": "robot A"}
    operation = bench.operation(bench.seam("S1", path=path), tacks=stated)
    assert list(tack_check(bench.group(operation, bench.approved())))


def test_tacks_that_fit_on_a_long_seam_and_not_on_a_short_one_are_refused_with_the_short_one(bench: Any) -> None:
    short = bench.seam("S2", path={"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"to": ["50", "0", "0"]}]})
    stated = {"number": "3", "length": "20 mm", "made by": "robot A"}
    operation = bench.operation(bench.seam("S1"), short, tacks=stated)
    with pytest.raises(OutOfRangeError, match="do not fit on seam S2"):
        list(tack_check(bench.group(operation, bench.approved())))


# ---------------------------------------------------------------- closed seams

RING = {
    "unit": "mm",
    "start": ["10", "0", "0"],
    "pieces": [{"via": ["0", "10", "0"], "to": ["-10", "0", "0"]}, {"via": ["0", "-10", "0"], "to": ["10", "0", "0"]}],
}


def ring(bench: Any, **more: Any) -> Any:
    return bench.operation(bench.seam("S1", path=RING, **more)).seams[0]


def test_a_path_that_ends_where_it_started_closes(bench: Any) -> None:
    assert closes(ring(bench))
    assert not closes(bench.operation().seams[0])


@pytest.mark.parametrize(("end", "closed"), [("10.009", True), ("10.011", False)])
def test_ends_a_hundredth_of_a_millimetre_apart_are_one(bench: Any, end: str, *, closed: bool) -> None:
    pieces = [RING["pieces"][0], {"via": ["0", "-10", "0"], "to": [end, "0", "0"]}]
    assert closes(bench.operation(bench.seam("S1", path=RING | {"pieces": pieces})).seams[0]) is closed


def test_a_closed_seam_is_as_long_as_its_path_and_its_overlap(bench: Any) -> None:
    """A ring of 10 mm radius: 62.83 mm, and 5 mm of the plant or 8 mm of the order."""
    plant = bench.plant(**{"closed seam overlap": "5 mm", "closed seam source": "rule of the test"})
    assert welded_length_mm(ring(bench), plant) == pytest.approx(67.83, abs=0.01)
    assert welded_length_mm(ring(bench, overlap="8 mm"), plant) == pytest.approx(70.83, abs=0.01)
    assert welded_length_mm(ring(bench), bench.plant()) == pytest.approx(62.83, abs=0.01)


def test_the_arc_burns_over_the_overlap_too(bench: Any) -> None:
    plain, over = (
        FAMILY.compute(bench.operation(bench.seam("S1", path=RING, **more)), bench.approved()).settings[0]
        for more in ({}, {"overlap": "8 mm"})
    )
    speed = magnitude(plain.figure("travel_speed").value, "mm/s")
    assert bench.number(over, "arc_time") - bench.number(plain, "arc_time") == pytest.approx(8 / speed, rel=1e-6)


def test_an_overlap_of_an_open_seam_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(bench.seam("S1", overlap="8 mm")), bench.approved())
    assert refused.value.problems[0].key == "seams[0].overlap"


def test_an_overlap_longer_than_the_path_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match="longer than the path"):
        FAMILY.compute(bench.operation(bench.seam("S1", path=RING, overlap="70 mm")), bench.approved())


@pytest.mark.parametrize(("overlap", "fits"), [("20 mm", True), ("20.1 mm", False)])
def test_an_overlap_as_long_as_the_path_goes_once_more_around(bench: Any, overlap: str, *, fits: bool) -> None:
    there_and_back = {
        "unit": "mm",
        "start": ["0", "0", "0"],
        "pieces": [{"to": ["10", "0", "0"]}, {"to": ["0", "0", "0"]}],
    }
    made = bench.operation(bench.seam("S1", path=there_and_back, overlap=overlap)).seams[0]
    if fits:
        assert welded_length_mm(made, bench.plant()) == 40.0
        return
    with pytest.raises(OutOfRangeError, match="longer than the path"):
        welded_length_mm(made, bench.plant())


# ---------------------------------------------------------------- contact distance


def test_the_contact_distance_has_the_range_that_the_plant_states(bench: Any) -> None:
    plant = bench.plant(**{"contact distance tolerance": "1.5 mm", "contact distance source": "rule of the test"})
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(with_plant=plant)).settings
    distance = settings.figure("contact_distance")
    assert [in_mm(end) for end in (distance.allowed_range.low, distance.allowed_range.high)] == [10.5, 13.5]
    assert "rule of the test" in distance.allowed_range.origin


def test_without_a_tolerance_the_contact_distance_is_one_number(bench: Any) -> None:
    (settings,) = FAMILY.compute(bench.operation(), bench.approved()).settings
    assert settings.figure("contact_distance").allowed_range is None


@pytest.mark.parametrize(("charted", "text", "step"), [("15.5 mm", "15.5", "0.1"), ("16 mm", "16", "1")])
def test_a_contact_distance_that_a_row_states_is_set_as_it_is_stated(
    bench: Any, charted: str, text: str, step: str
) -> None:
    table = bench.chart(row={"contact distance": charted})
    (settings,) = FAMILY.compute(bench.operation(), bench.approved(charts=(table,))).settings
    distance = settings.figure("contact_distance")
    assert (str(distance.text), str(distance.step)) == (text, step)


# ---------------------------------------------------------------- the gap of a butt


@pytest.mark.parametrize(("gap", "warns"), [("2 mm", False), ("2.01 mm", True), ("0 mm", False)])
def test_a_gap_larger_than_the_thinner_component_warns(bench: Any, gap: str, *, warns: bool) -> None:
    seam = bench.seam("S1", joint="square butt", gap=gap)
    group = bench.group(bench.operation(seam, components=bench.sheets("2 mm", "3 mm")), bench.approved())
    found = list(butt_gap(group))
    assert [verdict.warns for verdict in found] == [True] * warns
    assert [verdict.countermeasure for verdict in found] == [BUTT_GAP] * warns


def test_the_warning_says_by_how_much_the_gap_is_wider(bench: Any) -> None:
    seam = bench.seam("S1", joint="square butt", gap="2.01 mm")
    (verdict,) = butt_gap(bench.group(bench.operation(seam, components=bench.sheets("2 mm", "2 mm")), bench.approved()))
    assert plain(verdict.text) == "gap 2.01 mm, the thinner component is 2.00 mm thick: the arc may burn through"
