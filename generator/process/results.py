"""What the process room hands on: the settings of welds that are set alike, and of a whole row."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.model.order import ArcRow, SpotRow
from generator.process.details import Detail
from generator.process.trace import Figure, Verdict


@dataclass(frozen=True)
class WeldSettings:
    """Welds of one arm that are set alike: one stack-up, or seams of one joint, position, size and thickness.

    Attributes:
        key: safe name within the row, such as ``k1-c2a``.
        title: what a setter calls it, such as ``T fillet a3, PB``.
        arm: the arm that welds them.
        welds: identifiers of the seams or spots, in sequence.
        runs: number of runs of each seam; 1 for spots.
        dialled: figures that the setter sets, in the order of setting.
        derived: figures that follow, such as heat input or the least weld diameter.
        verdicts: checks of these settings against machine, chart and physics.
        set_number: number under which the arm's welding control keeps them; None where the order gives none.
        details: what a welder must know of them besides, in the order of the work.

    """

    key: str
    title: str
    arm: str
    welds: tuple[str, ...]
    runs: int
    dialled: tuple[Figure, ...]
    derived: tuple[Figure, ...]
    verdicts: tuple[Verdict, ...]
    set_number: int | None = None
    details: tuple[Detail, ...] = ()

    def figures(self) -> Iterator[Figure]:
        """Yield all figures, dialled first."""
        yield from self.dialled
        yield from self.derived

    def figure(self, key: str) -> Figure:
        """Return the figure of that key; KeyError when there is none."""
        found = {figure.key: figure for figure in self.figures()}
        return found[key]


@dataclass(frozen=True)
class RowResult:
    """A row computed: its groups of settings and the checks of its pattern."""

    row: ArcRow | SpotRow
    settings: tuple[WeldSettings, ...]
    verdicts: tuple[Verdict, ...]
