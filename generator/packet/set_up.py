"""Setting up a row: one action each, in the order of the work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from generator.model.machines import Arm
from generator.packet.numbers import as_stated, both, sheet_amount
from generator.packet.placing import Draft, placed
from generator.packet.records import Action, Callout, SettingGroup, Value
from generator.packet.rowview import RowView
from generator.packet.wording import (
    FEW,
    amount_text,
    capital,
    counted,
    inside,
    joined,
    listed,
    notes_of,
    step_text,
    window_text,
)

IN_PROGRAM = ("work_angle", "travel_angle")
"""Settings that the program holds; the setter compares them instead of setting them."""


def set_up_steps(view: RowView, callouts: tuple[Callout, ...]) -> tuple[Action, ...]:
    """Return the set-up steps of a row: what is fitted locked out, then what takes energy, and the comparison."""
    return placed(_drafts(view), callouts)


def _drafts(view: RowView) -> Iterator[Draft]:
    yield Draft(
        f"Lock out cell {view.cell.id} before you go in.",
        see="A try-out start moves nothing.",
        value=view.cell.id,
        topics=("enter",),
    )
    yield Draft("Fit the fixture and clamp it down.", see=f"Zero at: {view.row.datum}", value=view.row.fixture)
    yield from _fitted(view)
    yield Draft(
        "Leave the cell, take off your lock and restore energy.",
        see="Mode switch on manual, its key with you; the gate stays open while anyone is inside.",
    )
    yield from _supplied(view)
    yield from _parts(view)
    yield from _settings(view)
    yield from _programs(view)
    yield Draft("Compare every value on the machines with this page.", see="Every value reads the same.", hold=True)
    yield Draft("Take tools and loose parts out of the cell.", see="Table, fixture and floor are clear.")


def _fitted(view: RowView) -> Iterator[Draft]:
    if view.wire is None:
        for arm in view.arms:
            yield from _caps(view, arm)
        return
    for arm in view.arms:
        yield from _wire(view, arm)
    yield from _gas(view)


def _supplied(view: RowView) -> Iterator[Draft]:
    """Yield the checks of what flows only with energy on."""
    for arm in view.arms:
        if view.cap(arm) is not None:
            yield Draft(f"Check the cooling water of {arm.id}.", see="Water flows, and no joint drips.")
    if view.gas is not None:
        yield Draft("Purge both torches and listen for leaks.", see="No hiss at any joint.", topics=("gas",))


def _caps(view: RowView, arm: Arm) -> Iterator[Draft]:
    cap = view.cap(arm)
    if cap is None:
        return
    yield Draft(f"Fit two caps on {arm.id}.", see=f"{cap.designation}, {cap.standard}", value=cap.id, topics=("caps",))
    yield Draft(
        f"Dress both caps of {arm.id}.",
        see="Both faces are round, clean and in line.",
        value=f"face {_face(view, arm)}",
        topics=("caps",),
    )


def _face(view: RowView, arm: Arm) -> str:
    """Return the face diameter that the settings of this arm ask for, else that of the cap itself."""
    asked = [amount_text(value) for group, value in view.values("cap_face") if arm.id in group.arms]
    cap = view.cap(arm)
    return listed(list(dict.fromkeys(asked))) if asked or cap is None else as_stated(cap.face)


def _wire(view: RowView, arm: Arm) -> Iterator[Draft]:
    wire = view.wire
    if wire is None:
        return
    yield Draft(
        f"Fit the wire on {arm.id}.",
        see=f"Spool label: {wire.designation}, {wire.standard}",
        value=f"{wire.id}, {both(sheet_amount(wire.diameter, view.order.show_first))}",
        topics=("wire",),
    )
    yield Draft(
        f"Fit drive rolls, liner and contact tip on {arm.id}.",
        see="The size on each part is the wire's.",
        value=both(sheet_amount(wire.diameter, view.order.show_first)),
        topics=("wire",),
    )
    yield Draft(f"Check the work cable of {arm.id}.", see="The clamp is tight, on clean metal.")


def _gas(view: RowView) -> Iterator[Draft]:
    gas = view.gas
    if gas is None:
        return
    arms = listed([arm.id for arm in view.arms])
    yield Draft(
        f"Connect the gas to {arms}.",
        see=f"{gas.group}, {gas.content}; {gas.container_name} chained",
        value=gas.id,
        topics=("gas",),
    )


def _parts(view: RowView) -> Iterator[Draft]:
    for part in view.row.parts:
        material = view.material(part)
        coating = "" if material.coating == "none" else f", {material.coating} coating"
        thickness = both(sheet_amount(part.thickness, view.order.show_first))
        yield Draft(
            f"Measure part {part.id} and put it in the fixture.",
            see=f"{part.name}: {material.designation}{coating}; clean, dry, seated on its stops",
            value=f"{thickness} {material.id}",
            topics=("parts",),
        )
    yield from _clamps(view.row.clamps)


def _clamps(clamps: Sequence[str]) -> Iterator[Draft]:
    shut = "No gap opens between the parts."
    if not clamps:
        yield Draft("Close every clamp.", see=shut, topics=("clamps",))
    for number, clamp in enumerate(clamps, start=1):
        see = shut if number == len(clamps) else "It is fully home."
        yield Draft(f"Close clamp {number} of {len(clamps)}.", see=see, value=clamp, topics=("clamps",))


def _settings(view: RowView) -> Iterator[Draft]:
    alike: dict[tuple[str, tuple[Draft, ...]], list[SettingGroup]] = {}
    for group in view.groups:
        settings = tuple(_setting(value) for value in group.dialled)
        alike.setdefault((group.set_number, settings), []).append(group)
    for (number, settings), groups in alike.items():
        arms = listed(dict.fromkeys(arm for group in groups for arm in group.arms))
        yield _opened(number, arms, groups)
        yield from (replace(setting, do=f"{setting.do} on {arms}.") for setting in settings)


def _opened(number: str, arms: str, groups: Sequence[SettingGroup]) -> Draft:
    """Return the step that calls up, on the welding controls, the place where the settings are kept."""
    titles = joined(dict.fromkeys(group.title for group in groups))
    welds = _which([weld for group in groups for weld in group.welds])
    if number:
        return Draft(f"Open the set of these welds on {arms}.", see=joined((titles, welds)), value=f"set {number}")
    return Draft(f"Open the settings of these welds on {arms}.", see=titles, value=welds)


def _which(welds: list[str]) -> str:
    return ", ".join(welds) if len(welds) <= FEW else counted(len(welds), "weld")


def _setting(value: Value) -> Draft:
    window, step = window_text(value), step_text(value)
    verb = "Check" if value.key in IN_PROGRAM else "Set"
    allowed = f"allowed {window}" if window else ""
    return Draft(
        f"{verb} {inside(value.label)}",
        see=capital(joined((notes_of(value), allowed, f"step {step}" if step else ""))),
        value=amount_text(value),
    )


def _programs(view: RowView) -> Iterator[Draft]:
    for arm in view.arms:
        number = view.row.programs[arm.id]
        yield Draft(f"Load the program on {arm.id}.", see=f"The pendant of {arm.id} shows {number}.", value=number)
