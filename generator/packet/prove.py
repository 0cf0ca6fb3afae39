"""Proving a row before the run: slow and dry, then a coupon, then the first part."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.machines import Arm
from generator.model.tables import Inspection
from generator.packet.acceptance import acceptances
from generator.packet.inspections import inspections_at
from generator.packet.numbers import as_stated, both, sheet_amount
from generator.packet.placing import Draft, placed
from generator.packet.records import Action, Callout
from generator.packet.rowview import RowView
from generator.packet.sheets import sheets_of
from generator.packet.titles import title_of
from generator.packet.welds import welds_of
from generator.packet.wording import counted, inside, joined, listed
from generator.process.results import WeldSettings


def prove_steps(view: RowView, callouts: tuple[Callout, ...]) -> tuple[Action, ...]:
    """Return the steps that prove a row; inspection holds the first part."""
    return placed(_drafts(view), callouts)


def _drafts(view: RowView) -> Iterator[Draft]:
    yield from _slow_and_dry(view)
    yield from _coupons(view)
    yield from _first_part(view)


def _slow_and_dry(view: RowView) -> Iterator[Draft]:
    yield Draft(
        "Send everyone else out of the cell.", see="Whoever stays inside holds an enabling device.", topics=("move",)
    )
    yield Draft(
        "Turn the mode switch to manual reduced speed and take the key.",
        see="The pendant shows manual mode.",
        value=f"at most {as_stated(view.shop.plant.reduced_speed)}",
        topics=("move",),
    )
    yield Draft("Switch weld off on both arms.", see="Both pendants show weld off.", value="weld off")
    yield Draft(
        "Test the enabling device while one arm creeps.",
        see="Motion stops when you press it fully, and when you let it go.",
        topics=("move",),
    )
    for arm in view.arms:
        yield from _dry_run(view, arm)
    yield Draft("Leave the cell and close the gate.", see="Everybody is out; you hold your key.")
    yield Draft(
        "Run both programs together from outside, slow, weld still off.",
        see="Each arm waits for the other where their paths meet.",
        topics=("move",),
    )


def _dry_run(view: RowView, arm: Arm) -> Iterator[Draft]:
    number = view.row.programs[arm.id]
    welds = welds_of(view.row, arm.id)
    if not welds:
        return
    other = next(each for each in view.arms if each.id != arm.id)
    noun = "seam" if view.wire is not None else "spot"
    stops = "every start and stop" if view.wire is not None else "every spot"
    yield Draft(
        f"Step {arm.id} through its program.",
        see=f"{counted(len(welds), noun)} in the diagram's order, {welds[0]} to {welds[-1]}; {stops} on its place; "
        f"{other.id} stands still at home",
        value=number,
        topics=("move",),
    )


def _coupons(view: RowView) -> Iterator[Draft]:
    for sheets, alike in _coupon_sheets(view).items():
        arms = listed(sorted({each.arm for each in alike}))
        titles = title_of(each.title for each in alike)
        yield Draft(f"Clamp a test coupon of the same sheets at {arms}.", see=titles, value=sheets[-1])
    yield from _coupon_programs(view)
    yield Draft("Restore weld on at both arms.", see="Both pendants show weld on.", value="weld on")
    yield from _to_automatic()
    yield Draft(
        "Weld the coupons, one with each arm, from outside.",
        see="No burn-through, no molten drops thrown out.",
        topics=("weld",),
    )
    yield _back_to_manual()
    yield Draft("Let the coupons cool before you touch them.", see="No heat on your glove.", topics=("hot",))
    yield from _tests(view)
    yield Draft("Stop and call if a coupon fails inside the windows.", see="All coupons are accepted.", hold=True)


def _coupon_programs(view: RowView) -> Iterator[Draft]:
    if not view.row.coupon_programs:
        yield Draft("Load the works' own coupon program on both arms.", see="It welds the coupon and nothing else.")
    for arm in (arm for arm in view.arms if arm.id in view.row.coupon_programs):
        number = view.row.coupon_programs[arm.id]
        yield Draft(f"Load the coupon program on {arm.id}.", see=f"The pendant shows {number}.", value=number)


def _to_automatic() -> Iterator[Draft]:
    yield Draft(
        "Count everybody out, close the gate and reset from outside.",
        see="You see the whole cell, and nobody is in it.",
        topics=("start",),
    )
    yield Draft("Turn the mode switch to automatic.", see="The panel shows automatic.", value="automatic")


def _back_to_manual() -> Draft:
    return Draft(
        "Turn the mode switch to manual and take the key before you go in.",
        see="The pendant shows manual mode.",
        value="manual",
    )


def _tests(view: RowView) -> Iterator[Draft]:
    for check in inspections_at(view, "coupon"):
        yield Draft(f"Test every coupon: {inside(check.what)}.", see=_told(check))
    for accept, groups in acceptances(view.groups).items():
        if accept:
            arms = listed(dict.fromkeys(arm for group in groups for arm in group.arms))
            titles = joined(dict.fromkeys(group.title for group in groups))
            yield Draft(f"Compare the coupons of {arms} with this limit.", see=titles, value=accept)


def _told(check: Inspection) -> str:
    return f"{check.how.rstrip('.')}. Accept: {check.accept.rstrip('.')}."


def _coupon_sheets(view: RowView) -> dict[tuple[str, ...], list[WeldSettings]]:
    """Return one coupon for whatever is set alike in the same sheets; seams also by joint and position."""
    group_of = {weld: group.key for group in view.groups for weld in group.welds}
    found: dict[tuple[str, ...], list[WeldSettings]] = {}
    for each in view.result.settings:
        joint = "" if view.wire is None else each.title
        found.setdefault((group_of[each.welds[0]], joint, _stack(view, each.welds[0])), []).append(each)
    return found


def _stack(view: RowView, weld: str) -> str:
    parts = sheets_of(view.row, weld)
    return " + ".join(f"{both(sheet_amount(part.thickness, view.order.show_first))} {part.material}" for part in parts)


def _first_part(view: RowView) -> Iterator[Draft]:
    for arm in view.arms:
        number = view.row.programs[arm.id]
        yield Draft(f"Load the part's program on {arm.id} again.", see=f"The pendant shows {number}.", value=number)
    yield Draft("Load the first part and close the clamps.", see="Every part sits on its stops.", topics=("parts",))
    yield Draft("Restore production speed.", see="The pendants show full program speed.")
    yield from _to_automatic()
    yield Draft("Weld the first part and watch from outside.", see="Every weld is there.", topics=("weld",))
    yield _back_to_manual()
    for check in inspections_at(view, "first-off"):
        yield Draft(f"Inspect the first part: {inside(check.what)}.", see=_told(check), topics=("hot",))
    yield Draft(
        "Hold the run until inspection accepts the first part.",
        see="Accepted and signed. Only then start the run.",
        value="hold point",
        hold=True,
    )
