"""What tests of more than one package look at: the orders of the demo, drafted once, and drawings."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

if TYPE_CHECKING:  # loaded where they are used: the process that hands tests to its workers needs none of them
    from weld_packets.drawing.boxes import Box
    from weld_packets.packet.records.order import Packet
    from weld_packets.sources.tables.tables import Workspace

ROOT = Path(__file__).parents[1]

# A busy machine is no fault of what is tested; and the same commit takes the same examples, wherever it is tested.
settings.register_profile("searching", deadline=None)
settings.register_profile("repeatable", settings.get_profile("searching"), derandomize=True)
settings.load_profile("repeatable")


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Iterator[None]:
    """Take what is loaded for all tests out of reach of the collector of cycles, and let it search the rest seldom."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.collect()
        gc.freeze()
        gc.set_threshold(20_000)
        gc.enable()


@pytest.fixture(autouse=True, scope="session")
def disk_not_waited_for() -> Iterator[None]:
    """Let writers go on before the disk has what they wrote: tests end processes, and none cuts the power."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", lambda _descriptor: None)
        yield


@pytest.fixture(autouse=True, scope="session")
def program_read_once() -> Iterator[None]:
    """Take the digest of the program once: it does not change while its tests run, and each build asks for it."""
    from weld_packets.sources import digests  # noqa: PLC0415

    own, taken = digests._GENERATOR, cache(digests._folder_digest)
    digest_of = digests._folder_digest
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(digests, "_folder_digest", lambda folder: (taken if folder == own else digest_of)(folder))
        yield


@pytest.fixture(scope="session")
def demo_workspace() -> Workspace:
    """Return the orders and tables of the demo, as they stand."""
    from weld_packets.plant.orders import open_workspace  # noqa: PLC0415

    return open_workspace(ROOT)


@pytest.fixture(scope="session")
def demo_packets(demo_workspace: Workspace) -> dict[str, Packet]:
    """Return the draft of every order of the demo by the name of its folder."""
    from weld_packets.plant.drafts import draft  # noqa: PLC0415
    from weld_packets.sources.orders.order_folders import order_names  # noqa: PLC0415

    return {name: draft(demo_workspace, name) for name in order_names(ROOT)}


@pytest.fixture(scope="session")
def named() -> tuple[str, ...]:
    """Who releases and withdraws with the tables of the demo: two people of its list, as words of a command."""
    return ("--author", "welding engineer", "--approver", "quality lead")


@pytest.fixture(scope="session")
def overlapping() -> Callable[[Iterable[Box]], list[tuple[Box, Box]]]:
    """Return every pair of boxes that share an area."""

    def pairs(boxes: Iterable[Box]) -> list[tuple[Box, Box]]:
        known = list(boxes)
        return [(one, other) for at, one in enumerate(known) for other in known[at + 1 :] if one.overlaps(other)]

    return pairs
