"""Measure speed and memory on generated orders.

Each speed stands beside what a cold `mkdocs build` of the same pages takes.
"""

from __future__ import annotations

import os
import platform
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import click

from weld_packets.commands.shared.plant import INSTRUCTIONS, SITES, in_plant
from weld_packets.errors import Problem, SourceError
from weld_packets.site.build.fleet import PROCESSES

_COPIED = ("tables", "site_overrides", "mkdocs.yml")
_ORDER_NUMBER = re.compile(r"^order:.*$", re.MULTILINE)
_QUANTITY = re.compile(r"^quantity: *(\d+)", re.MULTILINE)
_OPERATION = re.compile(r"^(?=  - name:)", re.MULTILINE)
_WELD = re.compile(r"^(?= +- (?:\{id: \w+, robot:|id: \w+[^\n]*\n +robot:))", re.MULTILINE)
_SIZES = re.compile(
    r"\b(?:points|start|via|to): \[[^a-zA-Z#]*\]|\b(?:x|y|z|offset|thickness|throat|leg): -?[\d.]+(?= ?[a-z])"
)
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_PROGRAMS = re.compile(r"\bprograms: \{.*\}")
_PROGRAM = re.compile(r"(?<=: )\w+")
_KEPT_ROWS = slice(
    1, 3
)  # of the demo an arc operation in three views and a spot operation: the nearest to 8 pages and 8 diagrams
_COMPARED = 96  # enough that the start of the processes weighs little, as it does in a plant's thousands
_STOCK_BUILDS = 24
_SCALES, _SCALE_STRIDE, _LARGEST_GROWTH = 1001, 389, Decimal("0.015")
"""How many sizes the parts have, how far apart those of one order and the next lie, and how much the largest is larger.

Grown as a whole a part keeps its shape, so that every weld stays on its components. It grows by little, because a chart
makes few sizes of weld on one thickness.
"""
_MEASURED_TO = Decimal("0.001")
_SMALL = 100
_ASKED_PAGES = 8  # the size of order that the limit on bytes is meant for
_PACKETS = "import sys; from weld_packets.commands import main; sys.exit(main())"
_BODY = re.compile(r'<div id="page"[^>]*>(.*)</div>\s*</article>', re.DOTALL)
_STOCK = "site_name: Bench\nuse_directory_urls: false\ntheme: {name: material, font: false}\nplugins: [search]\n"


@click.command(help=__doc__)
@click.option(
    "--orders",
    type=click.IntRange(1),
    default=1000,
    show_default=True,
    help="How many orders the large measurements use.",
)
@in_plant
def command(root: Path, orders: int) -> None:
    for figure in bench(root, orders):
        print(figure)


@dataclass(frozen=True)
class Figure:
    """One measured figure; ``aim`` says what it should be, where anything is asked."""

    name: str
    value: float
    unit: str
    aim: str = ""

    def __str__(self) -> str:
        """Return the figure in one line."""
        aim = f"   ({self.aim})" if self.aim else ""
        return f"{self.name:<58} {self.value:>9.3f} {self.unit}{aim}"


@dataclass(frozen=True)
class Spent:
    """Seconds on the clock, and of processors in all processes that were started and waited for."""

    elapsed: float
    processor: float

    def __add__(self, other: Spent) -> Spent:
        """Return the sum of both."""
        return Spent(self.elapsed + other.elapsed, self.processor + other.processor)

    def __truediv__(self, count: int) -> Spent:
        """Return the share of one of ``count``."""
        return Spent(self.elapsed / count, self.processor / count)


def bench(root: Path, orders: int) -> Iterator[Figure]:
    """Yield the figures as they are measured, on ``orders`` copies of the workspace's first order.

    Raises SourceError when there is no order to copy, or when a measured build fails.
    """
    yield Figure("processors of this machine", os.cpu_count() or 0, f"with Python {platform.python_version()}")
    with tempfile.TemporaryDirectory(prefix="packets-bench-") as folder:
        base = Path(folder)
        yield from _compare(root, base / "compared")
        yield from _scale(root, base / "scale", orders)


def generate(root: Path, target: Path, count: int) -> None:
    """Make a workspace in ``target`` that holds ``count`` orders of two operations, each other than the rest.

    Each has its own number, quantity, programs and part: larger as a whole, with its sheets and welds, and with
    another weld of each row left out. Else what is kept of one order would answer for the next.
    """
    sample = _sample(root)
    for name in _COPIED:
        source = root / name
        copy: Callable[[Path, Path], object] = shutil.copytree if source.is_dir() else shutil.copyfile
        target.mkdir(parents=True, exist_ok=True)
        if not (target / name).exists():
            copy(source, target / name)
    text = (sample / "order.yaml").read_text(encoding="utf-8")
    for number in range(count):
        folder = target / INSTRUCTIONS / f"bench-{number:05}"
        if not folder.exists():
            shutil.copytree(sample, folder, ignore=shutil.ignore_patterns("released"))
            (folder / "order.yaml").write_text(_varied(text, number), encoding="utf-8")


def _varied(text: str, number: int) -> str:
    head, *operations = _OPERATION.split(text)
    renamed = _ORDER_NUMBER.sub(f"order: BENCH-{number:05}", head, count=1)
    counted = _QUANTITY.sub(lambda found: f"quantity: {int(found.group(1)) + number}", renamed, count=1)
    return counted + "".join(_varied_row(operation, number) for operation in operations[_KEPT_ROWS] or operations)


def _varied_row(operation: str, number: int) -> str:
    before, *welds = _WELD.split(operation)
    if len(welds) > 1:
        del welds[number % (len(welds) - 1)]  # never the last: what follows it may be another key of the operation
    scale = 1 + _LARGEST_GROWTH * (number * _SCALE_STRIDE % _SCALES) / _SCALES
    grown = _SIZES.sub(lambda found: _grown(found.group(), scale), before + "".join(welds))
    return _PROGRAMS.sub(lambda found: _PROGRAM.sub(rf"\g<0>-{number:05}", found.group()), grown)


def _grown(sizes: str, scale: Decimal) -> str:
    return _NUMBER.sub(lambda found: _plain((Decimal(found.group()) * scale).quantize(_MEASURED_TO)), sizes)


def _plain(size: Decimal) -> str:
    """Return a size without trailing zeros, which would claim that it is known better than it was stated."""
    return f"{size.normalize():f}"


def _sample(root: Path) -> Path:
    found = sorted(path.parent for path in (root / INSTRUCTIONS).glob("*/order.yaml"))
    if not found:
        place = str(root / INSTRUCTIONS)
        raise SourceError([Problem(place, 0, "", "", "there is no order to copy", "run it in a workspace with orders")])
    return found[0]


def _compare(root: Path, workspace: Path) -> Iterator[Figure]:
    """Measure builds of our own before and after the stock ones: a machine slows as it warms."""
    generate(root, workspace, _COMPARED)
    before = _spent(lambda: _build(workspace))
    sites = sorted(path.parent for path in (workspace / SITES).glob("*/card.json"))
    projects = [_stock_project(site, workspace / "stock" / site.name) for site in sites[:_STOCK_BUILDS]]
    stock = _spent(lambda: _stock_builds(projects)) / len(projects)
    shutil.rmtree(workspace / SITES)
    ours = (before + _spent(lambda: _build(workspace))) / (2 * _COMPARED)
    yield Figure("pages of an order", len(list(projects[0].glob("docs/*.md"))), "pages")
    yield Figure("diagrams of an order", _diagrams(projects[0] / "docs"), "diagrams")
    for name, spent in (("whole pipeline", ours), ("cold mkdocs build of the same pages", stock)):
        yield Figure(f"{name}, {PROCESSES} processes, per order", spent.elapsed * 1000, "ms")
        yield Figure(f"{name}, processor time per order", spent.processor * 1000, "ms")
    yield Figure("ratio", ours.elapsed / stock.elapsed, "", "at most 0.25, aim 0.20")
    yield Figure("ratio of processor times", ours.processor / stock.processor, "", "the same on a busy machine")


def _scale(root: Path, workspace: Path, orders: int) -> Iterator[Figure]:
    small = min(_SMALL, orders)
    generate(root, workspace, small)
    _build(workspace)
    yield Figure(f"largest process after building {small} orders", _peak(), "MB")
    generate(root, workspace, orders)
    spent = _spent(lambda: _build(workspace)).elapsed
    yield Figure(f"building the other {orders - small} orders", spent, "s")
    yield Figure(f"largest process after building {orders} orders", _peak(), "MB", "flat")
    yield Figure(f"{orders} unchanged orders", _spent(lambda: _build(workspace)).elapsed, "s", "under 1 s for 1,000")
    changed = workspace / INSTRUCTIONS / "bench-00000" / "order.yaml"
    changed.write_text(changed.read_text(encoding="utf-8") + "# changed\n", encoding="utf-8")
    yield Figure(
        f"one changed order among {orders}", _spent(lambda: _build(workspace)).elapsed, "s", "under 1.5 s for 1,000"
    )
    own, pages = _own_bytes(workspace) / 1e6, len(list((workspace / SITES / "bench-00000").glob("*.html")))
    yield Figure(f"an order's site of {pages} pages beside the shared assets", own, "MB")
    yield Figure(f"the same for {_ASKED_PAGES} pages", own / pages * _ASKED_PAGES, "MB", "at most 0.5")


def _spent(work: Callable[[], object]) -> Spent:
    start, before = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
    work()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Spent(time.perf_counter() - start, processor)


def _build(workspace: Path) -> None:
    _run([sys.executable, "-c", _PACKETS, "--root", str(workspace), "build"])


def _run(command: Sequence[str]) -> None:
    done = subprocess.run(command, capture_output=True, text=True, check=False)  # noqa: S603 (our own command)
    if done.returncode:
        said = (done.stderr or done.stdout).strip()[-2000:]
        raise SourceError([Problem("", 0, "", " ".join(command), f"a measured build failed:\n{said}", "mend it first")])


def _stock_project(site: Path, project: Path) -> Path:
    """Write a plain MkDocs project whose Markdown pages hold the bodies of the pages of ``site``."""
    (project / "docs").mkdir(parents=True)
    (project / "mkdocs.yml").write_text(_STOCK, encoding="utf-8")
    for page in site.glob("*.html"):
        body = _BODY.search(page.read_text(encoding="utf-8"))
        (project / "docs" / f"{page.stem}.md").write_text(body.group(1) if body else "", encoding="utf-8")
    shutil.copytree(site / "assets" / "signs", project / "docs" / "assets" / "signs")
    return project


def _stock_builds(projects: Sequence[Path]) -> None:
    commands = [
        [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", str(project / "mkdocs.yml")]
        for project in projects
    ]
    with ThreadPoolExecutor(PROCESSES) as pool:
        list(pool.map(_run, commands))


def _diagrams(folder: Path) -> int:
    pages = (path.read_text(encoding="utf-8") for path in folder.glob("operation-*"))
    return sum(page.count('<figure class="diagram">') for page in pages)


def _peak() -> float:
    """Return the memory of the largest process that this one has waited for, in MB."""
    factor = 1 if sys.platform == "darwin" else 1024
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * factor / 1e6


def _own_bytes(workspace: Path) -> int:
    site = workspace / SITES / "bench-00000"
    return sum(found.st_size for found in map(os.stat, site.rglob("*.*")) if found.st_nlink == 1)
