"""The pages about all revisions of an order: history, where values are from, the check of a printed sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Control, Packet
from weld_packets.packet.records.settings import Picture
from weld_packets.packet.records.values import Value
from weld_packets.revisions.differences.changes import (
    Change,
    FieldPath,
    SettingChanged,
    WeldAdded,
    WeldChanged,
    WeldRemoved,
)
from weld_packets.revisions.queries.counterparts import same_operation
from weld_packets.revisions.queries.history import HistoryEntry
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.status.status import InForce
from weld_packets.site.pages.operation_pages import CALCULATIONS, operation_page
from weld_packets.site.pages.revisions.change_ranking import (
    LEADING,
    class_of,
    gathered,
    in_classes,
    is_for_history,
    split_changes,
)
from weld_packets.site.pages.revisions.order_history import OrderHistory, RevisionView
from weld_packets.site.pages.revisions.set_up_history import set_up_section
from weld_packets.site.pages.site_plan import PageFragment, PageSection, SearchEntry
from weld_packets.site.pages.templating import render

_GROUP = "Records"
_MAXIMUM_NAMED = 10
_Place = tuple[str, str, str]


@dataclass(frozen=True)
class InForcePeriod:
    """What was in force from a day to another, with the time where it turned during the day.

    ``until`` is empty where that is still so.
    """

    since: str
    until: str
    in_force: tuple[InForce, ...]


@dataclass(frozen=True)
class Issue:
    """One revision in the history: its release, its withdrawal if any, what changed, and diagrams over each other.

    ``counts`` are those of all changes by class; with ``keeps_what_leads`` none of them is one that leads.
    """

    view: RevisionView
    release: HistoryEntry
    withdrawal: HistoryEntry | None
    primary: list[Change]
    secondary: list[Change]
    unseen: list[str]
    counts: list[tuple[str, int]]
    keeps_what_leads: bool
    pictures: tuple[Picture, ...]


def history_page(history: OrderHistory) -> PageFragment:
    """Return the history page of an order."""
    issues = tuple(_issues(history))
    released = [issue.view for issue in issues]
    current = next((view for view in released if view is history.in_force), released[0])
    html = render(
        "revisions/history.html",
        history=history,
        issues=issues,
        periods=tuple(_periods(history)),
        current=current,
        last_changes=last_changes(history, current),
        short=short,
        anchors={each.number: f"nonconformity-{at}" for at, each in enumerate(history.nonconformities, 1)},
        page_of=operation_page,
        calculations_page=CALCULATIONS,
        set_ups=set_up_section(history.set_ups),
    )
    sections = tuple(PageSection(f"rev-{issue.view.name.lower()}", f"Revision {issue.view.name}") for issue in issues)
    entry = SearchEntry("History", "Who released what, when and why; what was in force on a date")
    return PageFragment(
        "history.html",
        "History",
        "History",
        html,
        group=_GROUP,
        search=(entry,),
        sections=sections,
        scripts=("assets/history.js",),
        coded=False,
    )


def check_page() -> PageFragment:
    """Return the page; its script answers from the data script of the order."""
    title = "Check a printed sheet"
    entry = SearchEntry(title, "Scan or type the code of a printed sheet: is it in force")
    return PageFragment(
        "check.html",
        title,
        title,
        render("revisions/check.html"),
        group=_GROUP,
        search=(entry,),
        scripts=("assets/check.js",),
        coded=False,
    )


def _periods(history: OrderHistory) -> Iterator[InForcePeriod]:
    """Yield the periods, newest first; periods in which the same is in force are one."""
    merged: list[tuple[str, tuple[InForce, ...]]] = []
    for period in history.periods:
        if not merged or merged[-1][1] != period.found.in_force:
            turned = f" {period.found.turned}" if period.found.turned else ""
            merged.append((f"{period.since}{turned}", period.found.in_force))
    ends = [since for since, _ in merged[1:]] + [""]
    yield from reversed([InForcePeriod(since, end, found) for (since, found), end in zip(merged, ends, strict=True)])


def _issues(history: OrderHistory) -> Iterator[Issue]:
    """Yield the issues, newest first."""
    views = {view.name: view for view in history.views}
    withdrawals = {entry.revision: entry for entry in history.entries if entry.kind == "withdrawal"}
    for entry in reversed([entry for entry in history.entries if entry.kind == "release"]):
        before = views.get(entry.compared_with)
        view = views[entry.revision]
        primary, secondary = split_changes(entry.changes)
        yield Issue(
            view=view,
            release=entry,
            withdrawal=withdrawals.get(entry.revision),
            primary=primary,
            secondary=secondary,
            counts=[(name, len(same)) for name, same in in_classes(entry.changes)],
            keeps_what_leads=not any(class_of(change) in LEADING for change in entry.changes),
            unseen=gathered(change for change in entry.changes if is_for_history(change)),
            pictures=tuple(overlays(f"rev-{entry.revision.lower()}", before.packet, view.packet, entry.changes))
            if before
            else (),
        )


def overlays(key: str, old: Packet, new: Packet, changes: Sequence[Change]) -> Iterator[Picture]:
    """Yield a diagram for each operation in which welds were added, moved or removed; its key begins with ``key``."""
    for operation in new.operations:
        before = same_operation(operation, old)
        words = _altered_welds(before, operation, changes) if before else {}
        if before and words:
            from weld_packets.diagrams.overlay import overlay_picture  # noqa: PLC0415 (drawing is slow to load)

            yield overlay_picture(f"{key}-{operation.key}-welds", before, operation, words)


def _altered_welds(old: OperationSheet, new: OperationSheet, changes: Sequence[Change]) -> dict[str, str]:
    """Return what to write beside each weld that came, went or moved, by its key."""
    drawn = {weld.key for weld in (*old.geometry, *new.geometry)}
    verbs: dict[str, str] = {}
    for change in changes:
        if not any(path[:2] == ("operations", new.key) for path in change.paths):
            continue
        if isinstance(change, WeldAdded):
            verbs[change.weld] = "new"
        elif isinstance(change, WeldRemoved):
            verbs[change.weld] = "removed"
        elif isinstance(change, WeldChanged) and change.distance:
            verbs[change.weld] = f"moved {change.distance} mm"
    brief = len(verbs) > _MAXIMUM_NAMED
    return {key: key if brief else f"{key} {verb}" for key, verb in verbs.items() if key in drawn}


# ---------------------------------------------------------------- where a value is from


@dataclass(frozen=True)
class LastChange:
    """One setting with the control of the revision that gave it its present value, and why that was released.

    ``before`` is the value that it replaced, empty where the setting came with that revision; ``because`` are the
    causes that were found in the two calculations.
    """

    group: str
    value: Value
    control: Control
    reason: str
    before: str = ""
    because: tuple[str, ...] = ()


def last_changes(history: OrderHistory, shown: RevisionView) -> list[tuple[OperationSheet, list[LastChange]]]:
    """Return, operation by operation, every dialled setting of the view ``shown`` with where its value is from."""
    reasons = {entry.revision: entry.reason for entry in history.entries if entry.kind == "release"}
    found: dict[_Place, LastChange] = {}
    for view in _up_to(history, shown):
        changed = _changed(view)
        for place, group, value in _settings(view.packet):
            known = found.get(place)
            if known is None or _reading(known.value) != _reading(value):
                change = changed.get(("operations", place[0], "groups", place[1], "dialled", place[2]))
                before, because = (change.before, change.because) if change else ("", ())
                found[place] = LastChange(group, value, view.control, reasons[view.name], before, because)
    return [
        (operation, [found[place] for place, _, _ in _operation_settings(operation)])
        for operation in shown.packet.operations
    ]


def _up_to(history: OrderHistory, shown: RevisionView) -> list[RevisionView]:
    """Return the releases from the first to ``shown``."""
    marks = [entry.revision for entry in history.entries if entry.kind == "release"]
    views = {view.name: view for view in history.views}
    return [views[mark] for mark in marks[: marks.index(shown.name) + 1]]


def _changed(view: RevisionView) -> dict[FieldPath, SettingChanged]:
    found = (change for change in view.changes if isinstance(change, SettingChanged))
    return {path: change for change in found for path in change.paths}


def _settings(packet: Packet) -> Iterator[tuple[_Place, str, Value]]:
    for operation in packet.operations:
        yield from _operation_settings(operation)


def _operation_settings(operation: OperationSheet) -> Iterator[tuple[_Place, str, Value]]:
    for group in operation.groups:
        for value in group.dialled:
            yield (operation.key, group.key, value.key), group.title, value


def _reading(value: Value) -> object:
    return value.amount, value.outside
