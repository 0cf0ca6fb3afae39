"""Changes as commands print them: what leads in words, the rest as counts; all of it, or data, on request."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from typing import Any

import click

from weld_packets.commands.shared.terminal import Command
from weld_packets.revisions.differences.changes import Change, change_lines
from weld_packets.site.pages.revisions.change_ranking import CLASSES, LEADING, class_of


def full_option(command: Command) -> Command:
    """Give ``command`` the option to print every change."""
    return click.option("--full", is_flag=True, help="Print every change, also those that follow and texts.")(command)


def changed_lines(changes: Sequence[Change], *, full: bool) -> tuple[str, ...]:
    """Return the changes line by line: all of them, or what leads, then how many of each other class."""
    if full or not changes:
        return change_lines(changes)
    leading = [each for each in changes if class_of(each) in LEADING]
    first = change_lines(leading) or ("no setting, weld, program or limit of acceptance changed",)
    count = Counter(class_of(each) for each in changes)
    others = [f"{name} ({count[name]})" for name in CLASSES[len(LEADING) :] if count[name]]
    return (*first, *([f"besides: {'; '.join(others)}: --full lists them"] if others else []))


def changes_data(changes: Iterable[Change]) -> list[dict[str, Any]]:
    """Return the changes as data for JSON, each with its class and its words."""
    return [
        {"class": class_of(each), "kind": type(each).__name__, "says": str(each)} | asdict(each) for each in changes
    ]
