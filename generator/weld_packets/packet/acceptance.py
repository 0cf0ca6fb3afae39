"""What a weld must show at a check, in numbers: at set-up, in production, on a visible side."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from weld_packets.model.tables import Inspection
from weld_packets.packet.following import stem
from weld_packets.packet.operation_view import OperationView
from weld_packets.packet.records import SettingGroup
from weld_packets.packet.wording import amount_text, inside, joined, listed

ACCEPTED_KEYS = ("set_up_weld_diameter", "target_weld_diameter", "throat", "leg")
"""What a coupon of a set-up must show."""
IN_PRODUCTION = ("minimum_weld_diameter",)
ON_SIGHT = ("visible_indentation",)
LIMIT_KEYS = (*ACCEPTED_KEYS, *IN_PRODUCTION, *ON_SIGHT)


def acceptances(groups: Iterable[SettingGroup], keys: Sequence[str] = ACCEPTED_KEYS) -> dict[str, list[SettingGroup]]:
    """Return what welds must show, by the figures of these keys, with the groups of welds that it holds for."""
    found: dict[str, list[SettingGroup]] = {}
    for group in groups:
        found.setdefault(group_acceptance(group, keys), []).append(group)
    return found


def accepted(check: Inspection, view: OperationView) -> str:
    """Return what a check accepts: its own words, then the limits of the operation's welds that it names.

    The figures of a coupon are compared in a step of their own.
    """
    figures = [] if check.stage == "coupon" else figures_of(check, view.groups)
    return joined((check.accept.rstrip("."), *figures, *view.limit_lines(check.limits)))


def figures_of(check: Inspection, groups: Iterable[SettingGroup]) -> list[str]:
    """Return the numbers that a check holds welds to: once where all have the same, else with whose they are."""
    keys = _keys(check)
    found = acceptances(groups, keys) if keys else {}
    if len(found) == 1:
        return [figures for figures in found if figures]
    whose = {told: listed(each.name for each in alike) for told, alike in found.items()}
    return [f"{names_of}: {told}" for told, names_of in whose.items() if told]


def _keys(check: Inspection) -> tuple[str, ...]:
    if check.weld_diameter == "production":
        return IN_PRODUCTION
    return {"coupon": ACCEPTED_KEYS, "first-off": ON_SIGHT}.get(check.stage, ())


def group_acceptance(group: SettingGroup, keys: Sequence[str] = ACCEPTED_KEYS) -> str:
    """Return the figures of these keys, such as minimum and target weld diameter; empty where a group has none."""
    figures = (*group.dialled, *group.derived)
    found = (value for key in keys for value in figures if stem(value.key) == key)
    return joined(f"{inside(value.label)} {amount_text(value)}" for value in found)
