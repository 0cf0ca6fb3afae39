"""What each word of the command line calls, and how the answer is printed."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path

from generator.cli.words import Chosen
from generator.errors import PacketError
from generator.workflow.places import find_root

GOOD, FOUND_SOMETHING = 0, 1


def run(name: str, chosen: Chosen) -> int:
    """Run the command ``name`` and return its exit status."""
    return _COMMANDS[name](find_root(chosen.root), chosen)


def _build(root: Path, chosen: Chosen) -> int:
    from generator.workflow.building import build  # noqa: PLC0415 (a command loads only what it needs)

    report = build(root, chosen.orders, everything=chosen.all)
    for slug in report.removed:
        print(f"removed the site of {slug}: there is no such order any more")
    print(f"built {len(report.built)}, unchanged {report.unchanged}")
    if report.problems:
        raise PacketError(report.problems)
    print(f"open {report.landing}")
    return GOOD


def _check(root: Path, chosen: Chosen) -> int:
    from generator.workflow.checking import check  # noqa: PLC0415

    report = check(root, chosen.orders)
    for line in report.lines:
        print(line)
    if report.problems:
        raise PacketError(report.problems)
    return GOOD


def _settings(root: Path, chosen: Chosen) -> int:
    from generator.workflow.checking import settings_data, settings_text  # noqa: PLC0415

    if chosen.json:
        json.dump(settings_data(root, chosen.order), sys.stdout, indent=2, ensure_ascii=False)
        print()
    else:
        print(settings_text(root, chosen.order))
    return GOOD


def _serve(root: Path, chosen: Chosen) -> int:
    from generator.workflow.serving import serve  # noqa: PLC0415

    serve(root, chosen.order, chosen.port, print)
    return GOOD


def _export(root: Path, chosen: Chosen) -> int:
    from generator.workflow.exporting import export  # noqa: PLC0415

    print(f"wrote {export(root, chosen.order, chosen.to)}")
    return GOOD


def _schemas(root: Path, _: Chosen) -> int:
    from generator.sources.schemas import write_schemas  # noqa: PLC0415

    for path in write_schemas(root):
        print(f"wrote {path}")
    return GOOD


_COMMANDS: dict[str, Callable[[Path, Chosen], int]] = {
    "build": _build,
    "check": _check,
    "settings": _settings,
    "serve": _serve,
    "export": _export,
    "schemas": _schemas,
}
