"""Every seam of the demo orders lies on an edge of its components, and the designs before them are refused.

The clearances are hand calculations from the coordinates of the orders.
"""

import shutil
from math import atan2, degrees, dist
from pathlib import Path

import pytest
from weld_packets.calculation.places.path import points_mm
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import PacketError
from weld_packets.model.order import Order
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.sources.orders.orders import load_order
from weld_packets.sources.tables.tables import Workspace, load_workspace

ROOT = Path(__file__).parents[3]
PLACES = ("seam_on_edge", "seam_covered", "seam_overlap", "tube_corner")


@pytest.fixture(scope="module")
def workspace() -> Workspace:
    return load_workspace(ROOT)


@pytest.fixture(scope="module")
def orders(workspace: Workspace) -> dict[str, Order]:
    return {name: load_order(workspace, name).order for name in order_names(ROOT)}


def arc_operations(orders: dict[str, Order]) -> list[ArcOperation]:
    return [
        operation for order in orders.values() for operation in order.operations if isinstance(operation, ArcOperation)
    ]


def operation_of(orders: dict[str, Order], order: str, name: str) -> ArcOperation:
    (found,) = (operation for operation in orders[order].operations if operation.name == name)
    assert isinstance(found, ArcOperation)
    return found


def places(operation: ArcOperation, workspace: Workspace) -> list[Verdict]:
    return [verdict for verdict in FAMILY.compute(operation, workspace.approved).verdicts if verdict.key in PLACES]


def test_every_seam_of_the_demo_lies_on_an_edge_and_none_warns(orders: dict[str, Order], workspace: Workspace) -> None:
    operations = arc_operations(orders)
    assert len(operations) == 6
    for operation in operations:
        (found,) = places(operation, workspace)
        assert found.passed
        assert found.text.startswith(f"{len(operation.seams)} seams lie on an edge of the components")


def test_every_component_that_a_seam_touches_has_an_outline(orders: dict[str, Order]) -> None:
    for operation in arc_operations(orders):
        welded = {name for seam in operation.seams for name in seam.components}
        assert all(part.outlines for part in operation.components if part.id in welded)


def test_both_sides_of_a_lifting_tab_are_welded_by_one_robot(orders: dict[str, Order]) -> None:
    for operation in arc_operations(orders):
        robots: dict[float, set[str]] = {}
        for seam in (seam for seam in operation.seams if "tab" in seam.components):
            robots.setdefault(round(float(seam.path.start[0]), -1), set()).add(seam.robot)
        assert all(len(both) == 1 for both in robots.values())


@pytest.mark.parametrize(
    ("order", "radius", "clear"), [("lk-2041-service-module", 15.0, 6.5), ("lk-2055-outdoor-column", 18.0, 7.8)]
)
def test_the_seam_round_a_sleeve_stays_clear_of_its_gusset(
    orders: dict[str, Order], order: str, radius: float, clear: float
) -> None:
    """30° beside a gusset: 15 · sin 30° less half of 2 mm is 6.5 mm; 18 · sin 30° less half of 2.4 mm is 7.8 mm."""
    operation = operation_of(orders, order, "Foot strips")
    gusset = next(part for part in operation.components if part.id == "gusset")
    half = gusset.thickness.m_as("mm") / 2
    centres = {80.0, 320.0}
    for seam in (seam for seam in operation.seams if seam.id.startswith("R")):
        points = points_mm(seam.path)
        level = min(centres, key=lambda y: abs(points[0][1] - y))
        side = 1 if points[0][0] > min(point[0] for point in points) + radius else -1
        middle = (max if side < 0 else min)(point[0] for point in points) + side * radius
        assert all(abs(dist(point[:2], (middle, level)) - radius) < 0.01 for point in points)
        assert min(abs(point[1] - level) for point in (points[0], points[-1])) - half == pytest.approx(clear, abs=0.01)
        angle = degrees(atan2(points[0][1] - level, side * (points[0][0] - middle)))
        assert abs(angle) == pytest.approx(30, abs=0.05)
        assert f"{clear} mm clear of its face" in " ".join(operation.notes)


def changed(tmp_path: Path, order: str, *swaps: tuple[str, str]) -> list[str]:
    """Return the messages of an order some words of which are exchanged."""
    shutil.copytree(ROOT / "tables", tmp_path / "tables")
    for folder in (ROOT / "instructions").iterdir():
        if folder.is_dir():
            shutil.copytree(folder, tmp_path / "instructions" / folder.name, ignore=shutil.ignore_patterns("released"))
    file = tmp_path / "instructions" / order / "order.yaml"
    text = file.read_text("utf-8")
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    file.write_text(text, "utf-8")
    workspace = load_workspace(tmp_path)
    messages = []
    for operation in load_order(workspace, order).order.operations:
        if isinstance(operation, ArcOperation):
            try:
                FAMILY.compute(operation, workspace.approved)
            except PacketError as error:
                messages += [problem.message for problem in error.problems]
    return messages


def test_the_cross_members_as_tubes_would_be_flare_bevels(tmp_path: Path) -> None:
    tube = "material: S235JR\n        thickness: 3 mm\n        section: {form: cold-formed tube, axis: Y}"
    found = changed(tmp_path, "lk-2041-service-module", ("material: S235JR\n        thickness: 3 mm", tube))
    assert len(found) == 12
    assert all("this is a flare-bevel joint" in message for message in found)
    assert all("4.8\N{NO-BREAK SPACE}mm to 7.2\N{NO-BREAK SPACE}mm" in message for message in found)


def test_a_seam_all_round_a_sleeve_would_run_through_its_gusset(tmp_path: Path) -> None:
    """The gusset without its cope, the seam from the gusset round to the gusset."""
    path, piece = "start: [{}, 2], pieces: [", "{{via: [{}, 2], to: [{}, 2]}}"
    beside = path.format("92.99, 87.5") + piece.format("65, 80", "92.99, 72.5")
    halves = piece.format("80, 95", "65, 80") + ", " + piece.format("80, 65", "95, 80")
    cope = ("[101, 2], [145, 2], [95, 42], [95, 8]", "[95, 2], [145, 2], [95, 42]")
    found = changed(tmp_path, "lk-2041-service-module", cope, (beside, path.format("95, 80") + halves))
    first, copy = (text.replace("\N{NO-BREAK SPACE}", " ") for text in found)
    assert first.startswith("seam R1 runs through Gusset")
    assert first.endswith("at x 95.0 mm, y 80.0 mm, z 2.0 mm")
    assert copy.startswith("seam R3 runs through Gusset")
    assert copy.endswith("at x 95.0 mm, y 320.0 mm, z 2.0 mm")
