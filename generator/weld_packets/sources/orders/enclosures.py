"""What an order brings along: weld lists in CSV and part outlines in DXF, put where they belong in its tree."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from weld_packets.errors import Gathering, SourceError, located
from weld_packets.model.processes import written_for
from weld_packets.sources.orders.repeats import COMPONENTS, DEFAULTS, REPEAT, components_written_out, written_out
from weld_packets.sources.orders.seam_sheet import SEAM_COLUMNS, seams_of
from weld_packets.sources.reading.files import neighbour, read_text
from weld_packets.sources.reading.places import Document, KeyPath, Origin, Places, key_text
from weld_packets.sources.reading.sheet import Column, read_sheet
from weld_packets.units import kinds

SPOT_COLUMNS = (
    Column("id"),
    Column("robot"),
    Column("stack"),
    *(Column(axis, kinds.LENGTH) for axis in ("x", "y", "z")),
)
WELDS = "welds"
"""The key of an operation that names a CSV list in place of its welds."""


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
