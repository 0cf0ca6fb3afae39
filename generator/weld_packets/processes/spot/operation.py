"""A whole operation of spots: settings for every stack on every robot, and the checks of its pattern."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.geometry.vectors import Point
from weld_packets.grouping import grouped
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.spot.gun.settings import weld_settings
from weld_packets.processes.spot.gun.tools import Tools, tools_of
from weld_packets.processes.spot.pattern.edges import edge_verdicts
from weld_packets.processes.spot.pattern.en_1993 import en_1993_verdicts
from weld_packets.processes.spot.pattern.pitch_and_reach import Placed, pitch_verdicts, reach_verdicts
from weld_packets.processes.spot.records import Spot, SpotOperation
from weld_packets.processes.spot.stack.requirements import StackRequirements, stack_requirements
from weld_packets.processes.spot.stack.sheets import read_stack
from weld_packets.units import in_mm


def spot_operation(operation: SpotOperation, approved: ApprovedTables) -> OperationResult:
    """Return the settings of a spot operation, whose names all lead somewhere, and the verdicts on its pattern.

    Raises OutOfRangeError with every problem at once; keys are relative to the operation, such as ``spots[12]``.
    """
    gathering = Gathering()
    works = _works(operation, approved, gathering)
    tools = _tools(operation, approved, gathering)
    placed = _placed(operation, works, tools)
    settings = _settings(operation, approved, placed, tools, gathering)
    verdicts = _pattern(operation, placed, tools, gathering)
    gathering.finish(OutOfRangeError)
    return OperationResult(operation, settings, verdicts)


def _works(operation: SpotOperation, approved: ApprovedTables, gathering: Gathering) -> dict[str, StackRequirements]:
    works: dict[str, StackRequirements] = {}
    welded = {spot.stack for spot in operation.spots}
    for index, stack in enumerate(operation.stacks):
        with gathering.step(key=f"stacks[{index}]"):
            if stack.id not in welded:
                raise refusal(
                    f"no spot is on stack {stack.id}", "remove the stack, or give it its spots", value=stack.id
                )
            works[stack.id] = stack_requirements(read_stack(stack, operation, approved), operation, approved)
    return works


def _tools(operation: SpotOperation, approved: ApprovedTables, gathering: Gathering) -> dict[str, Tools]:
    tools: dict[str, Tools] = {}
    for index, robot in enumerate(operation.robots):
        with gathering.step(key=f"robots[{index}]"):
            tools[robot] = tools_of(robot, operation, approved)
    return tools


def _placed(
    operation: SpotOperation, works: Mapping[str, StackRequirements], tools: Mapping[str, Tools]
) -> list[Placed]:
    """Return the spots whose stack and robot have no problem of their own."""
    return [
        Placed(index, spot, spot_point(spot), works[spot.stack])
        for index, spot in enumerate(operation.spots)
        if spot.stack in works and spot.robot in tools
    ]


def _settings(
    operation: SpotOperation,
    approved: ApprovedTables,
    placed: list[Placed],
    tools: Mapping[str, Tools],
    gathering: Gathering,
) -> tuple[WeldSettings, ...]:
    groups = grouped(((item.spot.stack, item.spot.robot), item.spot.id) for item in placed)
    works = {item.spot.stack: item.work for item in placed}
    index = {stack.id: place for place, stack in enumerate(operation.stacks)}
    settings = []
    for (stack, robot), spots in groups.items():
        with gathering.step(key=f"stacks[{index[stack]}]"):
            found = weld_settings(works[stack], tools[robot], tuple(spots), operation, approved)
            settings.append(replace(found, weld_schedule=operation.stacks[index[stack]].weld_schedule))
    return tuple(settings)


def _pattern(
    operation: SpotOperation, placed: list[Placed], tools: Mapping[str, Tools], gathering: Gathering
) -> tuple[Verdict, ...]:
    verdicts: list[Verdict] = []
    with gathering.step():
        verdicts.extend(pitch_verdicts(placed))
    with gathering.step():
        verdicts.extend(edge_verdicts(placed, operation.components, tools))
    if operation.spacing_rule == "EN 1993-1-3":
        verdicts.extend(en_1993_verdicts(placed, operation.components))
    with gathering.step():
        verdicts.extend(reach_verdicts(placed, tools))
    return tuple(verdicts)


def spot_point(spot: Spot) -> Point:
    """Return where a spot is, in millimetres from the fixture datum."""
    return in_mm(spot.x), in_mm(spot.y), in_mm(spot.z)
