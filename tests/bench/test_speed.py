"""Speed and memory on many orders: ratios within one run, so that they hold on any machine.

Run by hand on a quiet machine: `pytest -m benchmark -n 0 -s tests/bench`.
"""

from __future__ import annotations

import os
import platform
import shutil
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from weld_packets.commands.shared.parallel import processors

pytestmark = pytest.mark.benchmark
COMPARED = 96  # enough that the start of the processes weighs little, as it does in a plant's thousands
STOCK_BUILDS = 24
SMALL = 100
PAGES = 8  # the size of order that the limit on bytes is meant for


def show(name: str, value: float, unit: str = "", target: str = "") -> None:
    aim = f"   ({target})" if target else ""
    print(f"\n{name:<62} {value:>9.3f} {unit}{aim}", end="")  # noqa: T201 - a figure that somebody reads


@dataclass(frozen=True)
class Built:
    """A plant with many built orders, and what its `build` and its `check` cost per order."""

    plant: Path
    orders: int
    build: Any
    check: Any
    outputs: tuple[str, str]
    memory: tuple[float, float]


@pytest.fixture(scope="module")
def built(
    making: ModuleType, measuring: ModuleType, tmp_path_factory: pytest.TempPathFactory, pytestconfig: pytest.Config
) -> Built:
    orders = pytestconfig.getoption("--orders")
    plant = tmp_path_factory.mktemp("many")
    small = min(SMALL, orders)
    making.make(plant, small)
    first = measuring.largest_process(plant, "build")
    shutil.rmtree(plant / "site")
    making.make(plant, orders)
    check = measuring.packets(plant, "check")
    build = measuring.packets(plant, "build")
    shutil.rmtree(plant / "site")
    second = measuring.largest_process(plant, "build")
    return Built(plant, orders, build / orders, check / orders, (build.output, check.output), (first, second))


def test_an_order_costs_at_most_a_quarter_of_a_cold_mkdocs_build_of_its_pages(
    making: ModuleType, measuring: ModuleType, tmp_path: Path
) -> None:
    """Our builds stand before and after those of MkDocs: a machine slows as it warms."""
    plant = tmp_path / "plant"
    making.make(plant, COMPARED)
    before = measuring.packets(plant, "build")
    sites = sorted(path.parent for path in (plant / "site").glob("*/card.json"))[:STOCK_BUILDS]
    assert len(sites) == STOCK_BUILDS
    stock = measuring.cold_mkdocs(sites, tmp_path / "stock", processors())
    pages, own = len(list(sites[0].glob("*.html"))), measuring.own_bytes(sites[0]) / 1e6
    shutil.rmtree(plant / "site")
    ours = (before + measuring.packets(plant, "build")) / (2 * COMPARED)
    ratio = ours.elapsed / stock.elapsed
    show("processors, Python " + platform.python_version(), processors(), f"of {os.cpu_count()}")
    show("pages of an order", pages)
    show("an order, on all processors", ours.elapsed * 1000, "ms")
    show("an order, time of processors", ours.processor * 1000, "ms")
    show("cold mkdocs build of its pages, on all processors", stock.elapsed * 1000, "ms")
    show("cold mkdocs build of its pages, time of processors", stock.processor * 1000, "ms")
    show("ratio", ratio, target="at most 0.25, aim 0.20")
    show("ratio of times of processors", ours.processor / stock.processor, target="the same on a busy machine")
    show("bytes of an order, beside what orders share", own, "MB")
    show(f"bytes of an order of {PAGES} pages, beside what orders share", own / pages * PAGES, "MB", "at most 0.45")
    assert ratio <= 0.25
    assert own / pages * PAGES <= 0.45


def test_checking_an_order_costs_no_more_than_building_it_and_shows_how_far_it_is(built: Built) -> None:
    show(f"build of {built.orders} orders, per order", built.build.elapsed * 1000, "ms")
    show(f"check of {built.orders} orders, per order", built.check.elapsed * 1000, "ms", "no more than build")
    assert built.check.elapsed <= built.build.elapsed
    for output in built.outputs:
        assert f" of {built.orders} orders\n" in output
    if processors() > 1:
        assert built.check.processor > 1.2 * built.check.elapsed


def test_memory_does_not_grow_with_the_number_of_orders(built: Built) -> None:
    few, many = built.memory
    show(f"largest process of a build of {min(SMALL, built.orders)} orders", few, "MB")
    show(f"largest process of a build of {built.orders} orders", many, "MB", "at most 1.1 of that")
    assert many <= 1.1 * few


def test_a_build_after_one_change_waits_for_that_order_alone(built: Built, measuring: ModuleType) -> None:
    measuring.packets(built.plant, "build")
    unchanged = measuring.packets(built.plant, "build")
    changed = built.plant / "instructions" / "bench-00000" / "order.yaml"
    changed.write_text(changed.read_text("utf-8") + "# changed\n", "utf-8")
    one = measuring.packets(built.plant, "build")
    show(f"{built.orders} unchanged orders", unchanged.elapsed, "s", f"processors {unchanged.processor:.3f} s")
    show(f"one changed order among {built.orders}", one.elapsed, "s", f"under 1.5; processors {one.processor:.3f} s")
    assert one.elapsed < 1.5
