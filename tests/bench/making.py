"""Orders for the benchmark: three operations each, no two equal in geometry, thickness, pattern, quantity or program.

What is kept of one order must not answer for the next, else the figures would be too good.
"""

from __future__ import annotations

import re
import shutil
from decimal import Decimal
from pathlib import Path
from random import Random

DEMO = Path(__file__).parents[2]
_SAMPLE = Path(__file__).parent / "sample"
_COPIED = ("tables", "site_overrides")
_KEPT = slice(3)
"""Of the demo's order two arc operations, one with seams round tubes, and a spot operation in two planes."""
_ORDER_NUMBER = re.compile(r"^order:.*$", re.MULTILINE)
_QUANTITY = re.compile(r"^quantity: *(\d+)", re.MULTILINE)
_OPERATION = re.compile(r"^(?=  - name:)", re.MULTILINE)
_WELD = re.compile(r"^(?= +- (?:\{id: \w+, robot:|id: \w+[^\n]*\n +robot:))", re.MULTILINE)
_GROUP = re.compile(r"\b(?:robot|weld schedule|stack): (\w+)")
_SIZES = re.compile(
    r"\b(?:points|start|via|to): \[[^a-zA-Z#]*\]|\b(?:x|y|z|offset|thickness|throat|leg): -?[\d.]+(?= ?[a-z])"
)
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_PROGRAMS = re.compile(r"\bprograms: \{.*\}")
_PROGRAM = re.compile(r"(?<=: )\w+")
_GROWTH = Decimal("0.015")
"""How much larger than the demo's the largest component is, its sheets and welds with it: a component that grows as a
whole keeps its welds on its edges, and a chart makes few sizes of weld on one thickness."""
_SCALES = 100_003
"""How many sizes there are, a prime, so that a stride through them meets each once."""
_STRIDE = 38_197
_MEASURED_TO = Decimal("0.0001")
_LEFT_OUT = 3
"""One weld in so many is left out of an operation, others in every order."""


def make(target: Path, count: int) -> None:
    """Make a plant's folder in ``target`` that holds ``count`` orders; those that stand there are left alone."""
    target.mkdir(parents=True, exist_ok=True)
    for name in _COPIED:
        shutil.copytree(DEMO / name, target / name, dirs_exist_ok=True)
    if (DEMO / "mkdocs.yml").exists():
        shutil.copyfile(DEMO / "mkdocs.yml", target / "mkdocs.yml")
    text = (_SAMPLE / "order.yaml").read_text(encoding="utf-8")
    for number in range(count):
        folder = target / "instructions" / f"bench-{number:05}"
        if not folder.exists():
            folder.mkdir(parents=True)
            (folder / "order.yaml").write_text(order(text, number), encoding="utf-8")


def order(text: str, number: int) -> str:
    """Return the order of a number, made of the ``text`` of the demo's order."""
    head, *operations = _OPERATION.split(text)
    renamed = _ORDER_NUMBER.sub(f"order: BENCH-{number:05}", head, count=1)
    counted = _QUANTITY.sub(lambda found: f"quantity: {int(found.group(1)) + number}", renamed, count=1)
    return counted + "".join(_varied(each, number) for each in operations[_KEPT])


def _varied(operation: str, number: int) -> str:
    before, *welds = _WELD.split(operation)
    scale = 1 + _GROWTH * (number * _STRIDE % _SCALES) / _SCALES
    grown = _SIZES.sub(lambda found: _grown(found.group(), scale), before + "".join(_drawn(welds, number)))
    return _PROGRAMS.sub(lambda found: _PROGRAM.sub(rf"\g<0>-{number:05}", found.group()), grown)


def _drawn(welds: list[str], number: int) -> list[str]:
    """Return all but some of the welds, in their order; each robot keeps one of every group, whose program it has.

    The last always stays, because what follows it may be another key of the operation.
    """
    first: dict[tuple[str, ...], int] = {}
    for place, weld in enumerate(welds):
        first.setdefault(tuple(_GROUP.findall(weld)), place)
    spare = sorted(set(range(len(welds) - 1)) - set(first.values()))
    left_out = Random(number).sample(spare, len(welds) // _LEFT_OUT)  # noqa: S311 - no secret
    return [weld for place, weld in enumerate(welds) if place not in left_out]


def _grown(sizes: str, scale: Decimal) -> str:
    return _NUMBER.sub(lambda found: _plain((Decimal(found.group()) * scale).quantize(_MEASURED_TO)), sizes)


def _plain(size: Decimal) -> str:
    """Return a size without trailing zeros, which would claim that it is known better than it was stated."""
    return f"{size.normalize():f}"
