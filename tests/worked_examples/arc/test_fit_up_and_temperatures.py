"""Tacks, root gaps, caps, temperatures, nozzles and cooling of unequal plates, as they were read or computed.

Beside each value is how well it is known: READ in a published copy or quotation; FROM MEMORY; COMPUTED from the
printed formula by another hand, which catches a slip of typing and is no evidence. No published worked example of the
cooling time of unequal plates was found.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from weld_packets.model.tables.inspection import ImperfectionLimit
from weld_packets.processes.arc.heat.cooling import cooling_time_thick, cooling_time_thin
from weld_packets.processes.arc.size.fit_up import MINIMUM_TACK, TACK_PLATE, TACK_TIMES, throat_at_gap
from weld_packets.processes.arc.size.lap_edge import edge_carries
from weld_packets.processes.arc.size.upper_sizes import minimum_width
from weld_packets.sources.tables.tables import Workspace, load_workspace
from weld_packets.units import in_mm, magnitude, quantity

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def workspace() -> Workspace:
    return load_workspace(ROOT)


# READ: AISC 360 J2.2b in a copy: along an edge below 1/4 in (6 mm) at most its thickness, from there on 1/16 in (2 mm)
# less unless the drawing has the weld built out. Here 6 mm and 2 mm hold for inches too, which never allows more.
@pytest.mark.parametrize(
    ("edge", "unit", "longest", "printed"),
    [
        (3, "mm", 3, 3), (5.9, "mm", 5.9, 5.9), (6, "mm", 4, 4), (10, "mm", 8, 8),
        (1 / 8, "in", 3.175, 3.175), (3 / 16, "in", 4.7625, 4.7625), (1 / 4, "in", 4.35, 4.7625),
        (3 / 8, "in", 7.525, 7.9375),
    ],
)  # fmt: skip
def test_a_leg_along_an_edge_is_no_longer_than_the_code_has_it(
    edge: float, unit: str, longest: float, printed: float
) -> None:
    found = in_mm(edge_carries(quantity(edge, unit)))
    assert found == pytest.approx(longest)
    assert found <= printed + 1e-9


# READ: EN 1011-2 clause 13 as quoted by a welding school: at least 50 mm, below 12 mm four times the thicker component
@pytest.mark.parametrize(
    ("thicker", "minimum"), [(2, 8), (3, 12), (4, 16), (8, 32), (11.9, 47.6), (12, 50), (20, 50), (40, 50)]
)
def test_minimum_length_of_tacks(thicker: float, minimum: float) -> None:
    assert (TACK_TIMES * thicker if thicker < TACK_PLATE else MINIMUM_TACK) == pytest.approx(minimum)


# READ: AWS D1.1 as quoted by a forum of its society: over 1/16 in (1.6 mm) the root opening is added to the leg
def test_the_plant_adds_a_root_opening_from_a_sixteenth_of_an_inch(workspace: Workspace) -> None:
    rule = workspace.approved.plant.root_gap
    assert rule is not None
    assert rule.added_over is not None
    assert in_mm(rule.added_over) == pytest.approx(25.4 / 16, abs=0.02)


# FROM MEMORY: half the wire diameter without sensing
def test_a_robot_bridges_half_its_wire(workspace: Workspace) -> None:
    rule = workspace.approved.plant.root_gap
    assert rule is not None
    assert rule.of_wire * 2 == 1
    assert "from memory" in rule.of_wire_source


# COMPUTED: throat left of a leg by a gap, in mm
@pytest.mark.parametrize(("leg", "gap", "throat"), [(3, 0.5, 1.77), (4, 1, 2.12), (5, 1.6, 2.40), (6, 0.5, 3.89)])
def test_throat_at_a_gap(leg: float, gap: float, throat: float) -> None:
    assert in_mm(throat_at_gap(leg=quantity(leg, "mm"), gap=quantity(gap, "mm"))) == pytest.approx(throat, abs=0.005)


# READ: EN ISO 5817:2007 table 1, excess weld metal: 1 mm + 0.25 b, 0.15 b, 0.1 b; at most 10, 7, 5 mm. A cap of width b
# and that height holds 2 / 3 · b · h, so that b is the minimum width of that section.
@pytest.mark.parametrize(
    ("level", "width", "height"),
    [
        *(("D", 6, 2.5), ("C", 6, 1.9), ("B", 6, 1.6)),
        *(("D", 8, 3.0), ("C", 8, 2.2), ("B", 8, 1.8)),
        *(("D", 12, 4.0), ("C", 12, 2.8), ("B", 12, 2.2)),
        *(("D", 60, 10), ("C", 60, 7), ("B", 60, 5)),
    ],
)
def test_minimum_width_of_a_cap(workspace: Workspace, level: str, width: float, height: float) -> None:
    table = workspace.approved.imperfections
    assert table is not None
    entry = next(entry for entry in table.entries if entry.numbers == ("502",))
    limit: ImperfectionLimit = next(limit for limit in entry.limits if limit.level == level)
    assert minimum_width(2 / 3 * width * height, limit) == pytest.approx(width)


# READ: direct current, electrode positive, for all solid wire (opening of a maker's guide; a machine manual p. 13)
@pytest.mark.parametrize("wire", ["G3Si1-0.8", "G3Si1-1.0", "G3Si1-1.2", "19-9-L-Si-1.0"])
def test_solid_wire_is_positive(workspace: Workspace, wire: str) -> None:
    assert workspace.approved.wires[wire].polarity == "DC+"


# READ: a US table of preheat and interpass (TI 809-26 3-1): 0 °C for 3 to 19 mm; the plant's 5 °C is never below it.
# READ: a published procedure for flux-cored wire: interpass 250 °C at most. FROM MEMORY: 150 °C for austenitic steel.
@pytest.mark.parametrize(
    ("material", "interpass"),
    [("S235JR", 250), ("S235JRH", 250), ("S355J2", 250), ("DC01", 250), ("X5CrNi18-10", 150), ("X2CrNi18-9", 150)],
)
def test_temperatures_of_materials(workspace: Workspace, material: str, interpass: float) -> None:
    entry = workspace.approved.materials[material]
    assert entry.interpass_maximum is not None
    assert entry.working_temperature_minimum is not None
    assert magnitude(entry.interpass_maximum, "°C") == pytest.approx(interpass)
    assert magnitude(entry.working_temperature_minimum, "°C") >= 0
    assert "from memory" in entry.interpass_source


# READ: a sample procedure to AWS D1.1 of 2005: nozzle 16 mm. FROM MEMORY: 13 to 16 mm to 250 A, tip flush or 3 mm out.
def test_nozzles_of_the_torches(workspace: Workspace) -> None:
    for source in workspace.approved.power_sources.values():
        assert source.torch is not None
        assert source.torch.nozzle_bore is not None
        assert source.torch.contact_tip_setback is not None
        assert in_mm(source.torch.nozzle_bore) == pytest.approx(16)
        assert in_mm(source.torch.contact_tip_setback) == pytest.approx(0)


# COMPUTED, 20 °C, shape factor 1: Q in kJ/mm, thin and thick plate in mm, 2D thin, 2D thick, 3D in s;
# then 2D thin with the factors 0.45 and 0.67 of a T joint
UNEQUAL = [
    (0.30, 3, 6, 11.4, 2.8, 1.6, 5.1, 7.6),
    (0.45, 4, 8, 14.4, 3.6, 2.4, 6.5, 9.6),
    (0.80, 6, 12, 20.2, 5.1, 4.2, 9.1, 13.5),
    (1.00, 8, 20, 17.8, 2.8, 5.3, 8.0, 11.9),
    (0.15, 2, 4, 6.4, 1.6, 0.8, 2.9, 4.3),
]


@pytest.mark.parametrize(("heat", "thin", "thick", "in_thin", "in_thick", "deep", "minimum", "maximum"), UNEQUAL)
def test_cooling_of_unequal_plates(  # noqa: PLR0917 - one case is one line
    heat: float, thin: float, thick: float, in_thin: float, in_thick: float, deep: float, minimum: float, maximum: float
) -> None:
    given = {"preheat": quantity(20, "°C"), "heat": quantity(heat, "kJ/mm")}

    def flat(thickness: float, factor: float) -> float:
        sheet = {"thickness": quantity(thickness, "mm"), "shape_factor": quantity(factor, "1")}
        return magnitude(cooling_time_thin(**given, **sheet), "s")

    assert [flat(thin, 1), flat(thick, 1)] == pytest.approx([in_thin, in_thick], abs=0.051)
    assert magnitude(cooling_time_thick(**given, shape_factor=quantity(1, "1")), "s") == pytest.approx(deep, abs=0.051)
    assert [flat(thin, 0.45), flat(thin, 0.67)] == pytest.approx([minimum, maximum], abs=0.051)
