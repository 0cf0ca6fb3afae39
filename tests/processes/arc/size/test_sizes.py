"""The size of a weld as required and as obtained, with what other rules say of it."""

from typing import Any

import pytest
from weld_packets.calculation.countermeasures import MEASURE_THROAT
from weld_packets.calculation.results import WeldSettings
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.size.sizes import size_of


def sized(bench: Any, thickness: str, **sizes: str) -> Any:
    operation = bench.operation(bench.seam("S1", **sizes), components=bench.sheets(thickness))
    return size_of(bench.group(operation, bench.approved()), bench.plant())


def computed(
    bench: Any, *, thickness: str = "3 mm", quality: str = "C", approved: Any = None, **sizes: Any
) -> WeldSettings:
    operation = bench.operation(bench.seam("S1", **sizes), components=bench.sheets(thickness), quality=quality)
    (settings,) = FAMILY.compute(operation, approved or bench.approved()).settings
    return settings


def test_a_leg_becomes_a_throat(bench: Any) -> None:
    size = sized(bench, "3 mm", leg="3 mm")
    assert {figure.key: str(figure.text) for figure in size.figures} == {
        "throat": "2.13",
        "leg": "3",
        "throat_target": "2.2",
        "weld_area": "5.0",
    }


def test_a_throat_becomes_a_leg(bench: Any) -> None:
    size = sized(bench, "3 mm", throat="2 mm")
    assert {figure.key: str(figure.text) for figure in size.figures} == {
        "throat": "2",
        "leg": "2.83",
        "throat_target": "2.1",
        "weld_area": "4.4",
    }


def test_a_t_fillet_has_no_edge_to_spare(bench: Any) -> None:
    assert not bench.warnings(sized(bench, "3 mm", leg="6 mm").figures[0])


@pytest.mark.parametrize(
    ("thickness", "throat", "count"),
    [
        ("2 mm", "1.5 mm", 0),
        ("3 mm", "2 mm", 1),
        ("4 mm", "2 mm", 2),
        ("4 mm", "3 mm", 0),
        ("6 mm", "2 mm", 2),
        ("8 mm", "2 mm", 2),
    ],
)
def test_codes_for_structures_are_noted_only_where_their_thickness_begins(
    bench: Any, thickness: str, throat: str, count: int
) -> None:
    assert len(bench.notes(sized(bench, thickness, throat=throat).figures[0])) == count


def test_the_thinner_part_decides_the_operation(bench: Any) -> None:
    operation = bench.operation(components=bench.sheets("5 mm", "0.1 in"))
    (settings,) = FAMILY.compute(operation, bench.approved()).settings
    assert bench.number(settings, "governing_thickness") == pytest.approx(0.1)


def test_a_butt_is_welded_at_the_middle_speed_and_its_gap_is_filled(bench: Any) -> None:
    settings = computed(bench, joint="square butt", gap="0.5 mm")
    assert str(settings.figure("travel_speed").text) == "8.0"
    verdict = next(verdict for verdict in settings.verdicts if verdict.key == "gap_filled")
    assert verdict.passed is True
    assert bench.number(settings, "nominal_area") == pytest.approx(49.742 / 8, rel=1e-4)


def test_a_gap_that_the_wire_does_not_fill_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        computed(bench, joint="square butt", gap="2.5 mm")
    assert refused.value.problems[0].key == "seams[0].gap"


def test_a_butt_with_a_cap_is_welded_at_the_speed_that_fills_it(bench: Any) -> None:
    cap = {"weld cap width": "5 mm", "weld cap height": "1.4 mm"}
    settings = computed(bench, joint="square butt", gap="0.5 mm", **cap)
    area = 0.5 * 3 + 2 / 3 * 5 * 1.4
    assert bench.number(settings, "weld_area") == pytest.approx(area)
    feed = bench.number(settings, "wire_feed_speed")
    assert bench.number(settings, "travel_speed") == pytest.approx(49.742 / 4 * feed / (area * 1.03122**2), abs=0.1)


def test_a_cap_that_the_operation_cannot_make_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        computed(bench, joint="square butt", gap="0 mm", **{"weld cap width": "3 mm", "weld cap height": "0.5 mm"})
    assert refused.value.problems[0].key == "seams[0].weld cap width"


@pytest.mark.parametrize(
    ("joint", "cap"),
    [
        ("T fillet", {"weld cap width": "3 mm"}),
        ("T fillet", {"weld cap height": "3 mm"}),
        ("square butt", {"weld cap width": "3 mm"}),
    ],
)
def test_a_cap_that_makes_no_sense_is_refused(bench: Any, joint: str, cap: dict[str, str]) -> None:
    sizes = cap | ({"gap": "0 mm"} if joint == "square butt" else {})
    with pytest.raises(OutOfRangeError, match="cap"):
        computed(bench, joint=joint, **sizes)


@pytest.mark.parametrize(
    ("quality", "slowest", "passed"),
    [
        ("B", "2 mm/s", True),
        ("C", "3.1 mm/s", True),
        ("C", "2.9 mm/s", None),
        ("D", "1 mm/s", True),
    ],
)
def test_the_largest_throat_of_the_allowed_range_is_held_against_the_quality_level(
    bench: Any, quality: str, slowest: str, *, passed: bool | None
) -> None:
    """Hand calculation at level C, from memory: 2.4 + 1 + 0.2 · 2.4 = 3.88 mm, which 4 m/min lay at 3.00 mm/s."""
    table = bench.chart(row={"travel speed from": slowest, "throat from": None, "throat to": None})
    settings = computed(bench, quality=quality, approved=bench.approved(charts=(table,), limits=()))
    assert str(settings.figure("wire_feed_speed").text) == "4.0"
    verdict = next(verdict for verdict in settings.verdicts if verdict.key == "throat")
    assert verdict.passed is passed
    assert (verdict.warns, verdict.countermeasure) == ((True, MEASURE_THROAT) if passed is None else (False, None))


def test_without_a_table_of_limits_the_throat_is_not_checked(bench: Any) -> None:
    settings = computed(bench, approved=bench.approved(imperfections=None))
    verdict = next(verdict for verdict in settings.verdicts if verdict.key == "throat")
    assert (verdict.passed, verdict.warns) == (None, False)
    assert verdict.text.endswith("no limit of 5214 for level C is in the table")


@pytest.mark.parametrize(("length", "throat", "warned"), [("29", "2.4 mm", True), ("30", "2.4 mm", False)])
def test_a_fillet_that_is_hardly_more_than_start_and_stop_is_warned_of(
    bench: Any, length: str, throat: str, *, warned: bool
) -> None:
    """EN 1993-1-8, 4.5.1(2), from memory: at least six throats and 30 mm."""
    path = {"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"to": [length, "0", "0"]}]}
    (settings,) = FAMILY.compute(bench.operation(bench.seam("S1", throat=throat, path=path)), bench.approved()).settings
    assert any("start and stop" in text for text in bench.warnings(settings.figure("throat"))) is warned


def test_of_seams_that_are_set_the_same_the_shortest_is_warned_of(bench: Any) -> None:
    path = {"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"to": ["25", "0", "0"]}]}
    operation = bench.operation(bench.seam("S1"), bench.seam("S2", path=path))
    (settings,) = FAMILY.compute(operation, bench.approved()).settings
    (warning,) = (text for text in bench.warnings(settings.figure("throat")) if "start and stop" in text)
    assert warning.startswith("seam S2 is ")


@pytest.mark.parametrize(
    ("length", "said"), [("0.5", "0.5 mm"), ("9.96", "10.0 mm"), ("10", "10 mm"), ("25.2", "25 mm")]
)
def test_a_short_seam_is_never_said_to_have_no_length(bench: Any, length: str, said: str) -> None:
    path = {"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"to": [length, "0", "0"]}]}
    (settings,) = FAMILY.compute(bench.operation(bench.seam("S1", path=path)), bench.approved()).settings
    (warning,) = (text for text in bench.warnings(settings.figure("throat")) if "start and stop" in text)
    assert warning.replace("\N{NO-BREAK SPACE}", " ").startswith(f"seam S1 is {said} long: below ")


@pytest.mark.parametrize(
    ("plate", "leg", "smallest"),
    [
        ("2.9 mm", "2.5 mm", ""),  # sheet: the table begins with structural steelwork
        ("3 mm", "2.9 mm", "3 mm (1/8 in)"),
        ("3 mm", "3 mm", ""),
        ("1/4 in", "3 mm", ""),
        ("6.4 mm", "3 mm", "5 mm (3/16 in)"),
        ("1/2 in", "3/16 in", ""),
        ("1/2 in", "4.7 mm", "5 mm (3/16 in)"),
        ("13 mm", "5.9 mm", "6 mm (1/4 in)"),
        ("3/4 in", "6 mm", ""),
        ("20 mm", "7.9 mm", "8 mm (5/16 in)"),
        ("20 mm", "5/16 in", ""),
    ],
)
def test_a_leg_below_that_of_the_us_structural_code_is_noted(bench: Any, plate: str, leg: str, smallest: str) -> None:
    """AWS D1.1 table 7.7, as two pages and a forum quote its editions of 2020 and 2025; GMAW is low in hydrogen."""
    operation = bench.operation(bench.seam("S1", leg=leg, throat=None), components=bench.sheets(plate, "30 mm"))
    remarks = size_of(bench.group(operation, bench.approved()), bench.plant()).figures[0].remarks
    found = [remark.text for remark in remarks if "US structural code" in remark.text]
    assert found == [f"the US structural code asks for a leg of at least {smallest}"] * bool(smallest)
