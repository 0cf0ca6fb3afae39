"""What an arc operation says and cannot mean: a gas of another process, a torch that lies on its work."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.model.processes import PROCESSES, ArcProcess
from weld_packets.processes.arc.misstatements import gas_misstatements, seam_misstatements

INERT, ACTIVE = ("I1", "I2", "I3"), ("M12", "M13", "M21", "C1")
UNDER = {"131": INERT, "135": ACTIVE, "136": ACTIVE, "138": ACTIVE, "141": INERT, "142": INERT}
"""By process the groups of ISO 14175 that its name in ISO 4063 allows: inert for MIG and TIG, active for MAG."""


def refused(process: str, group: str) -> list[str]:
    gas = SimpleNamespace(id="G-1", group=f"ISO 14175 {group}")
    operation: Any = SimpleNamespace(process=process, gas="G-1")
    approved: Any = SimpleNamespace(gases={"G-1": gas})
    return [f"{each.message}; {each.remedy}" for each in gas_misstatements(operation, approved)]


def test_every_arc_process_is_asked() -> None:
    assert set(UNDER) == {each.number for each in PROCESSES.values() if isinstance(each, ArcProcess)}


@pytest.mark.parametrize("group", [*INERT, *ACTIVE])
@pytest.mark.parametrize("process", UNDER)
def test_a_gas_that_makes_another_process_of_it_is_refused(process: str, group: str) -> None:
    assert bool(refused(process, group)) == (group not in UNDER[process])


@pytest.mark.parametrize(
    ("joint", "degrees", "wrong"),
    [
        ("T fillet", 5, False), ("T fillet", 4.9, True), ("T fillet", 85, False), ("T fillet", 85.1, True),
        ("square butt", 90, False), ("lap fillet", 100, False), ("square butt", 175, False),
        ("corner fillet", 176, True),
    ],
)  # fmt: skip
def test_a_torch_between_the_components_of_a_t_joint_stays_between_them(
    bench: Any, joint: str, degrees: float, *, wrong: bool
) -> None:
    size = {"gap": "0 mm"} if joint == "square butt" else {"throat": "2 mm"}
    operation = bench.operation(bench.seam("S1", joint=joint, **size, **{"work angle": f"{degrees}°"}))
    assert [each.path[-1] for each in seam_misstatements(operation)] == ["work angle"] * wrong


def test_the_refusal_names_gas_and_groups() -> None:
    (inert,), (active,) = refused("131", "M21"), refused("135", "I1")
    assert inert.startswith("MIG welding with solid wire needs an inert gas, and G-1 is ISO 14175 M21; ")
    assert "ISO 14175 group I, such as I1, or correct the process" in inert
    assert active.startswith("MAG welding with solid wire needs an active gas, and G-1 is ISO 14175 I1; ")
    assert "ISO 14175 group M or C, such as M21, or correct the process" in active


def test_a_gas_that_the_table_does_not_have_is_named_elsewhere() -> None:
    operation: Any = SimpleNamespace(process="135", gas="none-such")
    approved: Any = SimpleNamespace(gases={})
    assert list(gas_misstatements(operation, approved)) == []


@pytest.mark.parametrize(
    ("name", "inside", "outside"),
    [("work angle", ("5°", "85°"), ("4.9°", "85.1°")), ("travel angle", ("-60°", "60°"), ("-60.1°", "60.1°"))],
)
def test_a_torch_that_would_lie_on_a_component_or_along_the_seam_is_refused(
    bench: Any, name: str, inside: tuple[str, ...], outside: tuple[str, ...]
) -> None:
    def at(angle: str) -> list[tuple[str | int, ...]]:
        return [each.path for each in seam_misstatements(bench.operation(bench.seam("S1") | {name: angle}))]

    assert [at(angle) for angle in inside] == [[], []]
    assert [at(angle) for angle in outside] == [[("seams", 0, name)]] * 2
