"""Checks and warnings of an operation, as printed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from weld_packets.grouping import grouped
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.settings import Check, OperationWarning, SettingGroup
from weld_packets.packet.records.values import Remark, Value

_NO_GROUP = ""


@dataclass(frozen=True)
class _Found:
    """One warning or check where it was found: what it is about, and the key of the group of settings."""

    warning: OperationWarning
    group: str


def warnings_among(
    groups: Sequence[SettingGroup], values: Iterable[Value], checks: Iterable[Check]
) -> tuple[OperationWarning, ...]:
    """Return what is to be looked at in groups of settings, and in values and checks of the whole operation.

    What reads the same is given once, with everything that it is about and the groups that it concerns.
    """
    found = [
        *(each for group in groups for each in _in_group(group)),
        *_of_values(values, _NO_GROUP),
        *_of_checks(checks, _NO_GROUP),
    ]
    together = grouped((each.warning.model_copy(update={"about": ()}), each) for each in found)
    return tuple(_gathered(warning, same, groups) for warning, same in together.items())


def warnings_of(operation: OperationSheet) -> tuple[OperationWarning, ...]:
    """Return the list of an operation; a record that was made before operations carried one is read through for it."""
    return operation.warnings or warnings_among(operation.groups, operation.times, operation.checks)


def _in_group(group: SettingGroup) -> Iterator[_Found]:
    yield from _of_values((*group.dialled, *group.derived), group.key)
    yield from _of_checks(group.checks, group.key)


def _of_values(values: Iterable[Value], group: str) -> Iterator[_Found]:
    for value in values:
        for remark in value.remarks:
            if remark.weight == "warning":
                yield _Found(_warning("warning", value.label, remark), group)


def _of_checks(checks: Iterable[Check], group: str) -> Iterator[_Found]:
    for check in checks:
        if check.outcome != "passed":
            yield _Found(_warning(check.outcome, check.subject, check), group)


def _warning(weight: Literal["warning", "not checked"], about: str, said: Remark | Check) -> OperationWarning:
    return OperationWarning(
        weight=weight,
        text=said.text,
        about=(about,),
        source=said.source,
        do=said.do,
        stage=said.stage,
    )


def _gathered(warning: OperationWarning, same: Sequence[_Found], groups: Sequence[SettingGroup]) -> OperationWarning:
    keys = {each.group for each in same}
    concerned = [] if _NO_GROUP in keys else [group for group in groups if group.key in keys]
    if len(concerned) == len(groups):
        concerned = []
    return warning.model_copy(
        update={
            "about": tuple(dict.fromkeys(about for each in same for about in each.warning.about)),
            "groups": tuple(group.name or group.title for group in concerned),
            "welds": tuple(weld for group in concerned for weld in group.welds),
        }
    )
