"""Plants for families and processes that the demo does not have: its tables, and what a folder here adds to them."""

from __future__ import annotations

import shutil
from collections.abc import Callable
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
        tree = yaml.load(file.read_text("utf-8"), yaml.BaseLoader)  # noqa: S506 - text alone, as the program reads it
        for key, entries in lists.items():
            tree[key] += entries
        file.write_text(yaml.safe_dump(tree, allow_unicode=True, sort_keys=False, width=10_000), "utf-8")


@pytest.fixture
def plant_of(tmp_path: Path) -> Callable[..., Path]:
    """Makes the plant of a folder, with one order ``o-1``; ``change`` may change the order before it is written."""

    def made(name: str, change: Change = lambda _: None) -> Path:
        root, folder = tmp_path / name, HERE / name
        shutil.copytree(ROOT / "tables", root / "tables")
        for table in (folder / "tables").glob("*.yaml"):
            shutil.copy(table, root / "tables" / table.name)
        additions = folder / "additions.yaml"
        _added(root / "tables", yaml.load(additions.read_text("utf-8"), yaml.BaseLoader))  # noqa: S506
        order = yaml.load((folder / "orders" / "order.yaml").read_text("utf-8"), yaml.BaseLoader)  # noqa: S506
        change(order)
        written = root / "instructions" / "o-1" / "order.yaml"
        written.parent.mkdir(parents=True)
        written.write_text(yaml.safe_dump(order, allow_unicode=True, sort_keys=False, width=10_000), "utf-8")
        return root

    return made
