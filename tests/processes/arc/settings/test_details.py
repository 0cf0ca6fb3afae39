"""What a welder must know besides the settings: every line, its source, and what nobody states."""

import re
from decimal import ROUND_CEILING
from math import ceil
from typing import Any

import pytest
from weld_packets.calculation.qualification.values import sizes
from weld_packets.calculation.trace import Detail, Figure, Said
from weld_packets.processes.arc import FAMILY
from weld_packets.units import magnitude, quantity

RING = {
    "unit": "mm",
    "start": ["10", "0", "0"],
    "pieces": [{"via": ["0", "10", "0"], "to": ["-10", "0", "0"]}, {"via": ["0", "-10", "0"], "to": ["10", "0", "0"]}],
}


def details(bench: Any, *seams: Any, approved: Any = None, **operation: Any) -> dict[str, Detail]:
    (settings,) = FAMILY.compute(bench.operation(*seams, **operation), approved or bench.approved()).settings
    return {detail.key: detail for detail in settings.details}


def said(detail: Detail) -> str:
    return "".join(map(_word, detail.words)).replace("\N{NO-BREAK SPACE}", " ")


def _word(word: str | Said | Figure) -> str:
    match word:
        case Said():
            return f"{word.value.magnitude:g} {word.value.units:~}"
        case Figure():
            return f"{word.text} {word.unit}"
    return word


def test_what_no_table_and_no_order_says_must_be_asked(bench: Any) -> None:
    found = details(bench)
    unsaid = ["polarity", "working_temperature", "interpass", "root_gap", "tacks", "arc_start", "crater_fill"]
    assert [key for key, detail in found.items() if not detail.stated] == [*unsaid, "nozzle", "work_lead"]
    assert said(found["polarity"]) == "not stated by the table of wires"
    assert said(found["interpass"]) == "not stated by the table of materials for S235"


@pytest.mark.parametrize(
    ("polarity", "expected"),
    [("DC+", "wire on the positive pole"), ("DC-", "wire on the negative pole"), ("AC", "alternating current")],
)
def test_polarity_is_that_of_the_wire(bench: Any, polarity: str, expected: str) -> None:
    wire = bench.wire(polarity=polarity, **{"polarity source": "maker"})
    found = details(bench, approved=bench.approved(with_wire=wire))["polarity"]
    assert said(found).startswith(f"{polarity}: {expected}")
    assert found.source == "maker"


def test_metal_transfer_is_that_of_the_chart(bench: Any) -> None:
    found = details(bench)["transfer"]
    assert said(found) == "short arc"
    assert "table short-arc" in found.source


def test_burn_through_cannot_be_decided_and_says_so(bench: Any) -> None:
    assert said(details(bench)["burn_through"]).startswith("cannot be decided by calculation: no source states")


def test_unequal_components_say_which_of_them_decides_what(bench: Any) -> None:
    found = details(bench, components=bench.sheets("3 mm", "4.5 mm"))["unequal"]
    assert said(found).startswith("3 mm and 4.5 mm, 1.5 times: set for the thinner; the thicker decides the cooling")
    assert "unequal" not in details(bench, components=bench.sheets("3 mm"))


@pytest.mark.parametrize(
    ("flush", "expected"), [("face", "1.5 mm, root side"), ("root", "1.5 mm, face side"), ("neither", "1.5 mm, shared")]
)
def test_the_step_of_a_butt_lies_opposite_to_its_flush_side(bench: Any, flush: str, expected: str) -> None:
    seam = bench.seam("S1", joint="square butt", gap="0.5 mm", flush=flush)
    found = details(bench, seam, components=bench.sheets("3 mm", "4.5 mm"))["step"]
    assert said(found).startswith(expected)
    assert found.stated is True


def test_a_step_whose_side_is_not_said_must_be_asked(bench: Any) -> None:
    seam = bench.seam("S1", joint="square butt", gap="0.5 mm")
    assert details(bench, seam, components=bench.sheets("3 mm", "4.5 mm"))["step"].stated is False


WARM = {
    "working temperature minimum": "5 °C", "working temperature source": "rule of the shop",
    "interpass maximum": "250 °C", "interpass source": "rule of the plant",
}  # fmt: skip


def two(bench: Any, **other: str) -> Any:
    return bench.approved(materials=(bench.material("one", **WARM), bench.material("other", **(WARM | other))))


MIXED = {"web": ("one", "3 mm"), "plate": ("other", "3 mm")}


def test_of_two_materials_the_warmer_minimum_and_the_cooler_maximum_hold(bench: Any) -> None:
    approved = two(bench, **{"working temperature minimum": "10 °C", "interpass maximum": "150 °C"})
    found = details(bench, approved=approved, components=MIXED)
    assert [magnitude(found[key].words[1].value, "°C") for key in ("working_temperature", "interpass")] == [10, 150]
    (settings,) = FAMILY.compute(bench.operation(components=MIXED), approved).settings
    assert bench.number(settings, "working_temperature") == pytest.approx(10)
    assert bench.number(settings, "interpass_temperature") == pytest.approx(150)


def warm_of_passes(bench: Any) -> Any:
    """Return tables with a plan of two passes and a material with a maximum temperature between them."""
    plan = {"source": "plan", "passes": [{"place": "root", "aim": "root", "cleaning": "clean"}] * 2}
    chart = bench.chart(**{"pass plans": [plan]})
    return bench.approved(charts=(chart,), materials=(bench.material("one", **WARM),))


THROAT_OF_PASSES = {1: "2.4 mm", 2: "3.4 mm"}


@pytest.mark.parametrize("passes", [1, 2])
def test_a_record_is_compared_by_its_interpass_temperature_where_a_further_pass_follows(
    bench: Any, passes: int
) -> None:
    approved, seam = warm_of_passes(bench), bench.seam("S1", throat=THROAT_OF_PASSES[passes])
    computed = FAMILY.compute(bench.operation(seam, components=bench.sheets("3 mm", of="one")), approved)
    (case,) = FAMILY.qualified(computed, approved)
    found = case.has.get("interpass temperature")
    assert found == (sizes("interpass temperature", quantity(250, "°C")) if passes > 1 else None)


@pytest.mark.parametrize("passes", [1, 2])
def test_interpass_is_measured_and_never_judged_by_colour(bench: Any, passes: int) -> None:
    approved = warm_of_passes(bench)
    size = THROAT_OF_PASSES[passes]
    found = details(bench, bench.seam("S1", throat=size), approved=approved, components=bench.sheets("3 mm", of="one"))[
        "interpass"
    ]
    how = "measured on the coupon, beside the seam, with a contact thermometer that is read outside the fence"
    assert said(found).endswith(
        f"before every further pass, {how}" if passes == 2 else "where a weld meets one that is still hot"
    )
    assert found.source == "rule of the plant"


def test_the_longest_cooling_of_several_passes_begins_at_the_interpass_maximum(bench: Any) -> None:
    plan = {"source": "plan", "passes": [{"place": "root", "aim": "root", "cleaning": "clean"}] * 2}
    approved = bench.approved(
        charts=(bench.chart(**{"pass plans": [plan]}),), materials=(bench.material("one", **WARM),)
    )
    found = details(
        bench, bench.seam("S1", throat="3.4 mm"), approved=approved, components=bench.sheets("3 mm", of="one")
    )
    assert said(found["cooling"]).endswith(" s, where a further pass begins at the maximum above")


def test_a_sheet_outside_the_preheat_method_says_what_holds_instead(bench: Any) -> None:
    found = details(bench)["preheat"]
    assert (
        said(found) == "not calculated: the method does not cover this joint; the temperature of the components applies"
    )


HARD = {"C": "0.18", "Si": "0.35", "Mn": "1.6", "Cr": "0.3", "Mo": "0.05", "V": "0.05", "Ni": "0.1", "Cu": "0.1"}
MILD = {"C": "0.16", "Si": "0.35", "Mn": "1.2", "Cr": "0.05", "Mo": "0.01", "V": "0.005", "Ni": "0.05", "Cu": "0.05"}


@pytest.mark.parametrize(("steel", "required"), [(HARD, 10), (MILD, 10), (MILD, 19)])
def test_components_are_as_warm_as_the_materials_and_the_preheat_require(
    bench: Any, steel: dict[str, str], required: int
) -> None:
    """The setter measures one temperature: the higher one. A preheat below it asks for nothing, in a record neither."""
    row = {"throat from": None, "throat to": None, "current from": "240 A", "current to": "260 A"}
    chart = bench.chart(row=row | {"travel speed from": "3 mm/s", "travel speed to": "5 mm/s"})
    stated = {"working temperature minimum": f"{required} °C", "working temperature source": "rule of the plant"}
    material = bench.material("plate", composition=steel, **stated)
    approved = bench.approved(charts=(chart,), materials=(material,), limits=())
    seam = bench.seam("S1", joint="square butt", gap="0 mm")
    computed = FAMILY.compute(bench.operation(seam, components=bench.sheets("12 mm", of="plate")), approved)
    (settings,) = computed.settings
    found = {detail.key: detail for detail in settings.details}
    preheat, warmest = bench.number(settings, "preheat"), bench.number(settings, "working_temperature")
    assert warmest == max(preheat, required)
    governs = preheat > required
    assert (preheat > 20, governs) == ((steel is HARD), required == 10)
    assert magnitude(found["working_temperature"].words[1].value, "°C") == warmest
    assert found["working_temperature"].source.startswith("preheat as calculated" if governs else "rule of the plant")
    said_of = said(found["preheat"])
    assert said_of.startswith("at least " if steel is HARD else "none: ")
    assert said_of.endswith(" is calculated, below room temperature") == (steel is MILD)
    (case,) = FAMILY.qualified(computed, approved)
    assert case.has["preheat"] == sizes("preheat", quantity(ceil(warmest), "°C"))  # as it is shown


def test_the_line_of_the_preheat_rounds_up_the_exact_one(bench: Any) -> None:
    steel = {
        "C": "0.16",
        "Si": "0.35",
        "Mn": "1.45",
        "Cr": "0.05",
        "Mo": "0.01",
        "V": "0.005",
        "Ni": "0.05",
        "Cu": "0.05",
    }
    operation = {"throat from": None, "throat to": None, "current from": "240 A", "current to": "260 A"}
    chart = bench.chart(row=operation | {"travel speed from": "3 mm/s", "travel speed to": "5 mm/s"})
    approved = bench.approved(charts=(chart,), materials=(bench.material("hard", composition=steel),), limits=())
    seam = bench.seam("S1", joint="square butt", gap="0 mm")
    (settings,) = FAMILY.compute(bench.operation(seam, components=bench.sheets("12 mm", of="hard")), approved).settings
    preheat = bench.number(settings, "preheat")
    (line,) = (detail for detail in settings.details if detail.key == "preheat")
    assert isinstance(line.words[1], Said)
    assert magnitude(line.words[1].value, "°C") == preheat
    assert line.words[1].rounding == ROUND_CEILING


def test_cooling_is_reported_from_its_shortest_to_its_longest(bench: Any) -> None:
    found = said(details(bench, components=bench.sheets("3 mm", "4 mm"))["cooling"])
    assert " s in the thicker component to " in found
    assert found.endswith(" s in the thinner")
    assert re.fullmatch(r"[0-9.]+ s to [0-9.]+ s", said(details(bench, components=bench.sheets("3 mm"))["cooling"]))


def test_a_root_gap_says_what_it_costs(bench: Any) -> None:
    rule = {"of wire": "0.5", "of wire source": "robots", "added over": "1.6 mm", "added source": "code"}
    plant = bench.plant(**{"root gap": rule})
    found = details(
        bench, bench.seam("S1", leg="3.4 mm"), approved=bench.approved(with_plant=plant, imperfections=None)
    )
    assert said(found["root_gap"]) == "at most 0.50 mm"
    assert found["root_gap"].source == "robots"
    cost, kept = said(found["gap_cost"]).rsplit("; ", 1)
    assert cost == "2.1 mm; (z - g)/√2 of the required leg"
    assert re.fullmatch(r"as set, the throat required is kept up to a gap of 0\.[0-9]+ mm", kept)


def test_a_gap_is_said_to_be_added_to_the_leg_only_where_it_may_be_so_wide(bench: Any) -> None:
    rule = {"of wire": "0.5", "of wire source": "robots", "added over": "0.4 mm", "added source": "code"}
    plant = bench.plant(**{"root gap": rule})
    found = details(bench, approved=bench.approved(with_plant=plant, imperfections=None))["root_gap"]
    assert said(found) == "at most 0.50 mm; over 0.4 mm the gap is added to the leg"
    assert found.source == "robots; code"


def test_tacks_are_reported_with_who_makes_them(bench: Any) -> None:
    made = {"number": "2", "length": "20 mm", "made by": "robot A, before the first seam"}
    found = details(bench, tacks=made)["tacks"]
    assert said(found) == "2 on each seam, 20 mm long, by robot A, before the first seam"
    assert said(details(bench, tacks={"number": "0"})["tacks"]) == "none: the clamps hold"


def test_start_and_crater_are_those_of_the_order_before_those_of_the_chart(bench: Any) -> None:
    texts = {"arc start": "slow run-in", "crater fill": "0.5 s", "start source": "maker"}
    flows = {"pre flow": "0.3 s", "post flow": "1 s", "flow source": "meter"}
    approved = bench.approved(charts=(bench.chart(**texts, **flows),))
    found = details(bench, approved=approved, **{"crater fill": "back-step 5 mm"})
    assert (said(found["arc_start"]), said(found["crater_fill"])) == ("slow run-in", "back-step 5 mm")
    assert (found["arc_start"].source, found["crater_fill"].source) == ("table short-arc: maker", "order")
    assert (said(found["pre_flow"]), said(found["post_flow"])) == ("0.3 s", "1 s")
    assert "pre_flow" not in details(bench)


def test_the_overlap_is_reported_of_closed_seams_alone(bench: Any) -> None:
    plant = bench.plant(**{"closed seam overlap": "8 mm", "closed seam source": "rule"})
    ring, line = bench.seam("R1", path=RING), bench.seam("S1")
    approved = bench.approved(with_plant=plant)
    assert "overlap" not in details(bench, line, approved=approved)
    assert said(details(bench, ring, approved=approved)["overlap"]) == "past the start by 8 mm; counted in the arc time"
    mixed = details(bench, ring, line, approved=approved)["overlap"]
    assert said(mixed).startswith("R1: past the start")
    assert mixed.source == "rule"
    own = details(bench, bench.seam("R1", path=RING, overlap="5 mm"), approved=approved)["overlap"]
    assert (said(own)[:22], own.source) == ("past the start by 5 mm", "order")
    assert details(bench, ring)["overlap"].stated is False


@pytest.mark.parametrize(
    ("torch", "expected"),
    [
        ({"nozzle bore": "16 mm", "contact tip setback": "0 mm"}, "bore 16 mm; contact tip flush with its end"),
        ({"nozzle bore": "16 mm", "contact tip setback": "3 mm"}, "bore 16 mm; contact tip 3 mm behind its end"),
        ({"contact tip setback": "-2 mm"}, "contact tip 2 mm before its end"),
        ({"nozzle bore": "16 mm"}, "bore 16 mm"),
    ],
)
def test_the_nozzle_is_that_of_the_torch(bench: Any, torch: dict[str, str], expected: str) -> None:
    machine = bench.source(torch={"name": "torch", "source": "maker"} | torch, **{"work lead": "own clamp"})
    found = details(bench, approved=bench.approved(machine=machine))
    assert said(found["nozzle"]) == expected
    assert said(found["work_lead"]) == "own clamp"


def test_a_torch_without_a_nozzle_must_be_asked(bench: Any) -> None:
    machine = bench.source(torch={"name": "big torch", "source": "maker"})
    found = details(bench, approved=bench.approved(machine=machine))["nozzle"]
    assert (found.stated, said(found)) == (False, "not stated by the table of machines for big torch")
