"""One arc operation computed: settings of all its seams, reach of its robots, sense of its positions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from weld_packets.calculation.countermeasures import BARE_OR_SECTION, DIRECTION
from weld_packets.calculation.places.millimetres import farthest, within
from weld_packets.calculation.places.path import end_mm, points_mm, start_mm
from weld_packets.calculation.results import OperationResult, WeldSettings, safe_name
from weld_packets.calculation.sentences import lengths, refused
from weld_packets.calculation.trace import Verdict, warned
from weld_packets.errors import Gathering, OutOfRangeError
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import ArcSource, Robot
from weld_packets.processes.arc.records import ArcOperation, Seam
from weld_packets.processes.arc.seam_groups import SeamGroup, seam_groups
from weld_packets.processes.arc.seams.checks import seam_verdicts
from weld_packets.units import in_mm
from weld_packets.units.digits import WHOLE

MACHINES = "table of machines: base and reach of the robot, straight line to the torch tip"
COAT = "common practice, no source"
RISE = "common practice, no source; the third axis of the datum taken as up"


Settings = Callable[[SeamGroup, str, str | None, ApprovedTables], WeldSettings]
"""Gives the settings of seams that are set the same, under a key, from the chart that the operation names."""


def arc_operation(
    operation: ArcOperation, approved: ApprovedTables, machines: Mapping[str, ArcSource], settings_of: Settings
) -> OperationResult:
    """Return the settings of every seam of an operation, in groups of equal settings, with its checks.

    ``machines`` and ``settings_of`` are those of its process.

    Raises OutOfRangeError with every problem of the operation; keys are paths within it, such as ``seams[3].throat``.
    """
    gathering = Gathering()
    places = seam_verdicts(operation, approved, gathering)
    misread = any(problem.key.endswith((".unit", ".file")) for problem in gathering.problems)
    groups = seam_groups(operation, approved, machines, gathering)
    settings = tuple(_settings(groups, operation, approved, settings_of, gathering))
    verdicts = () if misread else tuple(_reaches(groups, gathering))
    gathering.finish(OutOfRangeError)
    return OperationResult(operation, settings, (*verdicts, *places, *_senses(operation), *_coats(operation, approved)))


def _settings(
    groups: tuple[SeamGroup, ...],
    operation: ArcOperation,
    approved: ApprovedTables,
    settings_of: Settings,
    gathering: Gathering,
) -> Iterator[WeldSettings]:
    taken: set[str] = set()
    for group in groups:
        key = _key(group, taken)
        taken.add(key)
        with gathering.step(key=f"seams[{group.indices[0]}]"):
            yield settings_of(group, key, operation.chart, approved)


def _key(group: SeamGroup, taken: set[str]) -> str:
    """Return robot and first seam as a safe name; with a number where two names differ only in case or signs."""
    name = safe_name(group.robot.id, group.seam.id)
    return name if name not in taken else f"{name}-{group.indices[0] + 1}"


def _reaches(groups: tuple[SeamGroup, ...], gathering: Gathering) -> Iterator[Verdict]:
    """Yield for each robot the farthest point of its paths; a path out of reach is a problem of its seam."""
    longest: dict[str, tuple[Robot, str, float]] = {}
    for group in groups:
        for index, seam in zip(group.indices, group.seams, strict=True):
            with gathering.step(key=f"seams[{index}].path"):
                found = _reach(group.robot, seam)
                if found > longest.get(group.robot.id, (group.robot, "", 0.0))[2]:
                    longest[group.robot.id] = group.robot, seam.id, found
    for robot, seam_id, found in longest.values():
        away, maximum = lengths(found, in_mm(robot.reach), WHOLE)
        said = ("farthest point ", away, f" from the base (seam {seam_id}), reach ", maximum)
        yield Verdict("reach", robot.name, said, passed=True, source=MACHINES)


def _reach(robot: Robot, seam: Seam) -> float:
    _, found = farthest(robot, points_mm(seam.path))
    if not within(found, in_mm(robot.reach)):
        away, maximum = lengths(found, in_mm(robot.reach), WHOLE)
        raise refused(
            (f"{robot.name} reaches ", maximum, " from its base, this path runs to ", away),
            "give the seam to the other robot, or move the fixture",
            value=away,
        )
    return found


def _coats(operation: ArcOperation, approved: ApprovedTables) -> Iterator[Verdict]:
    """Yield a warning for each welded component with a coat of zinc, which no arc chart was made for."""
    welded = {name for seam in operation.seams for name in seam.components}
    for component in (component for component in operation.components if component.id in welded):
        coating = approved.materials[component.material].coating
        if coating != "none":
            text = f"coated with {coating}: arc charts are for bare sheet, expect pores"
            yield warned("coating", component.name, text, COAT, BARE_OR_SECTION)


def _senses(operation: ArcOperation) -> Iterator[Verdict]:
    """Yield a warning for each seam whose vertical position does not agree with the direction of its path."""
    for seam in operation.seams:
        rise = end_mm(seam.path)[2] - start_mm(seam.path)[2]
        if (seam.position == "PF" and rise <= 0) or (seam.position == "PG" and rise >= 0):
            direction = "up" if seam.position == "PF" else "down"
            text = f"{seam.position} is vertical {direction}, but the path rises {rise:.0f} mm from start to stop"
            yield warned("position", f"seam {seam.id}", text, RISE, DIRECTION)
