"""Plants for families and processes that the demo does not have: its tables, and what a folder here adds to them."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

ROOT = Path(__file__).parents[2]
HERE = Path(__file__).parent
Change = Callable[[dict[str, Any]], None]


def _added(tables: Path, additions: dict[str, dict[str, list[Any]]]) -> None:
    for name, lists in additions.items():
        file = tables / f"{name}.yaml"
        tree = _read(file)
        for key, entries in lists.items():
            tree[key] += entries
        file.write_text(yaml.safe_dump(tree, allow_unicode=True, sort_keys=False, width=10_000), "utf-8")


def _read(file: Path) -> Any:
    return yaml.load(file.read_text("utf-8"), yaml.BaseLoader)  # noqa: S506 - text alone, as the program reads it


@pytest.fixture(scope="session")
def tables_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Returns the tables of the plant of a folder, which are put together once."""

    @cache
    def made(name: str) -> Path:
        tables, folder = tmp_path_factory.mktemp(name) / "tables", HERE / name
        shutil.copytree(ROOT / "tables", tables)
        for table in (folder / "tables").glob("*.yaml"):
            shutil.copy(table, tables / table.name)
        _added(tables, _read(folder / "additions.yaml"))
        return tables

    return made


@pytest.fixture
def plant_of(tables_of: Callable[[str], Path], tmp_path: Path) -> Callable[..., Path]:
    """Makes the plant of a folder, with one order ``o-1``; ``change`` may change the order before it is written."""

    def made(name: str, change: Change = lambda _: None) -> Path:
        root = tmp_path / name
        shutil.copytree(tables_of(name), root / "tables")
        order = _read(HERE / name / "orders" / "order.yaml")
        change(order)
        written = root / "instructions" / "o-1" / "order.yaml"
        written.parent.mkdir(parents=True)
        written.write_text(yaml.safe_dump(order, allow_unicode=True, sort_keys=False, width=10_000), "utf-8")
        return root

    return made
