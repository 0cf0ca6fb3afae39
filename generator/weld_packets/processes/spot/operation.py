"""A whole row of spots: settings for every stack on every arm, and the checks of its pattern."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from weld_packets.calculation.reach import spot_point
from weld_packets.calculation.results import RowResult, WeldSettings
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.model.approved_tables import Shop
from weld_packets.model.order import SpotRow
from weld_packets.processes.spot.edges import edge_verdicts
from weld_packets.processes.spot.en_1993 import en_1993_verdicts
from weld_packets.processes.spot.pattern import Placed, pitch_verdicts, reach_verdicts
from weld_packets.processes.spot.settings import weld_settings
from weld_packets.processes.spot.sheetwork import SheetWork, sheet_work
from weld_packets.processes.spot.stack import read_stack
from weld_packets.processes.spot.tools import Tools, tools_of


def spot_row(row: SpotRow, shop: Shop) -> RowResult:
    """Return the settings of a spot row, whose names all lead somewhere, and the verdicts on its pattern.

    Raises OutOfRangeError with every problem of the row at once; keys are relative to the row, such as ``spots[12]``.
    """
    gathering = Gathering()
    works = _works(row, shop, gathering)
    tools = _tools(row, shop, gathering)
    placed = _placed(row, works, tools)
    settings = _settings(row, shop, placed, tools, gathering)
    verdicts = _pattern(row, placed, tools, gathering)
    gathering.finish(OutOfRangeError)
    return RowResult(row, settings, verdicts)


def _works(row: SpotRow, shop: Shop, gathering: Gathering) -> dict[str, SheetWork]:
    works: dict[str, SheetWork] = {}
    welded = {spot.stack for spot in row.spots}
    for index, stack in enumerate(row.stacks):
        with gathering.step(key=f"stacks[{index}]"):
            if stack.id not in welded:
                raise refusal(
                    f"no spot is on stack {stack.id}", "remove the stack, or give it its spots", value=stack.id
                )
            works[stack.id] = sheet_work(read_stack(stack, row, shop), row, shop)
    return works


def _tools(row: SpotRow, shop: Shop, gathering: Gathering) -> dict[str, Tools]:
    tools: dict[str, Tools] = {}
    for index, arm in enumerate(row.arms):
        with gathering.step(key=f"arms[{index}]"):
            tools[arm] = tools_of(arm, row, shop)
    return tools


def _placed(row: SpotRow, works: Mapping[str, SheetWork], tools: Mapping[str, Tools]) -> list[Placed]:
    """Return the spots whose stack and arm have no problem of their own."""
    return [
        Placed(index, spot, spot_point(spot), works[spot.stack])
        for index, spot in enumerate(row.spots)
        if spot.stack in works and spot.arm in tools
    ]


def _settings(
    row: SpotRow, shop: Shop, placed: list[Placed], tools: Mapping[str, Tools], gathering: Gathering
) -> tuple[WeldSettings, ...]:
    groups: dict[tuple[str, str], list[str]] = {}
    for item in placed:
        groups.setdefault((item.spot.stack, item.spot.arm), []).append(item.spot.id)
    works = {item.spot.stack: item.work for item in placed}
    index = {stack.id: place for place, stack in enumerate(row.stacks)}
    settings = []
    for (stack, arm), spots in groups.items():
        with gathering.step(key=f"stacks[{index[stack]}]"):
            found = weld_settings(works[stack], tools[arm], tuple(spots), row, shop)
            settings.append(replace(found, set_number=row.stacks[index[stack]].set_number))
    return tuple(settings)


def _pattern(
    row: SpotRow, placed: list[Placed], tools: Mapping[str, Tools], gathering: Gathering
) -> tuple[Verdict, ...]:
    verdicts: list[Verdict] = []
    with gathering.step():
        verdicts.extend(pitch_verdicts(placed))
    with gathering.step():
        verdicts.extend(edge_verdicts(placed, row.parts, tools))
    if row.spacing_rule == "EN 1993-1-3":
        verdicts.extend(en_1993_verdicts(placed, row.parts))
    with gathering.step():
        verdicts.extend(reach_verdicts(placed, tools))
    return tuple(verdicts)
