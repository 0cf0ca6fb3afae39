"""What each word of the command line calls, and how the answer is printed."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from weld_packets.commands.places import find_root
from weld_packets.errors import PacketError

if TYPE_CHECKING:
    from weld_packets.commands.publishing import Responsible

Chosen = argparse.Namespace
GOOD, FOUND_SOMETHING, USAGE = 0, 1, 2


def run(chosen: Chosen) -> int:
    """Run the chosen command and return its exit status."""
    return _COMMANDS[chosen.command](find_root(chosen.root), chosen)


def _build(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.building import build  # noqa: PLC0415 (a command loads only what it needs)

    report = build(root, chosen.orders, everything=chosen.all)
    for slug in report.removed:
        print(f"removed the site of {slug}: there is no such order any more")
    print(f"built {len(report.built)}, unchanged {report.unchanged}")
    if report.problems:
        raise PacketError(report.problems)
    print(f"open {report.landing}")
    return GOOD


def _check(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.checking import check  # noqa: PLC0415

    report = check(root, chosen.orders)
    for line in report.lines:
        print(line)
    if report.problems:
        raise PacketError(report.problems)
    return GOOD


def _settings(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.checking import settings_data, settings_text  # noqa: PLC0415

    if chosen.json:
        plain = "utf" not in (sys.stdout.encoding or "").lower()
        json.dump(settings_data(root, chosen.order), sys.stdout, indent=2, ensure_ascii=plain)
        print()
    else:
        print(settings_text(root, chosen.order))
    return GOOD


def _serve(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.serving import serve  # noqa: PLC0415

    serve(root, chosen.order, chosen.port, print)
    return GOOD


def _export(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.exporting import export  # noqa: PLC0415

    print(f"wrote {export(root, chosen.order, chosen.to)}")
    return GOOD


def _schemas(root: Path, _: Chosen) -> int:
    from weld_packets.commands.schemas import schemas  # noqa: PLC0415

    return _print_all([f"wrote {path}" for path in schemas(root)])


def _release(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.publishing import release  # noqa: PLC0415

    return _print_all(release(root, chosen.order, _responsible(chosen), chosen.digest))


def _withdraw(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.publishing import withdraw  # noqa: PLC0415

    return _print_all(withdraw(root, chosen.order, chosen.revision, _responsible(chosen)))


def _responsible(chosen: Chosen) -> Responsible:
    from weld_packets.commands.publishing import Responsible  # noqa: PLC0415

    if bool(chosen.key) != bool(chosen.private):
        raise SystemExit(_usage("--key and --private go together"))
    return Responsible(chosen.author, chosen.approver, chosen.reason, chosen.effective, chosen.key, chosen.private)


def _usage(message: str) -> int:
    print(message, file=sys.stderr)
    return USAGE


def _key(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.publishing import make_key_pair  # noqa: PLC0415

    print(f"public key {make_key_pair(root, chosen.name, chosen.private)}; keep {chosen.private} to yourself")
    return GOOD


def _history(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.looking_back import history_lines  # noqa: PLC0415

    return _print_all(list(history_lines(root, chosen.order)) or [f"{chosen.order} has no released revision"])


def _diff(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.looking_back import diff_lines  # noqa: PLC0415

    return _print_all(diff_lines(root, chosen.order, chosen.before, chosen.after) or ["no difference"])


def _as_of(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.looking_back import as_of_lines  # noqa: PLC0415

    return _print_all(as_of_lines(root, chosen.order, chosen.date))


def _where_used(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.looking_back import where_used_lines  # noqa: PLC0415

    return _print_all(where_used_lines(root, chosen.table, chosen.operation, chosen.revision))


def _impact(root: Path, _: Chosen) -> int:
    from weld_packets.commands.looking_back import impacts  # noqa: PLC0415

    found = impacts(root)
    changed = [impact for impact in found if impact.changed]
    _print_all([line for impact in changed for line in impact.lines])
    print(f"{len(changed)} of {len(found)} revisions in force, or to come, would change")
    return FOUND_SOMETHING if changed else GOOD


def _register(root: Path, _: Chosen) -> int:
    from weld_packets.commands.looking_back import register_lines  # noqa: PLC0415

    return _print_all(list(register_lines(root)))


def _verify(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.looking_back import verification_lines, verify  # noqa: PLC0415

    verification = verify(root, chosen.known)
    _print_all(verification_lines(verification))
    return FOUND_SOMETHING if verification.findings else GOOD


def _bench(root: Path, chosen: Chosen) -> int:
    from weld_packets.commands.benching import bench  # noqa: PLC0415

    for figure in bench(root, chosen.orders):
        print(figure, flush=True)
    return GOOD


def _print_all(lines: list[str]) -> int:
    for line in lines:
        print(line)
    return GOOD


_COMMANDS: dict[str, Callable[[Path, Chosen], int]] = {
    "build": _build,
    "check": _check,
    "settings": _settings,
    "serve": _serve,
    "export": _export,
    "schemas": _schemas,
    "release": _release,
    "withdraw": _withdraw,
    "key": _key,
    "history": _history,
    "diff": _diff,
    "as-of": _as_of,
    "where-used": _where_used,
    "impact": _impact,
    "register": _register,
    "verify": _verify,
    "bench": _bench,
}
