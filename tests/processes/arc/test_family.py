"""What the arc family answers of an operation: its welds, what is fitted, and which rows of tables it needs."""

from typing import Any

from weld_packets.processes.answers import Fitted
from weld_packets.processes.arc import FAMILY
from weld_packets.units import quantity


def test_each_seam_is_a_weld_with_its_sizes_and_its_place_in_the_order(bench: Any) -> None:
    operation = bench.operation(bench.seam("S1"), bench.seam("S2", robot="B", joint="square butt", gap="0.5 mm"))
    fillet, butt = FAMILY.welds(operation)
    assert (fillet.id, fillet.robot, fillet.components, fillet.joint, fillet.position) == (
        "S1", "A", ("web", "plate"), "T fillet", "PB",
    )  # fmt: skip
    assert fillet.sizes == (("a", quantity(2.4, "mm")),)
    assert (butt.id, butt.robot, butt.sizes) == ("S2", "B", (("b", quantity(0.5, "mm")),))
    assert [each.numbered_at for each in (fillet, butt)] == ["seams[0]", "seams[1]"]


def test_the_wire_is_fitted_at_both_robots_and_the_gas_at_the_cell(bench: Any) -> None:
    found = FAMILY.fitted(bench.operation(), bench.approved())
    wires = (Fitted("wire", robot, "W10", "wires") for robot in "AB")
    assert found == (*wires, Fitted("gas", "C1", "M21", "gases"))


def test_an_operation_rests_on_the_rows_of_its_wire_and_gas(bench: Any) -> None:
    assert list(FAMILY.entries(bench.operation(), bench.approved())) == [("wires", "W10"), ("gases", "M21")]
