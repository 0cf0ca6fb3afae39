"""The history of an order for auditors: what was in force when, every record, what changed, who settled what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from weld_packets.packet.records import OperationSheet, Packet, Picture
from weld_packets.revisions.differences.changes import Change, FiguresRetraced, WeldAdded, WeldChanged, WeldRemoved
from weld_packets.revisions.queries.history import HistoryRow
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.status.status import InForce
from weld_packets.site.pages.check_page import GROUP
from weld_packets.site.pages.dossier import Dossier, Edition
from weld_packets.site.pages.leading import parted
from weld_packets.site.pages.markup import render
from weld_packets.site.pages.settled import settled
from weld_packets.site.pages.siteplan import PageFragment, SearchEntry, Section

_MAXIMUM_NAMED = 10


@dataclass(frozen=True)
class Period:
    """What was in force from a day to another; ``until`` is empty where that is still so."""

    since: str
    until: str
    in_force: tuple[InForce, ...]


@dataclass(frozen=True)
class Issue:
    """One revision in the history: its release, its withdrawal if any, what changed, and diagrams over each other."""

    edition: Edition
    release: HistoryRow
    withdrawal: HistoryRow | None
    leading: list[Change]
    following: list[Change]
    retraced: list[Change]
    pictures: tuple[Picture, ...]


def history_page(dossier: Dossier) -> PageFragment:
    """Return the history page of an order."""
    issues = tuple(_issues(dossier))
    released = [issue.edition for issue in issues]
    current = next((edition for edition in released if edition is dossier.in_force), released[0])
    html = render(
        "history.html",
        dossier=dossier,
        issues=issues,
        periods=tuple(_periods(dossier)),
        current=current,
        settled=settled(dossier, current),
        short=short,
        calculations_page=lambda operation: f"operation-{operation.number}-calculations.html",
    )
    sections = tuple(Section(f"rev-{issue.edition.mark.lower()}", f"Revision {issue.edition.mark}") for issue in issues)
    entry = SearchEntry("History", "Who released what, when and why; what was in force on a date")
    return PageFragment(
        "history.html",
        "History",
        "History",
        html,
        group=GROUP,
        search=(entry,),
        sections=sections,
        scripts=("assets/history.js",),
        coded=False,
    )


def _periods(dossier: Dossier) -> Iterator[Period]:
    """Yield the periods, newest first; phases in which the same is in force are one."""
    merged: list[tuple[str, tuple[InForce, ...]]] = []
    for phase in dossier.phases:
        if not merged or merged[-1][1] != phase.found.in_force:
            merged.append((phase.since, phase.found.in_force))
    ends = [since for since, _ in merged[1:]] + [""]
    yield from reversed([Period(since, end, found) for (since, found), end in zip(merged, ends, strict=True)])


def _issues(dossier: Dossier) -> Iterator[Issue]:
    """Yield the issues, newest first."""
    editions = {edition.mark: edition for edition in dossier.editions}
    withdrawals = {operation.revision: operation for operation in dossier.history if operation.kind == "withdrawal"}
    for operation in reversed([operation for operation in dossier.history if operation.kind == "release"]):
        before = editions.get(operation.compared_with)
        edition = editions[operation.revision]
        leading, rest = parted(operation.changes)
        yield Issue(
            edition=edition,
            release=operation,
            withdrawal=withdrawals.get(operation.revision),
            leading=leading,
            following=[change for change in rest if not isinstance(change, FiguresRetraced)],
            retraced=[change for change in rest if isinstance(change, FiguresRetraced)],
            pictures=tuple(_overlays(before.packet, edition.packet, operation)) if before else (),
        )


def _overlays(old: Packet, new: Packet, issue: HistoryRow) -> Iterator[Picture]:
    """Yield a diagram for each row in which welds were added, moved or removed."""
    for operation in new.operations:
        before = _same_operation(old, operation)
        words = _altered_welds(before, operation, issue.changes) if before else {}
        if before and words:
            from weld_packets.diagrams.overlay import overlay_picture  # noqa: PLC0415 (drawing is slow to load)

            yield overlay_picture(f"rev-{issue.revision.lower()}-{operation.key}-welds", before, operation, words)


def _same_operation(old: Packet, operation: OperationSheet) -> OperationSheet | None:
    named = next((other for other in old.operations if other.name == operation.name), None)
    return named or next((other for other in old.operations if other.key == operation.key), None)


def _altered_welds(old: OperationSheet, new: OperationSheet, changes: Sequence[Change]) -> dict[str, str]:
    """Return what to write beside each weld that came, went or moved, by its key."""
    marks = {weld.key: weld.label for weld in (*old.geometry, *new.geometry)}
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
    return {key: marks[key] if brief else f"{marks[key]} {verb}" for key, verb in verbs.items() if key in marks}
