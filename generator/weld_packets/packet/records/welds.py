"""Parts and welds: in tables, in diagrams, and as places for comparison."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.figures import Amount
from weld_packets.packet.records.plain import Plain


class Picture(Plain):
    """One diagram as SVG that may stand inline; ``description`` says in words what it shows."""

    key: str
    title: str
    description: str
    caption: str
    svg: str


class WeldLine(Plain):
    """One weld in the table under the diagram: cells in the order of ``RowSheet.weld_columns``."""

    key: str
    cells: tuple[str, ...]


class WeldGeometry(Plain):
    """Where one weld is, as decimal text in mm in the fixture datum, for comparing revisions and drawing ghosts.

    ``pieces``: for a spot one point; for a seam the start, then for each piece its end, or via and end.
    """

    key: str
    robot: str
    side: Literal["A", "B"]
    form: Literal["spot", "seam"]
    pieces: tuple[tuple[str, ...], ...]
    label: str


class ComponentOutline(Plain):
    """One closed outline of a part as X, Y, Z in mm (decimal text, fixture datum), for drawing comparisons over it."""

    component: str
    points: tuple[tuple[str, str, str], ...]


class ComponentLine(Plain):
    """One part that goes into the fixture."""

    key: str
    name: str
    material: str
    coating: str
    thickness: Amount
