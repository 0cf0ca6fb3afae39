"""What is inspected of an operation at which stage, and what a weld must show."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from weld_packets.grouping import grouped
from weld_packets.model.tables.inspection import Inspection, Occasion
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import InspectionLine
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.planning.sampling import sample_of
from weld_packets.wording.english import inside, joined, listed
from weld_packets.wording.inspection import sample_words

ACCEPTED_KEYS = ("set_up_weld_diameter", "target_weld_diameter", "throat", "leg")
"""What a coupon of a set-up must show."""
IN_PRODUCTION = ("minimum_weld_diameter",)
ON_SIGHT = ("visible_indentation",)
LIMIT_KEYS = (*ACCEPTED_KEYS, *IN_PRODUCTION, *ON_SIGHT)


def acceptances(groups: Iterable[SettingGroup], keys: Sequence[str] = ACCEPTED_KEYS) -> dict[str, list[SettingGroup]]:
    """Return what welds must show, by the figures of these keys, with the groups of welds that it holds for."""
    return grouped((group_acceptance(group, keys), group) for group in groups)


def accepted(check: Inspection, view: OperationView, limits: Sequence[str]) -> str:
    """Return what a check accepts: its own words, then the ``limits`` of imperfections, or where these are.

    The figures of a coupon are compared in a step of their own.
    """
    figures = [] if check.stage == "coupon" else figures_of(check, view.groups)
    return joined((check.accept.rstrip("."), *figures, *limits))


def figures_of(check: Inspection, groups: Iterable[SettingGroup]) -> list[str]:
    """Return the numbers that a check holds welds to: once where all have the same, else by the name of each group."""
    keys = _keys(check)
    found = acceptances(groups, keys) if keys else {}
    if len(found) == 1:
        return [figures for figures in found if figures]
    names = {figures: listed(each.name for each in same) for figures, same in found.items()}
    return [f"{names_of}: {figures}" for figures, names_of in names.items() if figures]


def _keys(check: Inspection) -> tuple[str, ...]:
    if check.weld_diameter == "production":
        return IN_PRODUCTION
    return {"coupon": ACCEPTED_KEYS, "first-off": ON_SIGHT}.get(check.stage, ())


def group_acceptance(group: SettingGroup, keys: Sequence[str] = ACCEPTED_KEYS) -> str:
    """Return the figures of these keys, such as minimum and target weld diameter; empty where a group has none."""
    figures = (*group.dialled, *group.derived)
    found = (value for key in keys for value in figures if value.figure == key)
    return joined(f"{inside(value.label)} {value.text}" for value in found)


def inspections_at(view: OperationView, stage: str) -> tuple[Inspection, ...]:
    """Return the checks of one stage."""
    return tuple(check for check in view.inspections if check.stage == stage)


def inspections_for(view: OperationView, occasion: Occasion) -> tuple[Inspection, ...]:
    """Return the checks that something done during a run brings."""
    return tuple(check for check in view.inspections if occasion in check.occasions)


def inspection_lines(views: Iterable[OperationView]) -> tuple[InspectionLine, ...]:
    """Return the plan of all operations; what is accepted carries the figures of the settings."""
    return tuple(_line(view, check) for view in views for check in view.inspections)


def _line(view: OperationView, check: Inspection) -> InspectionLine:
    return InspectionLine(
        operation=view.key,
        operation_name=view.operation.name,
        stage=check.stage,
        what=check.what,
        how=check.how,
        accept=joined((check.accept, *figures_of(check, view.groups))),
        every=check.every,
        source=check.source,
        limits=view.limit_lines(check.limits),
        sample=_sample(check, view),
    )


def _sample(check: Inspection, view: OperationView) -> str:
    found = sample_of(check, view.order.quantity, view.approved.samples)
    return "" if found is None else sample_words(found.turns, found.of, found.basis)
