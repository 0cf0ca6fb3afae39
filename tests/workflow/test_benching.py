"""The benchmark measures what it says: real orders, each with its own number."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.errors import SourceError
from generator.workflow.benching import Figure, generate


@pytest.fixture
def root(tmp_path: Path) -> Path:
    order = tmp_path / "work" / "instructions" / "one"
    (order / "released").mkdir(parents=True)
    (order / "order.yaml").write_text("order: LK-1\ntitle: order: x\n")
    (order / "points.csv").write_text("x,y\n")
    for folder in ("tables", "site_overrides"):
        (tmp_path / "work" / folder).mkdir()
    (tmp_path / "work" / "mkdocs.yml").write_text("site_name: x\n")
    return tmp_path / "work"


def test_each_generated_order_has_its_own_number_and_all_its_files(root: Path, tmp_path: Path) -> None:
    generate(root, tmp_path / "many", 3)
    orders = sorted((tmp_path / "many" / "instructions").iterdir())
    assert [order.name for order in orders] == ["bench-00000", "bench-00001", "bench-00002"]
    assert (orders[2] / "order.yaml").read_text() == "order: BENCH-00002\ntitle: order: x\n"
    assert (orders[2] / "points.csv").is_file()
    assert not (orders[2] / "released").exists()


def test_orders_that_stand_are_left_alone_when_more_are_generated(root: Path, tmp_path: Path) -> None:
    generate(root, tmp_path / "many", 1)
    marked = tmp_path / "many" / "instructions" / "bench-00000" / "order.yaml"
    marked.write_text("changed")
    generate(root, tmp_path / "many", 2)
    assert marked.read_text() == "changed"


def test_a_workspace_without_orders_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match="no order to copy"):
        generate(tmp_path, tmp_path / "many", 1)


def test_a_figure_reads_as_one_line() -> None:
    assert str(Figure("ratio", 0.2, "", "at most 0.25")).split() == ["ratio", "0.200", "(at", "most", "0.25)"]
