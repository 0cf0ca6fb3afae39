"""Components drawn by hand, seams on them, and what the checks of an operation say of where the seams run.

The usual joint: a plate of 4 mm, 100 x 60, drawn in its lower face at z 0, and a web of 3 mm that is on it along x,
drawn in its middle plane y 30. Its fillets run at z 4 along y 28.5 and 31.5.
"""

from collections.abc import Sequence
from typing import Any

import pytest
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import OutOfRangeError, Problem
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.records import ArcOperation

PLACES = ("seam_on_edge", "seam_covered", "seam_overlap", "tube_corner")


def outline(plane: str, offset: float, *points: tuple[float, float], unit: str = "mm", **more: Any) -> dict[str, Any]:
    drawn = [[f"{x:.9f}", f"{y:.9f}"] for x, y in points]
    return {"plane": plane, "offset": f"{offset:.9f} {unit}", "unit": unit, "points": drawn} | more


def rectangle(plane: str, offset: float, low: tuple[float, float], high: tuple[float, float], **more: Any) -> Any:
    (x1, y1), (x2, y2) = low, high
    return outline(plane, offset, (x1, y1), (x2, y1), (x2, y2), (x1, y2), **more)


PLATE = rectangle("XY", 0, (0, 0), (100, 60))
WEB = rectangle("XZ", 30, (0, 4), (100, 44))


def part(mark: str, thickness: str, *outlines: Any, of: str = "S235", **more: Any) -> dict[str, Any]:
    stated = {"id": mark, "name": mark, "material": of, "thickness": thickness, "outlines": list(outlines)}
    return stated | more


def path(*points: Sequence[float], unit: str = "mm") -> dict[str, Any]:
    start, *rest = ([f"{number:.9f}" for number in point] for point in points)
    return {"unit": unit, "start": start, "pieces": [{"to": point} for point in rest]}


def seam(mark: str, *points: Sequence[float], unit: str = "mm", **more: Any) -> dict[str, Any]:
    stated = {"id": mark, "robot": "A", "joint": "T fillet", "position": "PB", "components": ["web", "plate"]}
    size = {} if {"leg", "gap", "throat"} & set(more) else {"throat": "2.4 mm"}
    return stated | {"path": path(*points, unit=unit)} | size | more


GOOD = (10.0, 28.5, 4.0), (90.0, 28.5, 4.0)


def operation(*seams: dict[str, Any], components: Sequence[dict[str, Any]] | None = None, **more: Any) -> ArcOperation:
    stated = {
        "name": "operation of the test", "cell": "C1", "robots": ["A", "B"], "programs": {"A": "1", "B": "2"},
        "datum": "corner", "fixture": "fixture", "process": "135", "wire": "W10", "gas": "M21",
        "components": list(components or (part("web", "3 mm", WEB), part("plate", "4 mm", PLATE))),
        "seams": list(seams) or [seam("S1", *GOOD)],
    }  # fmt: skip
    return ArcOperation.model_validate(stated | more)


class Ground:
    """Everything above, for tests that cannot import this file, in a shop that tolerates 0.5 mm and refuses 3 mm."""

    GOOD = GOOD
    PLATE, WEB = PLATE, WEB
    outline = staticmethod(outline)
    rectangle = staticmethod(rectangle)
    part = staticmethod(part)
    path = staticmethod(path)
    seam = staticmethod(seam)
    operation = staticmethod(operation)

    def __init__(self, bench: Any) -> None:
        self.bench = bench

    def approved(self, **more: Any) -> Any:
        """Return the shop; ``more`` goes to its plant, ``charts`` and ``materials`` to the shop itself."""
        own = {key: more.pop(key) for key in ("charts", "materials") if key in more}
        limits = {"seam tolerance": "0.5 mm", "seam refused over": "3 mm", "seam source": "rule of the test"}
        return self.bench.approved(with_plant=self.bench.plant(**(limits | more)), **own)

    def verdicts(self, of: ArcOperation, **more: Any) -> list[Verdict]:
        """Return the checks of where the seams of an operation run."""
        return [verdict for verdict in FAMILY.compute(of, self.approved(**more)).verdicts if verdict.key in PLACES]

    def warnings(self, of: ArcOperation, **more: Any) -> list[tuple[str, str]]:
        """Return subject and text of each of those checks that warns."""
        found = self.verdicts(of, **more)
        return [(each.subject, each.text.replace("\N{NO-BREAK SPACE}", " ")) for each in found if each.warns]

    def problems(self, of: ArcOperation, **more: Any) -> list[Problem]:
        """Return the problems of an operation that must be refused."""
        with pytest.raises(OutOfRangeError) as refused:
            FAMILY.compute(of, self.approved(**more))
        return list(refused.value.problems)

    def refusals(self, of: ArcOperation, **more: Any) -> list[tuple[str, str]]:
        """Return key and message of each problem."""
        return [(each.key, each.message.replace("\N{NO-BREAK SPACE}", " ")) for each in self.problems(of, **more)]

    def is_good(self, of: ArcOperation, **more: Any) -> bool:
        """Return whether every seam of the operation lies on an edge and nothing warns."""
        return [verdict.passed for verdict in self.verdicts(of, **more)] == [True]


@pytest.fixture(scope="session")
def ground() -> type[Ground]:
    return Ground


@pytest.fixture
def place(bench: Any, ground: type[Ground]) -> Ground:
    return ground(bench)
