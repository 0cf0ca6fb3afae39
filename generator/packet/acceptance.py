"""What a test piece of a group of welds must show, in numbers."""

from __future__ import annotations

from collections.abc import Iterable

from generator.model.tables import Inspection
from generator.packet.following import stem
from generator.packet.records import SettingGroup
from generator.packet.rowview import RowView
from generator.packet.wording import amount_text, inside, joined

ACCEPTED_KEYS = ("least_weld_diameter", "aimed_weld_diameter", "throat", "leg")


def acceptances(groups: Iterable[SettingGroup]) -> dict[str, list[SettingGroup]]:
    """Return what test pieces must show, with the groups of welds that it holds for."""
    found: dict[str, list[SettingGroup]] = {}
    for group in groups:
        found.setdefault(group_acceptance(group), []).append(group)
    return found


def accepted(check: Inspection, view: RowView) -> str:
    """Return what a check accepts: its own words, then the limits of the row's welds that it names."""
    return joined((check.accept.rstrip("."), *view.limit_lines(check.limits)))


def group_acceptance(group: SettingGroup) -> str:
    """Return minimum and target weld diameter, or throat and leg; empty where the settings carry none."""
    figures = (*group.dialled, *group.derived)
    found = (value for key in ACCEPTED_KEYS for value in figures if stem(value.key) == key)
    return joined(f"{inside(value.label)} {amount_text(value)}" for value in found)
