"""What an order brings along: lists of welds and outlines in DXF, put where they belong in its tree."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from typing import Any

from weld_packets.errors import Gathering, Problem, SourceError, located
from weld_packets.model.processes import written_for
from weld_packets.sources.orders.repeats import COMPONENTS, DEFAULTS, REPEAT, components_written_out, written_out
from weld_packets.sources.reading.files import neighbour, read_text
from weld_packets.sources.reading.places import Document, KeyPath, Origin, Places, key_text
from weld_packets.sources.reading.sheet import Column, Sheet, read_sheet
from weld_packets.units import kinds

SPOT_COLUMNS = (
    Column("id"),
    Column("robot"),
    Column("stack"),
    *(Column(axis, kinds.LENGTH) for axis in ("x", "y", "z")),
)
WELDS = "welds"
"""The key of an operation that names a CSV list in place of its welds."""
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


def enclose(document: Document, folder: Path) -> Document:
    """Return the order with its CSV lists and DXF outlines in place, each value placed in the file it came from.

    Raises SourceError with the problems of all files.
    """
    enclosing = _Enclosing(document.places, folder)
    tree = dict(document.tree)
    if isinstance(tree.get("operations"), list):
        tree["operations"] = [
            enclosing.operation(operation, ("operations", index)) for index, operation in enumerate(tree["operations"])
        ]
    enclosing.gathering.finish()
    places = document.places
    return Document(tree, Places(places.file, places.lines, places.key_lines, enclosing.grafts, enclosing.origins))


@dataclass
class _Enclosing:
    """One order's enclosures, put into its tree."""

    places: Places
    folder: Path
    grafts: dict[KeyPath, Places] = field(default_factory=dict)
    origins: dict[KeyPath, Origin] = field(default_factory=dict)
    gathering: Gathering = field(default_factory=Gathering)

    def operation(self, operation: Any, path: KeyPath) -> Any:
        if not isinstance(operation, dict):
            return operation
        whole = {key: value for key, value in operation.items() if key != WELDS}
        if isinstance(operation.get("components"), list):
            whole["components"] = [
                self._component(component, (*path, "components", index))
                for index, component in enumerate(operation["components"])
            ]
        if WELDS in operation:
            with self.gathering.step():
                whole |= self._welds(operation, path)
        return self._repeated(whole, path)

    def _repeated(self, operation: dict[str, Any], path: KeyPath) -> dict[str, Any]:
        """Return an operation with its defaults and repeats written out; one of an unknown process as it is."""
        if _repeats(operation.get(COMPONENTS)):
            with self.gathering.step():
                components = components_written_out(operation[COMPONENTS], path, self.places)
                self.origins |= components.origins
                operation = operation | {COMPONENTS: components.welds}
        family = written_for(operation.get("process"))
        key = "" if family is None else family.welds_key
        welds = operation.get(key)
        if isinstance(welds, list) and (DEFAULTS in operation or _repeats(welds)):
            written = written_out(operation, key, path, self.places)
            self.origins |= written.origins
            return {name: part for name, part in operation.items() if name != DEFAULTS} | {key: written.welds}
        return operation

    def _welds(self, operation: dict[str, Any], path: KeyPath) -> dict[str, Any]:
        family = written_for(operation.get("process"))
        if family is None:
            return {}  # the process itself is refused
        key = family.welds_key
        if key in operation:
            raise self._refused((*path, WELDS), f"the operation has both {WELDS!r} and {key!r}", "keep one of the two")
        if not family.sheet:
            raise self._refused(
                (*path, WELDS), "welds of this process do not come from a list", f"write them as {key!r}"
            )
        file, shown = self._file(operation[WELDS], (*path, WELDS))
        text = read_text(file, shown)
        if family.sheet == "paths":
            seams, self.grafts[*path, key] = seams_of(read_sheet(text, shown, SEAM_COLUMNS))
            return {key: seams}
        sheet = read_sheet(text, shown, SPOT_COLUMNS)
        self.grafts[*path, key] = Places(shown, {(index,): line for index, line in enumerate(sheet.lines)})
        return {key: list(sheet.rows)}

    def _component(self, component: Any, path: KeyPath) -> Any:
        if not isinstance(component, dict) or not isinstance(component.get("outlines"), list):
            return component
        outlines: list[Any] = []
        for index, outline in enumerate(component["outlines"]):
            origin = (*path, "outlines", index)
            with self.gathering.step():
                for read in self._outlines(outline, origin):
                    if len(outlines) != index:
                        self.grafts[*path, "outlines", len(outlines)] = self.places.below(origin)
                    outlines.append(read)
        return component | {"outlines": outlines}

    def _outlines(self, outline: Any, path: KeyPath) -> Iterator[Any]:
        if not isinstance(outline, dict) or "file" not in outline:
            yield outline
            return
        from weld_packets.sources.drawings.outlines import read_outlines  # noqa: PLC0415 (0.3 s to load, and few need it)

        if "points" in outline:
            raise self._refused((*path, "file"), "the outline has both 'file' and 'points'", "keep one of the two")
        file, shown = self._file(outline["file"], (*path, "file"))
        layer, unit = (value if isinstance(value := outline.get(key), str) else None for key in ("layer", "unit"))
        for ring in read_outlines(file, shown, layer, unit):
            points = [[_plain(value) for value in point] for point in ring]
            yield outline | {"unit": "mm", "points": points}

    def _file(self, name: Any, path: KeyPath) -> tuple[Path, str]:
        """Return the path of the enclosed file and what messages call it."""
        if not isinstance(name, str):
            raise self._refused(path, "the name of one file is expected here", "write it, such as points.csv")
        with located(*self.places.at(path), key_text(path)):
            file = neighbour(self.folder, name)
        if not os.path.lexists(file):
            raise self._refused(path, "there is no such file beside the order", "check the name, or add it", name)
        return file, str(Path(self.places.file).with_name(name))

    def _refused(self, path: KeyPath, message: str, remedy: str, value: str = "") -> SourceError:
        return SourceError([self.places.problem(path, value, message, remedy)])


def _repeats(items: Any) -> bool:
    return isinstance(items, list) and any(isinstance(item, dict) and REPEAT in item for item in items)


def _plain(value: float) -> str:
    """Return millimetres as text to a tenth of a micrometre, without a negative zero."""
    return f"{round(value, 4) + 0.0:.4f}"


# ---------------------------------------------------------------- sheets of seams


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
