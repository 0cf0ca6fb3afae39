"""The wheel is whole: installed where nothing else of the program is, it starts a plant and builds an order of it."""

from __future__ import annotations

import shutil
import subprocess
import sys
import sysconfig
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from weld_packets import __version__

ROOT = Path(__file__).resolve().parent.parent
PAGES = ("README.md", "instructions/README.md", "tables/README.md")
SOURCE = ("generator", "pyproject.toml", *PAGES)


@dataclass(frozen=True)
class Built:
    """A wheel, the checkout and the commit that it was built from, and what git holds of the program."""

    wheel: Path
    checkout: Path
    commit: str
    files: frozenset[str]


Packets = Callable[..., str]
"""Runs the command of the installed wheel in a folder and returns what it prints."""


def run(*words: str | Path, cwd: Path) -> str:
    done = subprocess.run([str(word) for word in words], cwd=cwd, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """A wheel of the present sources, built from a repository of their own: so its commit is known."""
    folder = tmp_path_factory.mktemp("wheel")
    checkout = folder / "checkout"
    tracked = run("git", "ls-files", "--cached", "--others", "--exclude-standard", *SOURCE, cwd=ROOT).splitlines()
    for name in tracked:
        (checkout / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(ROOT / name, checkout / name)
    run("git", "init", "-q", cwd=checkout)
    run("git", "add", ".", cwd=checkout)
    run("git", "-c", "user.name=t", "-c", "user.email=t@example.com", "commit", "-qm", "x", cwd=checkout)
    commit = run("git", "rev-parse", "HEAD", cwd=checkout).strip()
    pip = (sys.executable, "-m", "pip", "-q", "--disable-pip-version-check", "wheel", "--no-deps", "--no-index")
    run(*pip, "--no-build-isolation", "--wheel-dir", folder, checkout, cwd=folder)
    [wheel] = folder.glob("*.whl")
    program = {name.removeprefix("generator/") for name in tracked if name.startswith("generator/weld_packets/")}
    return Built(wheel, checkout, commit, frozenset(program))


@pytest.fixture(scope="module")
def packets(built: Built, tmp_path_factory: pytest.TempPathFactory) -> Packets:
    """The wheel alone in an environment of its own; the libraries are those of the running one, which nothing fetches.

    Of that environment only the folder itself is on the path, not what its own .pth files add: no checkout is.
    """
    venv = tmp_path_factory.mktemp("bare")
    run(sys.executable, "-m", "venv", "--without-pip", venv, cwd=venv)
    programs = venv / ("Scripts" if sys.platform == "win32" else "bin")
    pip = (sys.executable, "-m", "pip", "-q", "--disable-pip-version-check", "--python", programs / "python")
    run(*pip, "install", "--no-deps", "--no-index", built.wheel, cwd=venv)
    own = run(programs / "python", "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=venv).strip()
    Path(own, "libraries.pth").write_text(f"{sysconfig.get_path('purelib')}\n", encoding="utf-8")
    return lambda *words, cwd: run(programs / "packets", *words, cwd=cwd)


def test_the_wheel_holds_every_file_of_the_program(built: Built) -> None:
    with zipfile.ZipFile(built.wheel) as archive:
        held = {name for name in archive.namelist() if name.startswith("weld_packets/")}
    assert held == built.files | {"weld_packets/commit.txt"}


def test_the_description_of_the_wheel_is_all_pages_for_users(built: Built) -> None:
    with zipfile.ZipFile(built.wheel) as archive:
        [metadata] = (name for name in archive.namelist() if name.endswith(".dist-info/METADATA"))
        description = archive.read(metadata).decode("utf-8").partition("\n\n")[2]
    assert description.strip() == "\n".join((ROOT / page).read_text("utf-8") for page in PAGES).strip()


def test_the_installed_program_names_the_commit_that_it_was_built_from(
    built: Built, packets: Packets, tmp_path: Path
) -> None:
    assert packets("--version", cwd=tmp_path) == f"packets {__version__}, commit {built.commit}\n"


def test_the_installed_program_starts_checks_and_builds_a_plant_that_holds_nothing_of_it(
    packets: Packets, tmp_path: Path
) -> None:
    plant = tmp_path / "plant"
    packets("init", plant, "--units", "US customary", cwd=tmp_path)
    assert "sr-1-seed-tray-rack: OK, 2 operations" in packets("--root", plant, "check", cwd=tmp_path)
    built = packets("build", cwd=plant / "instructions")
    assert built.splitlines()[0] == "built 1, unchanged 0"
    page = (plant / "site" / "sr-1-seed-tray-rack" / "operation-1.html").read_text("utf-8")
    assert "ER70S-6-0.040" in page
    for name in ("assets/site.css", "assets/site.js", "assets/mark.svg"):
        assert (plant / "site" / "sr-1-seed-tray-rack" / name).is_file()
    assert (plant / "site" / "orders.js").is_file()
    packets("export", "sr-1-seed-tray-rack", cwd=plant)
    with zipfile.ZipFile(plant / "sr-1-seed-tray-rack.zip") as archive:
        assert "sr-1-seed-tray-rack/index.html" in archive.namelist()


def test_a_source_archive_carries_the_commit_to_the_wheel_that_is_built_of_it(built: Built, tmp_path: Path) -> None:
    hook = "import sys; from setuptools import build_meta; build_meta.build_{}(sys.argv[1])"
    run(sys.executable, "-c", hook.format("sdist"), tmp_path, cwd=built.checkout)
    [archive] = tmp_path.glob("*.tar.gz")
    shutil.unpack_archive(archive, tmp_path / "unpacked", filter="data")
    [sources] = (tmp_path / "unpacked").iterdir()
    run(sys.executable, "-c", hook.format("wheel"), tmp_path, cwd=sources)
    [wheel] = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as whole, zipfile.ZipFile(built.wheel) as direct:
        assert whole.read("weld_packets/commit.txt").decode() == f"{built.commit}\n"
        assert sorted(whole.namelist()) == sorted(direct.namelist())
