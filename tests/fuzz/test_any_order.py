"""Spoilt orders, through check and the making of every page: the program's own errors or a packet, within two seconds.

Each order is a folder with its list of points. Its tree is changed as people and programs change files: keys and items
go, come twice or change places, values become others. What is accepted is drafted, and its pages are written.
"""

from __future__ import annotations

import copy
import random
import shutil
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from weld_packets.errors import PacketError
from weld_packets.plant.drafts import Drafts
from weld_packets.plant.orders import open_workspace
from weld_packets.revisions.status.status import draft_control
from weld_packets.site.pages.order_pages import plan_draft_site
from weld_packets.sources.tables.tables import Workspace

ROOT = Path(__file__).resolve().parents[2]
LIMIT = 2.0
"""Seconds of this process that one input may take."""
VALUES = [
    "", "0", "-1", "1e12", "1e-18", "9" * 30, "1e99", "nan", "0 mm", "-3 mm", "1e9 mm", "100 m", "0.001 mm", "3 in",
    "1/64 in", "16 ga", "500 mm", "1e5 A", "yes", "no", "null", "135", "21", "C2A", "C5A", "skin", "strip", "left",
    "PA", "PF", "square butt", "lap fillet", "flare bevel", "T fillet", "<script>alert(1)</script>", "'; --",
    "\u202e", "\u3164",
    "../../etc/passwd", "points.csv", "a" * 3000, "2026-02-30", "1900-01-01", "180 °", "-360 °", "wo-1", "wo-2",
    "%s", "{{x}}", "{x}", "{}", "{0.__class__}",
    [], {}, [[]], [{}], [0, 0], ["0", "0", "0"], {"x": "1 mm"}, {"to": ["1", "2", "3"]},
    {"repeat": ["G1"], "ids": ["G9"]},
    {"via": ["1", "2", "3"], "to": ["1", "2", "3"]}, {"file": "outline.dxf"}, {"unit": "mm", "points": [["0", "0"]]},
]  # fmt: skip
FELL: list[dict[tuple[Any, ...], Any]] = [{("operations", 0, "cell"): []}]
"""What was put where, in the orders that fell once."""


class _Text(yaml.SafeLoader):
    """Reads every scalar as text, as the program does."""


_Text.yaml_implicit_resolvers = {}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("orders")
    shutil.copytree(ROOT / "tests" / "commands" / "workshop" / "instructions", root / "instructions")
    shutil.copytree(root / "instructions" / "wo-1", root / "instructions" / "wo-2")
    shutil.copytree(ROOT / "tables", root / "tables")
    return root


@pytest.fixture(scope="module")
def workspace(folder: Path) -> Workspace:
    return open_workspace(folder)


def good(folder: Path) -> Any:
    """Return the tree of an order that uses most keys, with the words of the sample beside it to put elsewhere."""
    tree = yaml.load((folder / "instructions" / "wo-2" / "order.yaml").read_bytes(), _Text)  # noqa: S506 - a safe one
    arc, spot = tree["operations"]
    tree |= {"previous order": "wo-2", "show first": "US customary"}
    tree["fitted at start"] = [{"robot": "C2A", "wire left": "3.3 kg"}, {"robot": "C5A", "new": ["caps"]}]
    arc |= {"clamps": ["K1", "K2"], "notes": ["a note"], "wps": "W-1", "required tests": ["hardness"]}
    arc |= {
        "tolerances": {"linear": "B"},
        "sizes": [{"name": "width", "size": "300 mm"}],
        "weld defaults": {"robot": "C2A"},
    }
    arc["seams"][0] |= {
        "work angle": "40 °",
        "travel angle": "5 °",
        "weld schedule": "11",
        "tacks": {"number": "2", "length": "10 mm", "made by": "hand"},
    }
    arc["seams"].append({"repeat": ["G1"], "ids": ["G2"], "step": {"y": "40 mm"}, "robot": "C2B"})
    spot |= {"coupon programs": {"C5A": "T1", "C5B": "T2"}, "spacing rule": "EN 1993-1-3"}
    return tree


def places(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the path of every key and item."""
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, part in items:
        yield (*path, key)
        yield from places(part, (*path, key))


def at(tree: Any, path: tuple[Any, ...]) -> Any:
    for step in path:
        tree = tree[step]
    return tree


def spoil(tree: Any, chance: random.Random) -> None:
    """Change one thing in ``tree``."""
    known = list(places(tree))
    if not known:
        return
    path, other = chance.choice(known), chance.choice(known)
    holder, key = at(tree, path[:-1]), path[-1]
    match chance.randrange(6):
        case 0:
            del holder[key]
        case 1:
            holder[key] = copy.deepcopy(chance.choice(VALUES))
        case 2:
            holder[key] = copy.deepcopy(at(tree, other))
        case 3 if isinstance(holder, list):
            holder.insert(chance.randrange(len(holder) + 1), copy.deepcopy(holder[key]))
        case 3:
            holder[f"{key}s"] = copy.deepcopy(holder[key])
        case 4 if isinstance(holder[key], str):
            holder[key] = _nudged(holder[key], chance)
        case _ if isinstance(holder[key], str):
            holder[key] = chance.choice([each for each in VALUES if isinstance(each, str)])
        case _:
            holder[key] = [] if isinstance(holder[key], list) else {}


def _nudged(text: str, chance: random.Random) -> str:
    """Return a text whose number is another one, or one of whose signs is."""
    number, _, unit = text.partition(" ")
    try:
        return f"{float(number) * chance.choice([-1, 0, 0.001, 0.5, 2, 10, 1000]):g} {unit}".strip()
    except ValueError:
        place = chance.randrange(len(text) + 1)
        return text[:place] + chance.choice("aZ0 -_/.\\\u00e9\n\t'\"<&") + text[place + 1 :]


def answered(tree: Any, folder: Path, workspace: Workspace) -> bool:
    """Draft an order of ``tree`` and write its pages; return whether it was accepted."""
    path = folder / "instructions" / "wo-1" / "order.yaml"
    path.write_text(yaml.safe_dump(tree, default_style='"', allow_unicode=True), encoding="utf-8")
    begun = time.process_time()
    try:
        packet = Drafts(workspace).draft("wo-1")
        plan_draft_site(packet, draft_control(packet))
    except PacketError:
        return False
    finally:
        took = time.process_time() - begun
        assert took < LIMIT, f"{took:.1f} s"
    return True


def tried(count: int, seed: int, folder: Path, workspace: Workspace) -> list[bool]:
    chance = random.Random(seed)  # noqa: S311 - the same inputs every time
    accepted = []
    for _ in range(count):
        tree = good(folder)
        for _ in range(chance.choice([1, 1, 1, 2, 3])):
            spoil(tree, chance)
        try:
            accepted.append(answered(tree, folder, workspace))
        except Exception as error:
            error.add_note(f"order: {tree!r}")
            raise
    return accepted


def test_the_order_that_is_spoilt_is_good(folder: Path, workspace: Workspace) -> None:
    assert answered(good(folder), folder, workspace)


def test_a_share_of_spoilt_orders_is_answered(folder: Path, workspace: Workspace) -> None:
    assert set(tried(12, 1, folder, workspace)) == {True, False}


@pytest.mark.parametrize("changes", FELL)
def test_an_order_that_fell_once_is_answered(
    folder: Path, workspace: Workspace, changes: dict[tuple[Any, ...], Any]
) -> None:
    tree = good(folder)
    for path, value in changes.items():
        at(tree, path[:-1])[path[-1]] = value
    answered(tree, folder, workspace)


@pytest.mark.fuzz
@pytest.mark.parametrize("seed", range(3))
def test_fifteen_hundred_spoilt_orders_are_answered(folder: Path, workspace: Workspace, seed: int) -> None:
    assert any(tried(500, 100 + seed, folder, workspace))
