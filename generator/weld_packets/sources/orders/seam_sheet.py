"""Seams from a CSV list: one line for each point of a path, in the order in which the torch passes them."""

from __future__ import annotations

from itertools import groupby
from operator import itemgetter
from typing import Any

from weld_packets.errors import Gathering, Problem
from weld_packets.sources.reading.places import KeyPath, Places
from weld_packets.sources.reading.sheet import Column, Sheet
from weld_packets.units import kinds

_WORDS = ("robot", "joint", "position", "component 1", "component 2", "weld schedule")
_LENGTHS = ("throat", "leg", "gap", "weld cap width", "weld cap height")
_ANGLES = ("work angle", "travel angle")
_GIVEN_ONCE = (*_WORDS, *_LENGTHS, *_ANGLES)
_AXES = ("x", "y", "z")
_PIECES = ("", "via", "to")

SEAM_COLUMNS = (
    Column("id"),
    *(Column(axis, kinds.LENGTH) for axis in _AXES),
    Column("piece", required=False),
    *(Column(name, required=False) for name in _WORDS),
    *(Column(name, kinds.LENGTH, required=False) for name in _LENGTHS),
    *(Column(name, kinds.ANGLE, required=False) for name in _ANGLES),
)
"""``piece`` is ``via`` for a point inside an arc and otherwise empty; what a seam's first line gives need not be
repeated in its other lines."""

Line = tuple[int, dict[str, str]]
"""The number of a line in its file, and its cells."""


def seams_of(sheet: Sheet) -> tuple[list[dict[str, Any]], Places]:
    """Return the seams of ``sheet`` as an order writes them, with their places.

    Raises SourceError for axes in different units, a seam with lines that do not follow each other, a value
    of a seam given twice and differently, and an arc without an end.
    """
    gathering = Gathering()
    _check_axes(sheet, gathering)
    seams: list[dict[str, Any]] = []
    lines: dict[KeyPath, int] = {}
    for name, group in groupby(zip(sheet.lines, sheet.rows, strict=True), key=lambda line: line[1]["id"]):
        members = list(group)
        if name in [seam["id"] for seam in seams]:
            _refuse(gathering, sheet, members[0], "id", "the lines of this seam do not follow each other")
        lines |= _lines_of(len(seams), members)
        seams.append(_seam(name, members, sheet, gathering))
    gathering.finish()
    return seams, Places(sheet.file, lines)


def _check_axes(sheet: Sheet, gathering: Gathering) -> None:
    if len({sheet.units[axis] for axis in _AXES}) > 1:
        remedy = "write all three in one unit"
        gathering.add(Problem(sheet.file, 1, "", "", "x, y and z have different units", remedy))


def _seam(name: str, members: list[Line], sheet: Sheet, gathering: Gathering) -> dict[str, Any]:
    seam: dict[str, Any] = {"id": name}
    for key in _GIVEN_ONCE:
        given = {line[1][key]: line for line in reversed(members) if key in line[1]}
        if len(given) > 1:
            _refuse(
                gathering,
                sheet,
                next(iter(given.values())),
                key,
                "this value of the seam is given twice, and differently",
            )
        if given:
            seam[key] = next(iter(given))
    components = [seam.pop(key) for key in ("component 1", "component 2") if key in seam]
    seam |= {"components": components} if components else {}
    first, *rest = members
    pieces = _pieces(rest, sheet, gathering)
    return seam | {"path": {"unit": sheet.units["x"], "start": _point(first), "pieces": pieces}}


def _pieces(members: list[Line], sheet: Sheet, gathering: Gathering) -> list[dict[str, list[str]]]:
    pieces: list[dict[str, list[str]]] = []
    via: Line | None = None
    for member in members:
        word = member[1].get("piece", "")
        if word not in _PIECES or (word == "via" and via):
            _refuse(gathering, sheet, member, "piece", "one point 'via' is expected between the ends of an arc")
        elif word == "via":
            via = member
        else:
            pieces.append(({"via": _point(via)} if via else {}) | {"to": _point(member)})
            via = None
    if via:
        _refuse(gathering, sheet, via, "piece", "this arc has no end")
    return pieces


def _point(member: Line) -> list[str]:
    cells = itemgetter(*_AXES)(member[1])
    return [cell.split(" ", 1)[0] for cell in cells]


def _lines_of(index: int, members: list[Line]) -> dict[KeyPath, int]:
    first, *rest = (number for number, _ in members)
    ends = [number for number, member in members[1:] if member.get("piece", "") != "via"] if rest else []
    return {(index,): first} | {(index, "path", "pieces", piece): number for piece, number in enumerate(ends)}


def _refuse(gathering: Gathering, sheet: Sheet, line: Line, key: str, message: str) -> None:
    remedy = "correct this line, or the other lines of the seam"
    gathering.add(Problem(sheet.file, line[0], key, line[1].get(key, ""), message, remedy))
