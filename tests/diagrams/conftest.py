"""Operations of real size to draw: a door panel with 80 spots, a tray with flanges, a base frame with 18 seams."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from weld_packets.diagrams.scene import (
    Bend,
    JointForm,
    Lengths,
    Outline,
    Scene,
    SeamLine,
    Side,
    SpotPoint,
    Straight,
    Trail,
)
from weld_packets.drawing.lettering import number
from weld_packets.geometry.vectors import Point

LENGTHS = Lengths(lambda mm: f"{number(mm, 1).removesuffix('.0')} mm ({number(mm / 25.4, 2)} in)")
ROBOTS = ("R31 south", "R32 north")


def plate(name: str, width: float, height: float, z: float = 0.0) -> Outline:
    return Outline(name, ((0, 0, z), (width, 0, z), (width, height, z), (0, height, z)))


def wall(name: str, x: float, depth: float, height: float) -> Outline:
    return Outline(name, ((x, 0, 0), (x, depth, 0), (x, depth, height), (x, 0, height)))


def scene(*outlines: Outline, datum: str = "lower left corner", robots: tuple[str, str] = ROBOTS) -> Scene:
    return Scene("operation-1", datum, robots, outlines, LENGTHS, "spot")


def numbered(points: list[Point], side: Side) -> list[SpotPoint]:
    return [SpotPoint(index, f"{side}{index:02}", side, point) for index, point in enumerate(points, 1)]


def door() -> tuple[Scene, list[SpotPoint]]:
    """Return 80 spots around and across a panel of 600 x 1800 mm, 40 to a robot."""
    up: list[Point] = [(15, 15 + 61 * step, 0) for step in range(30)]
    down: list[Point] = [(585, 1784 - 61 * step, 0) for step in range(30)]
    top: list[Point] = [(75 + 60 * step, 1784, 0) for step in range(8)]
    bottom: list[Point] = [(525 - 60 * step, 15, 0) for step in range(8)]
    near: list[Point] = [(200, 600, 0), (200, 900, 0)]
    far: list[Point] = [(400, 600, 0), (400, 900, 0)]
    skin = plate("Door skin", 600, 1800)
    return scene(skin), numbered([*up, *top, *near], "A") + numbered([*down, *bottom, *far], "B")


def close() -> tuple[Scene, list[SpotPoint]]:
    """Return a grid 12 mm apart in the corner of a large tray, and a row far apart."""
    near: list[Point] = [(30 + 12 * (index % 5), 30 + 12 * (index // 5), 0) for index in range(15)]
    far: list[Point] = [(400 + 80 * index, 200, 0) for index in range(6)]
    return scene(plate("Tray", 1000, 300)), numbered(near, "A") + numbered(far, "B")


def strip() -> tuple[Scene, list[SpotPoint]]:
    """Return 80 spots 12 mm apart in one line."""
    points: list[Point] = [(25 + 12 * index, 30, 0) for index in range(80)]
    return scene(plate("Strip", 1000, 60)), numbered(points[:40], "A") + numbered(points[40:], "B")


def tray() -> tuple[Scene, list[SpotPoint]]:
    """Return spots on the floor of a tray and on its two flanges."""
    left: list[Point] = [(0, 40 + 60 * step, 20) for step in range(8)]
    right: list[Point] = [(400, 40 + 60 * step, 20) for step in range(8)]
    front: list[Point] = [(40 + 60 * step, 30, 0) for step in range(6)]
    parts = plate("Floor", 400, 500), wall("Left flange", 0, 500, 40), wall("Right flange", 400, 500, 40)
    return scene(*parts), numbered([*left, *front], "A") + numbered(right, "B")


def seam(
    order: int,
    side: Side,
    trail: Trail,
    *,
    joint: JointForm = "T",
    size: str = "a3",
    position: str = "PB",
) -> SeamLine:
    return SeamLine(order, f"{side}{order:02}", side, trail, joint, size, "135", position, 45.0, 10.0, "15 mm")


def straight(start: Point, end: Point) -> Trail:
    return Trail(start, (Straight(end),))


def base_frame() -> tuple[Scene, list[SeamLine]]:
    """Return 18 seams of a frame of 1200 x 500 mm: butts on top, uprights, feet with an arc."""
    rails = [
        Outline("Front rail", ((0, 0, 60), (1200, 0, 60), (1200, 40, 60), (0, 40, 60))),
        Outline("Rear rail", ((0, 460, 60), (1200, 460, 60), (1200, 500, 60), (0, 500, 60))),
        Outline("Front rail", ((0, 0, 0), (1200, 0, 0), (1200, 0, 60), (0, 0, 60))),
    ]
    seams: list[SeamLine] = []
    for index, x in enumerate((0, 380, 760, 1160), 1):
        rails.append(Outline("Cross bar", ((x, 40, 60), (x + 40, 40, 60), (x + 40, 460, 60), (x, 460, 60))))
        seams.append(seam(index, "A", straight((x, 40, 60), (x + 40, 40, 60)), joint="butt", size="", position="PA"))
        seams.append(seam(index, "B", straight((x + 40, 460, 60), (x, 460, 60)), joint="butt", size="", position="PA"))
    for index, x in enumerate((0, 380, 760, 1160), 5):
        seams.append(seam(index, "A", straight((x, 40, 60), (x, 40, 0)), position="PF"))
        seams.append(seam(index, "B", straight((x + 40, 460, 60), (x + 40, 460, 0)), position="PF"))
    for index, x in enumerate((60, 1060), 9):
        arc = Trail((x, 0, -120), (Bend((x + 40, 0, -135), (x + 80, 0, -120)),))
        seams.append(seam(index, "A", arc, joint="lap", size="a4"))
    return scene(*rails), seams


def twenty() -> tuple[Scene, list[SeamLine]]:
    """Return 20 short seams side by side on a plate, 10 to a robot."""
    lefts = [40 + 56 * index for index in range(10)]
    lower = [seam(order, "A", straight((x, 60, 0), (x + 30, 60, 0))) for order, x in enumerate(lefts, 1)]
    upper = [seam(order, "B", straight((x + 30, 140, 0), (x, 140, 0))) for order, x in enumerate(lefts, 1)]
    seams = [*lower, *upper]
    return scene(plate("Plate", 640, 200)), seams


@pytest.fixture(scope="session")
def operations() -> SimpleNamespace:
    """Return the builders of this file by name."""
    return SimpleNamespace(
        scene=scene,
        plate=plate,
        seam=seam,
        straight=straight,
        numbered=numbered,
        door=door(),
        close=close(),
        strip=strip(),
        tray=tray(),
        base_frame=base_frame(),
        twenty=twenty(),
    )
