"""What commands cost: time on the clock, time of processors, memory; and what MkDocs alone costs for the same pages."""

from __future__ import annotations

import re
import resource
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

_PACKETS = "import sys; from weld_packets.commands import main; sys.exit(main())"
_BODY = re.compile(
    r'<div id="page"[^>]*>(.*)</div>(?:\s*<div data-code=.*?</div>)*(?:\s*<details class="choices.*?</details>)?'
    r'(?:\s*<p class="stamp-detail">.*?</p>)?\s*<footer class="packet-foot">',
    re.DOTALL,
)
_STOCK = "site_name: Dials\nuse_directory_urls: false\ntheme: {name: material, font: false}\nplugins: [search]\n"


@dataclass(frozen=True)
class Spent:
    """Seconds on the clock, seconds of processors, and what was written to standard error.

    Processors are those of all processes that were started and waited for.
    """

    elapsed: float
    processor: float
    output: str = ""

    def __add__(self, other: Spent) -> Spent:
        """Return the sum of both."""
        return Spent(self.elapsed + other.elapsed, self.processor + other.processor)

    def __truediv__(self, count: int) -> Spent:
        """Return the share of one of ``count``."""
        return Spent(self.elapsed / count, self.processor / count)


def packets(plant: Path, *words: str) -> Spent:
    """Return what a command costs; fail where it does."""
    return spent(lambda: _run([sys.executable, "-c", _PACKETS, "--root", str(plant), *words]))


def spent(work: Callable[[], str]) -> Spent:
    """Return what some work of child processes costs; it returns what they wrote to standard error."""
    start, before = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
    output = work()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return Spent(time.perf_counter() - start, processor, output)


def largest_process(plant: Path, *words: str) -> float:
    """Return the memory in MB of the largest process of a command, its own or one that it has started."""
    peak = "import resource as r; print(max(r.getrusage(w).ru_maxrss for w in (r.RUSAGE_SELF, r.RUSAGE_CHILDREN)))"
    code = f"import sys; from weld_packets.commands import main; status = main(); {peak}; sys.exit(status)"
    command = [sys.executable, "-c", code, "--root", str(plant), *words]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return int(done.stdout.split()[-1]) * (1 if sys.platform == "darwin" else 1024) / 1e6


def cold_mkdocs(sites: Sequence[Path], folder: Path, processes: int) -> Spent:
    """Return what it costs per site to build its pages with MkDocs and its theme alone, cold, on ``processes``."""
    projects = [_project(site, folder / site.name) for site in sites]
    commands = [
        [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", str(project / "mkdocs.yml")]
        for project in projects
    ]

    def build() -> str:
        with ThreadPoolExecutor(processes) as pool:
            return "".join(pool.map(_run, commands))

    return spent(build) / len(projects)


def bodies(site: Path) -> dict[str, str]:
    """Return what each page of a site holds inside its frame, by the page's name."""
    found: dict[str, str] = {}
    for page in site.glob("*.html"):
        body = _BODY.search(page.read_text(encoding="utf-8"))
        assert body is not None, page
        found[page.stem] = body.group(1)
    return found


def own_bytes(site: Path) -> int:
    """Return the bytes of a site that it does not share with others."""
    return sum(found.st_size for path in site.rglob("*.*") if (found := path.stat()).st_nlink == 1)


def _project(site: Path, project: Path) -> Path:
    """Write a plain MkDocs project whose Markdown pages hold the bodies of the pages of ``site``."""
    (project / "docs").mkdir(parents=True)
    (project / "mkdocs.yml").write_text(_STOCK, encoding="utf-8")
    for name, body in bodies(site).items():
        (project / "docs" / f"{name}.md").write_text(body, encoding="utf-8")
    shutil.copytree(site / "assets" / "signs", project / "docs" / "assets" / "signs")
    return project


def _run(command: Sequence[str]) -> str:
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"{' '.join(command)}\n{done.stderr[-2000:]}"
    return done.stderr
