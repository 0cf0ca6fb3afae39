"""Weld schedules, set value by value at the controls."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.values import Value
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, step_key, under
from weld_packets.wording.english import FEW, capital, counted, inside, joined, listed

IN_PROGRAM = ("work_angle", "travel_angle", "contact_distance", "arc_length")
"""Settings that the program holds; they are checked where the torch meets a coupon, and not set."""
AT_THE_NOZZLE = ("gas_flow",)
"""Settings that are set where they are measured, and not at the controls."""
ELSEWHERE = (*IN_PROGRAM, *AT_THE_NOZZLE)

Wanted = Callable[[SettingGroup, Value], bool]


def schedules(view: OperationView, wanted: Wanted) -> Iterator[Draft]:
    """Yield the selection of each weld schedule and the ``wanted`` values under it; none of one without any."""
    shared: dict[tuple[str, tuple[Draft, ...]], list[SettingGroup]] = {}
    for group in view.groups:
        settings = tuple(
            _setting(value) for value in group.dialled if value.key not in ELSEWHERE and wanted(group, value)
        )
        if settings:
            shared.setdefault((group.weld_schedule, settings), []).append(group)
    for (number, settings), groups in shared.items():
        robots = listed(dict.fromkeys(robot for group in groups for robot in group.robots))
        yield _selected(number, robots, groups)
        yield from under(groups[0].key, (each._replace(do=f"{each.do} on {robots}.") for each in settings))


def _selected(number: str, robots: str, groups: Sequence[SettingGroup]) -> Draft:
    """Return the step that calls up, on the welding controls, the place where the settings are kept."""
    titles = joined(dict.fromkeys(group.title for group in groups))
    welds = _which([weld for group in groups for weld in group.welds])
    key = step_key("select-schedule", groups[0].key)
    if number:
        return Draft(
            f"Select weld schedule {number} on {robots}.",
            see=joined((titles, welds)),
            value=f"weld schedule {number}",
            acts=(acts.AT_CONTROLS,),
            key=key,
        )
    return Draft(
        f"Call up the settings of these welds on {robots}.", see=titles, value=welds, acts=(acts.AT_CONTROLS,), key=key
    )


def _which(welds: list[str]) -> str:
    return ", ".join(welds) if len(welds) <= FEW else counted(len(welds), "weld")


def _setting(value: Value) -> Draft:
    found, step = value.allowed, value.step_text
    allowed = f"allowed {found}" if found else ""
    return Draft(
        f"Set {inside(value.label)}",
        see=capital(joined((value.notes, allowed, f"step {step}" if step else ""))),
        value=value.text,
        acts=(acts.AT_CONTROLS,),
        key=value.key,
    )


def compared() -> Draft:
    """Return the step that holds until the machines show what the page says."""
    return Draft(
        "Compare every value on the machines with this page.",
        see="Both robots show the same as this page.",
        hold=True,
        acts=(acts.AT_CONTROLS,),
        key="compare-all",
    )
