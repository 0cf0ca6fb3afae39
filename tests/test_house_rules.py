"""The architecture, held by tests; style and types are held by the gate, whose tools are pinned."""

from __future__ import annotations

import ast
import re
import subprocess
import tomllib
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
OUTSIDE_ALLOWED_IN = {
    "click": {"commands"},
    "yaml": {"sources"},
    "ezdxf": {"sources"},
    "openpyxl": {"sources"},
    "mkdocs": {"site"},
    "jinja2": {"site", "commands"},
    "markdown": {"site"},
    "segno": {"site"},
    "matplotlib": {"drawing"},
    "cryptography": {"revisions"},
    "orjson": {"revisions", "site"},
}
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "mkdocs.yml", "pyproject.toml",
    "instructions", "generator", "tables", "tests", "site_overrides",
}  # fmt: skip


def packages_on_the_page() -> dict[str, set[str]]:
    """Return what each package may import, as the table of DEVELOPERS.md says."""
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    rows = re.findall(r"^\| `(\w+)` \| [^|]+ \| ([\w ,-]+) \|$", page, re.MULTILINE)
    return {name: set(re.findall(r"\w+", allowed)) for name, allowed in rows}


MAY_IMPORT = packages_on_the_page()


def modules() -> list[Path]:
    return sorted((ROOT / "generator" / "weld_packets").rglob("*.py"))


def package(path: Path) -> str:
    return path.relative_to(ROOT / "generator" / "weld_packets").parts[0].removesuffix(".py")


@cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


@cache
def imported(path: Path) -> frozenset[str]:
    names: set[str] = set()
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names.add(node.module)
    return frozenset(names)


def test_the_page_lists_every_package_and_no_other() -> None:
    assert MAY_IMPORT.keys() == {package(path) for path in modules()} - {"__init__", "__main__"}


def each(paths: Iterable[Path], faults: Callable[[Path], Iterable[str]]) -> dict[str, set[str]]:
    """Return what is wrong with each file, of those with which anything is: hundreds are looked at in one test."""
    found = {path.relative_to(ROOT).as_posix(): set(faults(path)) for path in paths}
    assert len(found) > 50
    return {name: wrong for name, wrong in found.items() if wrong}


def test_a_package_imports_only_what_the_page_allows() -> None:
    def not_allowed(path: Path) -> set[str]:
        packages = {name.split(".")[1] for name in imported(path) if name.startswith("weld_packets.")}
        allowed = {"commands"} if package(path) == "__main__" else MAY_IMPORT.get(package(path), set())
        return packages - allowed - {package(path)}

    assert each(modules(), not_allowed) == {}


def test_the_packages_of_the_page_import_one_way() -> None:
    above: dict[str, set[str]] = {}
    for name, allowed in MAY_IMPORT.items():
        above[name] = allowed | {far for near in allowed for far in above[near]}  # each is below what it imports
        assert name not in above[name]


PURE = [path for path in modules() if package(path) == "revisions" and path.parent.name != "store"]
EFFECTS = {"os", "sys", "io", "pathlib", "shutil", "subprocess", "tempfile", "time", "socket", "weld_packets.files"}


def test_revisions_touch_files_and_clock_in_their_store_alone() -> None:
    def effects(path: Path) -> set[str]:
        calls = {ast.unparse(node.func) for node in ast.walk(parsed(path)) if isinstance(node, ast.Call)}
        store = {name for name in imported(path) if name.startswith("weld_packets.revisions.store")}
        return imported(path) & EFFECTS | store | calls & {"open", "datetime.now", "date.today", "datetime.utcnow"}

    assert each(PURE, effects) == {}


def test_a_library_stays_in_its_package() -> None:
    def strays(path: Path) -> set[str]:
        used = {name.split(".")[0] for name in imported(path)}
        return {name for name, allowed in OUTSIDE_ALLOWED_IN.items() if name in used and package(path) not in allowed}

    assert each(modules(), strays) == {}


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


def test_the_page_s_example_is_real_code() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    examples = re.findall(r"<!-- real code: (\S+) -->\n```python\n(.*?)```", page, re.DOTALL)
    assert examples
    for file, code in examples:
        assert code in (ROOT / file).read_text("utf-8")


def test_the_files_that_the_page_names_are_there() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    named = set(re.findall(r"`((?:[\w.]+/)+(?:[\w.-]+\.\w+)?)`", page))
    bases = (ROOT, ROOT / "generator", ROOT / "generator" / "weld_packets")
    assert len(named) > 10
    assert [name for name in sorted(named) if not any((base / name).exists() for base in bases)] == []


DOCSTRING = re.compile(r'"""(.*?)"""', re.DOTALL)
SYMBOLS = {"t_8_5"}
"""Names with an underscore that are symbols of a formula."""


def test_a_docstring_names_nothing_that_is_gone() -> None:
    sources = {str(path): path.read_text("utf-8") for path in modules()}
    known = set(re.findall(r"\w+", DOCSTRING.sub("", "\n".join(sources.values())))) | SYMBOLS
    gone = {
        f"{Path(file).name}: {name}"
        for file, source in sources.items()
        for text in DOCSTRING.findall(source)
        for name in re.findall(r"``([a-z]+_\w+)``", text)
        if name not in known
    }
    assert gone == set()


def test_a_class_lists_no_attribute_that_it_has_not() -> None:
    listing = [source for path in modules() if "Attributes:\n" in (source := path.read_text("utf-8"))]
    classes = [node for source in listing for node in ast.walk(ast.parse(source)) if isinstance(node, ast.ClassDef)]
    assert len(classes) > 30
    for node in classes:
        attributes = (ast.get_docstring(node) or "").partition("Attributes:\n")[2]
        fields = {ast.unparse(each.target) for each in node.body if isinstance(each, ast.AnnAssign)}
        assert set(re.findall(r"^    (\w+): ", attributes, re.MULTILINE)) <= fields, node.name
