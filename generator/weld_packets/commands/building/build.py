"""Build the websites of the orders that changed.

ORDER is an order's folder in instructions/ or its number; with names only those are built. The last line says which
file to open in a browser.

Example: packets build --all
"""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import click

from weld_packets.commands.shared.failures import INTERNAL_ERROR, fault_of, print_faults, problem_of
from weld_packets.commands.shared.memory import kept
from weld_packets.commands.shared.order_argument import orders_argument
from weld_packets.commands.shared.parallel import Progress, for_each, meanwhile, processes_option, processors
from weld_packets.commands.shared.root import in_plant
from weld_packets.errors import PacketError, Problem
from weld_packets.files import write_whole
from weld_packets.revisions.store.clock import moment_now
from weld_packets.site.build.as_built import is_as_built, is_current
from weld_packets.site.build.assets import store_is_whole
from weld_packets.site.build.site_card import Cards, folder_names, read_card
from weld_packets.sources.digests import OrderDigests
from weld_packets.sources.folders import FITTED, INSTRUCTIONS, KEPT_PACKETS, ORDER_FILE, SITES

if TYPE_CHECKING:
    from weld_packets.commands.shared.sites.worker import Worker

_BATCH = 250
"""Sites that one process looks at in one go."""
_LISTED = ".lists"
"""The file beside the pages over all orders: the register they were written from, and what is wrong between orders."""


@click.command(help=__doc__)
@orders_argument
@click.option("--all", "everything", is_flag=True, help="Also build what has not changed.")
@processes_option
@in_plant
def command(root: Path, orders: Sequence[str], *, everything: bool, processes: int) -> int:
    report = build(root, orders, everything=everything, processes=processes)
    for slug in report.removed:
        print(f"removed the site of {slug}: there is no such order any more")
    print(f"built {len(report.built)}, unchanged {report.unchanged}")
    print_faults(report.faults)
    if report.problems or report.between:
        raise PacketError((*report.problems, *report.between))
    if report.faults:
        return INTERNAL_ERROR
    print(f"open {report.landing}")
    return 0


@dataclass(frozen=True)
class Built:
    """What became of one order: its problems or an internal error, none where its site is built."""

    slug: str
    problems: tuple[Problem, ...] = ()
    fault: str = ""


@dataclass(frozen=True)
class BuildReport:
    """What a build did; ``between`` is what is wrong between orders that each are built."""

    built: tuple[str, ...]
    unchanged: int
    removed: tuple[str, ...]
    problems: tuple[Problem, ...]
    between: tuple[Problem, ...]
    landing: Path
    faults: tuple[str, ...] = ()


def build(root: Path, orders: Sequence[str], *, everything: bool, processes: int | None = None) -> BuildReport:
    """Build the sites of ``orders``, or of all orders, that are not current; with ``everything`` of all of them.

    An order whose sources are wrong keeps its old site. As many ``processes`` work as there are processors, unless
    given. Raises SourceError where the tables or a name are wrong.
    """
    from weld_packets.sources.orders.order_folders import order_names  # noqa: PLC0415 (only what hashing needs is loaded before)

    known = order_names(root)
    wanted = list(dict.fromkeys(orders)) or list(known)
    _check_known(root, set(wanted) - set(known))
    digests = OrderDigests(root)
    sites = root / SITES
    sites.mkdir(exist_ok=True)
    everything = everything or not store_is_whole(sites)
    processes = processes or processors()
    _worker.cache_clear()
    stale = wanted if everything else _stale(root, wanted, digests, processes)
    results = _built(root, stale, digests, processes)
    removed = () if orders else _remove_orphans(root, set(known))
    landing = sites / "index.html"
    between = None if results or removed or not landing.exists() else _noted(sites, digests)
    if between is None:
        from weld_packets.commands.shared.sites.all_orders import write_pages_over_all  # noqa: PLC0415 - slow to load

        sources = "" if everything else f"{digests.shared} {digests.register}"
        between = write_pages_over_all(root, Cards(sites), sources, _worker(root).archive if results else None)
        note = {
            "register": digests.register,
            "look": digests.register_look,
            "between": [problem.data for problem in between],
        }
        write_whole(sites / _LISTED, json.dumps(note).encode("ascii"))
    return BuildReport(
        built=tuple(result.slug for result in results if not result.problems and not result.fault),
        unchanged=len(wanted) - len(results),
        removed=removed,
        problems=tuple(dict.fromkeys(problem for result in results for problem in result.problems)),
        between=between,
        landing=landing,
        faults=tuple(f"{result.slug}: {result.fault}" for result in results if result.fault),
    )


def _stale(root: Path, slugs: Sequence[str], digests: OrderDigests, processes: int) -> list[str]:
    """Return the orders to build; where the one that was edited last is such, load what building takes meanwhile."""
    batches = [_Batch(root, slugs[at : at + _BATCH], digests, moment_now()) for at in range(0, len(slugs), _BATCH)]
    with meanwhile(batches, _stale_in, processes) as found:
        last = max(slugs, key=lambda slug: _edited(root, slug), default="")
        if last and _stale_in(_Batch(root, [last], digests, moment_now())):
            kept(lambda: _worker(root).prepare([last], digests))
        return [slug for batch in found() for slug in batch]


def _edited(root: Path, slug: str) -> int:
    """Return when the file of an order was written; 0 where it cannot be seen."""
    try:
        return os.stat(f"{root}/{INSTRUCTIONS}/{slug}/{ORDER_FILE}").st_mtime_ns  # noqa: PTH116 - ten thousand times
    except OSError:
        return 0


@dataclass(frozen=True)
class _Batch:
    """Orders of which one process says which are stale; picklable, so that a spawned process can take it."""

    root: Path
    slugs: Sequence[str]
    digests: OrderDigests
    now: datetime


def _stale_in(batch: _Batch) -> list[str]:
    """Return the orders whose sites are not there, not what their sources give, or touched since they were built."""
    sites = f"{batch.root / SITES}"  # paths of ten thousand sites take as long to put together as their notes to read
    return [slug for slug in batch.slugs if not _holds(f"{sites}/{slug}", batch.digests.of(slug), batch.now)]


def _holds(site: str, digest: str, now: datetime) -> bool:
    return is_current(site, digest, now) and is_as_built(site)


def _noted(sites: Path, digests: OrderDigests) -> tuple[Problem, ...] | None:
    """Return what is wrong between orders; None where the pages over all orders are of another register than this.

    The register is then read, and refused where somebody edited an entry: its name is still that of what it was.
    """
    noted = sites / _LISTED
    if not noted.is_file():
        return None
    try:
        note = json.loads(noted.read_bytes())
        same = (note["register"], note["look"]) == (digests.register, digests.register_look)
        return tuple(Problem(**each) for each in note["between"]) if same else None
    except (OSError, ValueError, KeyError, TypeError, RecursionError):  # whoever wrote it, the lists are written anew
        return None


def _check_known(root: Path, strangers: set[str]) -> None:
    if strangers:
        from weld_packets.sources.orders.orders import known_order  # noqa: PLC0415 - slow to load, and seldom needed

        for name in sorted(strangers):
            known_order(root, name)


@dataclass(frozen=True)
class _Job:
    """One order to build; picklable, so that a spawned process can take it."""

    root: Path
    slug: str
    digest: str


def _built(root: Path, slugs: Sequence[str], digests: OrderDigests, processes: int) -> list[Built]:
    if not slugs:
        return []
    kept(lambda: _worker(root).prepare(slugs, digests))
    jobs = [_Job(root, slug, digests.of(slug)) for slug in slugs]
    return list(Progress(len(jobs), sys.stderr).over(for_each(jobs, _build_one, processes)))


@cache
def _worker(root: Path) -> Worker:
    """Return this process's worker; a forked process inherits that of its parent."""
    from weld_packets.commands.shared.sites.worker import Worker  # noqa: PLC0415

    return Worker(root)


def _build_one(job: _Job) -> Built:
    try:
        _worker(job.root).build(job.slug, job.digest)
    except PacketError as error:
        return Built(job.slug, error.problems)
    except Exception as error:  # noqa: BLE001 (the other orders are built, whatever happens to one)
        problem = problem_of(error)
        return Built(job.slug, fault=fault_of(error)) if problem is None else Built(job.slug, (problem,))
    return Built(job.slug)


def _remove_orphans(root: Path, known: Collection[str]) -> tuple[str, ...]:
    """Remove the sites of orders that are gone; a folder that no build of ours made is left alone."""
    sites = root / SITES
    names = folder_names(sites) if sites.is_dir() else []
    orphans = tuple(name for name in names if name not in known and read_card(sites / name))
    for name in orphans:
        shutil.rmtree(sites / name)
    for path in (path for folder in (FITTED, KEPT_PACKETS) for path in (root / folder).glob("*.json")):
        if path.name.partition(".")[0] not in known:  # of the order itself, whatever is kept of it
            path.unlink(missing_ok=True)
    return orphans
