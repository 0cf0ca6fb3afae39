"""The architecture, held by tests; style and types are held by the gate, whose tools are pinned."""

from __future__ import annotations

import ast
import re
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
MAY_IMPORT = {
    "__main__": {"commands"},
    "errors": set(),
    "units": {"errors"},
    "geometry": set(),
    "drawing": set(),
    "model": {"errors", "units"},
    "sources": {"errors", "units", "model"},
    "calculation": {"errors", "units", "geometry", "model"},
    "processes": {"errors", "units", "geometry", "model", "calculation"},
    "planning": {"errors", "units", "geometry", "model", "calculation", "processes"},
    "wording": {"errors", "units", "model", "calculation"},
    "packet": {
        "errors", "units", "geometry", "model", "calculation", "processes", "planning", "wording", "drawing",
    },
    "diagrams": {"drawing", "units", "geometry", "model", "calculation", "processes", "planning", "wording", "packet"},
    "revisions": {"errors", "units", "packet"},
    "site": {"errors", "wording", "packet", "diagrams", "revisions", "drawing"},
    "commands": {
        "errors", "units", "model", "sources", "calculation", "processes", "planning", "packet", "diagrams",
        "revisions", "site",
    },
}  # fmt: skip
OUTSIDE_ALLOWED_IN = {
    "click": {"commands"},
    "yaml": {"sources"},
    "ezdxf": {"sources"},
    "mkdocs": {"site"},
    "jinja2": {"site"},
    "markdown": {"site"},
    "segno": {"site"},
    "matplotlib": {"drawing"},
    "cryptography": {"revisions"},
}
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "mkdocs.yml", "pyproject.toml",
    "instructions", "generator", "tables", "tests", "site_overrides",
}  # fmt: skip


def modules() -> list[Path]:
    return sorted((ROOT / "generator" / "weld_packets").rglob("*.py"))


def package(path: Path) -> str:
    return path.relative_to(ROOT / "generator" / "weld_packets").parts[0].removesuffix(".py")


def imported(path: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names.add(node.module)
    return names


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(ROOT)))
def test_a_package_imports_only_the_packages_below_it(path: Path) -> None:
    packages = {name.split(".")[1] for name in imported(path) if name.startswith("weld_packets.")}
    allowed = MAY_IMPORT.get(package(path), set()) | {package(path)}
    assert packages <= allowed | ({"__init__"} if package(path) == "__init__" else set())


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(ROOT)))
def test_a_library_stays_in_its_package(path: Path) -> None:
    used = {name.split(".")[0] for name in imported(path)}
    strays = {name for name, packages in OUTSIDE_ALLOWED_IN.items() if name in used and package(path) not in packages}
    assert not strays


def test_the_top_level_holds_what_the_design_names() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("not a git checkout")
    tops = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert {top for top in tops if not top.startswith(".")} <= TOP_LEVEL


def test_the_tools_of_the_gate_are_pinned_and_come_with_no_other_extra() -> None:
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["optional-dependencies"]
    pinned = [re.fullmatch(r"([\w-]+)(\[\w+\])?==[\d.]+(;.*)?", requirement) for requirement in extras.pop("lint")]
    assert all(pinned)
    assert {"ruff", "mypy"} <= {pin[1] for pin in pinned if pin}
    others = " ".join(requirement for extra in extras.values() for requirement in extra)
    assert not re.search(r"\b(ruff|mypy)\b", others)
