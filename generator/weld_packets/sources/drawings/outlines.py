"""Part outlines from DXF drawings: closed polylines, circles, and chains of lines and arcs joined end to end."""

from __future__ import annotations

import io
import logging
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Any

from ezdxf.edgeminer import Deposit, Edge, find_simple_chain, make_edge
from ezdxf.filemanagement import read
from ezdxf.tools.codepage import toencoding

from weld_packets.errors import Problem, SourceError
from weld_packets.sources.drawings.entities import KINDS, POINT_LIMIT, StrayError, trace
from weld_packets.sources.reading.files import read_bytes, refused
from weld_packets.sources.reading.places import capped

DXF_LIMIT = 20_000_000
"""Bytes that a drawing may have."""
FLATNESS = 0.05
"""Maximum distance in mm between a curve and the straight pieces in its place."""
JOIN_TOLERANCE = 0.01
"""Distance in mm within which two ends count as one point, and heights as zero."""
_ENTITY_LIMIT = 5_000
_RECORD_LIMIT = 30_000
"""Elements, layers, blocks and table entries that a file may hold: reading more takes longer than 5 s."""
_LINE_LIMIT = 1_000_000
"""Lines that a file may have, two for each value: a single element may hold as many points as there is room for."""
_REACH = 1e5
"""Maximum coordinate in mm, that of ``units.kinds.LENGTH``."""
_UNITS = {1: ("in", 25.4), 2: ("ft", 304.8), 4: ("mm", 1.0), 5: ("cm", 10.0), 6: ("m", 1000.0)}
_SIZES = dict(_UNITS.values())
_ANNOTATION = frozenset(
    {"TEXT", "MTEXT", "DIMENSION", "ARC_DIMENSION", "LEADER", "MULTILEADER", "HATCH", "POINT", "VIEWPORT", "TOLERANCE"}
)
_BINARY_SIGN = b"AutoCAD Binary DXF"
_OTHER_FORMATS = {b"AC10": "DWG", b"%PDF": "PDF", b"PK\x03\x04": "ZIP", b"ISO-10303": "STEP"}
_RECORD = re.compile(r"^[ \t]*0[ \t]*\n", re.MULTILINE)
_CODE_PAGE = re.compile(rb"\$DWGCODEPAGE\s+3\s+(\w+)")
Point = tuple[float, float]
Ring = tuple[Point, ...]
_MINIMUM_CORNERS = 3
_REMEDY = "close the outline in the drawing so that each end meets exactly one other"
_LAYER_REMEDY = f"{_REMEDY}, or name the layer of the outline with 'layer:'; what was read is on the layers "


@dataclass(frozen=True)
class _Drawing:
    """An open drawing: its content, its name in messages, its unit and the length of that in mm."""

    document: Any
    file: str
    unit: str
    size: float

    def place(self, x: float, y: float) -> str:
        """Return a place, given in mm, in the unit of the drawing, as who drew it reads it."""
        return f"x {x / self.size:.3f} {self.unit}, y {y / self.size:.3f} {self.unit}"

    def refusal(self, message: str, remedy: str, value: str = "") -> SourceError:
        return refused(self.file, message, remedy, value=value)


def read_outlines(path: Path, file: str, layer: str | None = None, unit: str | None = None) -> tuple[Ring, ...]:
    """Return the closed outlines in the drawing at ``path``, in mm, each without repeating its first point.

    Curves are flattened to within 0.05 mm and ends within 0.01 mm joined. ``layer`` selects one layer; ``unit`` is the
    drawing's unit where the drawing names none (mm, cm, m, in, ft). Raises SourceError for a drawing that cannot be
    read, has another unit or none, lies off the plane, or holds open outlines or blocks.
    """
    data = read_bytes(path, file, DXF_LIMIT)
    drawing = _open(data, file, unit)
    rings: list[Ring] = []
    loose: list[Ring] = []
    count = 0
    selected = _selected(drawing, layer)
    for entity in selected:
        points, closed = _flattened(entity, drawing)
        (rings if closed else loose).append(points)
        count += len(points)
        if count > POINT_LIMIT:
            raise drawing.refusal(f"the outlines have more than {POINT_LIMIT:,} points", "draw a simpler outline")
    return (*rings, *_joined(loose, drawing, _open_remedy(selected, layer)))


def _open_remedy(selected: Sequence[Any], layer: str | None) -> str:
    """Return what to do about an open outline: what is drawn beside it may be on another layer."""
    layers = sorted({entity.dxf.layer for entity in selected if entity.is_supported_dxf_attrib("layer")})
    return f"{_LAYER_REMEDY}{', '.join(layers)}" if layer is None and len(layers) > 1 else _REMEDY


def _open(data: bytes, file: str, unit: str | None) -> _Drawing:
    if data.startswith(_BINARY_SIGN):
        raise refused(file, "is a binary DXF", "save it as text (ASCII) DXF")
    for sign, name in _OTHER_FORMATS.items():
        if data.startswith(sign):
            raise refused(file, f"is a {name} file, not a DXF drawing", "export the outline as text (ASCII) DXF")
    document = _parsed(data, file)
    return _Drawing(document, file, *_unit_of(document, file, unit))


def _parsed(data: bytes, file: str) -> Any:
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)
    text = _text(data)
    if sum(1 for _ in islice(_RECORD.finditer(text), _RECORD_LIMIT + 1)) > _RECORD_LIMIT:
        message = f"the drawing holds more than {_RECORD_LIMIT:,} elements, layers and blocks"
        raise refused(file, message, "export the outline alone")
    if text.count("\n") > _LINE_LIMIT:
        raise refused(file, f"the drawing has more than {_LINE_LIMIT:,} lines", "export the outline alone")
    try:
        return read(io.StringIO(text))
    except Exception as error:  # noqa: BLE001 - a damaged drawing may fail anywhere inside the library
        reason = str(error).split("\n", 1)[0][:100] or type(error).__name__
        raise refused(file, f"is not a readable DXF drawing: {reason}", "export it again as text (ASCII) DXF") from None


def _text(data: bytes) -> str:
    page = _CODE_PAGE.search(data[:50_000])
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        encoding = toencoding(page[1].decode("ascii")) if page else "cp1252"
        return data.decode(encoding, errors="surrogateescape").replace("\r\n", "\n")


def _unit_of(document: Any, file: str, unit: str | None) -> tuple[str, float]:
    code = document.header.get("$INSUNITS", 0)
    if unit is not None and unit not in _SIZES:
        raise refused(file, f"{unit!r} is not a unit of a drawing", f"write one of {', '.join(_SIZES)}", value=unit)
    if code == 0 and unit is None:
        remedy = "set the drawing's unit ($INSUNITS), or write 'unit:' beside 'file:' in the order"
        raise refused(file, "the drawing does not say its unit", remedy)
    name, size = _UNITS.get(code, (f"unit {code}", 0.0)) if code else (str(unit), _SIZES[str(unit)])
    if not size:
        raise refused(file, f"the drawing's unit ($INSUNITS {code}) is not one of mm, cm, m, in, ft", "draw it in mm")
    if unit not in (None, name):
        raise refused(file, f"the drawing is in {name} and the order says {unit}", "correct the one that is wrong")
    return name, size


def _selected(drawing: _Drawing, layer: str | None) -> list[Any]:
    entities = [entity for entity in _all(drawing) if layer is None or _layer(entity) == layer.casefold()]
    drawn = [entity for entity in entities if entity.dxftype() not in _ANNOTATION]
    if len(drawn) > _ENTITY_LIMIT:
        raise drawing.refusal(f"the drawing has more than {_ENTITY_LIMIT:,} elements", "keep only the outline")
    if not drawn:
        raise _nothing_drawn(drawing, layer)
    strange = sorted({entity.dxftype() for entity in drawn} - KINDS)
    if strange:
        remedy = "keep lines, arcs, circles and polylines; explode blocks; or choose a layer with 'layer:'"
        raise drawing.refusal(f"cannot take an outline from {', '.join(strange)}", remedy)
    return drawn


def _layer(entity: Any) -> str:
    """Return the layer of an element as it is compared; an element of an unknown kind keeps none."""
    return str(entity.dxf.layer).casefold() if entity.is_supported_dxf_attrib("layer") else ""


def _all(drawing: _Drawing) -> Iterator[Any]:
    try:
        yield from drawing.document.modelspace()
    except Exception as error:  # noqa: BLE001 - as in _parsed
        raise _damaged(drawing, error) from None


def _nothing_drawn(drawing: _Drawing, layer: str | None) -> SourceError:
    if layer is None:
        return drawing.refusal("nothing is drawn in model space", "draw the outline in model space")
    layers = sorted({entity.dxf.layer for entity in _all(drawing) if entity.is_supported_dxf_attrib("layer")})
    return drawing.refusal(f"nothing is drawn on layer {layer!r}", f"the layers are: {', '.join(layers)}", layer)


def _flattened(entity: Any, drawing: _Drawing) -> tuple[Ring, bool]:
    try:
        corners = [point * drawing.size for point in trace(entity, FLATNESS / drawing.size)]
    except StrayError as error:
        raise drawing.refusal(str(error), "redraw it with lines, arcs, circles and polylines", _name(entity)) from None
    except Exception as error:  # noqa: BLE001 - as in _parsed
        raise _damaged(drawing, error) from None
    _check_reach(corners, entity, drawing)
    points = tuple((point.x, point.y) for point in corners)
    closed = len(points) > 2 and math.dist(points[0], points[-1]) <= JOIN_TOLERANCE  # noqa: PLR2004 - not a dot
    if closed:
        points = points[:-1]
    if closed and len(set(points)) < 3:  # noqa: PLR2004 - a triangle is the smallest outline
        raise drawing.refusal(f"a closed {entity.dxftype()} has no area", "delete it", _name(entity))
    return points, closed


def _check_reach(points: Sequence[Any], entity: Any, drawing: _Drawing) -> None:
    if not all(abs(value) <= _REACH for point in points for value in point.xyz):
        message = f"a {entity.dxftype()} reaches farther than 100 m from zero"
        raise drawing.refusal(message, "check the drawing's unit and origin", _name(entity))
    if any(abs(point.z) > JOIN_TOLERANCE for point in points):
        message = f"a {entity.dxftype()} does not lie in the plane z = 0"
        raise drawing.refusal(message, "flatten the drawing; give the height as 'offset:'", _name(entity))


def _damaged(drawing: _Drawing, error: Exception) -> SourceError:
    return drawing.refusal(f"the drawing is damaged: {str(error)[:100]}", "export it again as text (ASCII) DXF")


def _name(entity: Any) -> str:
    return f"handle {entity.dxf.handle}"


# ---------------------------------------------------------------- chains of lines


def _joined(pieces: Sequence[Ring], drawing: _Drawing, remedy: str) -> tuple[Ring, ...]:
    """Return the closed rings that ``pieces`` form, each without repeating its first point.

    Ends that are close to each other are one. Raises SourceError for every end that meets no other end or several,
    and for rings without area.
    """
    edges = [make_edge(piece[0], piece[-1], payload=piece) for piece in pieces if len(set(piece)) > 1]
    if not edges:
        return ()
    deposit = Deposit(edges, gap_tol=JOIN_TOLERANCE)
    _refuse_open(deposit, drawing, remedy)
    return tuple(_rings(deposit, drawing.file))


def _refuse_open(deposit: Deposit, drawing: _Drawing, remedy: str) -> None:
    problems: list[Problem] = []
    looked_at: set[tuple[int, bool]] = set()
    """Edges, each with whether it is its end: where a thousand meet, the place is looked at once."""
    for edge in deposit.edges:
        for is_end, end in ((False, edge.start), (True, edge.end)):
            if (edge.id, is_end) in looked_at:
                continue
            met = deposit.edges_linked_to(end)
            looked_at |= {(each.id, end.distance(each.start) > end.distance(each.end)) for each in met}
            if len(met) != 2:  # noqa: PLR2004 - an outline goes in and out of each corner
                fault = "is open" if len(met) == 1 else f"branches ({len(met)} ends meet)"
                message = f"the outline {fault} here"
                problems.append(Problem(drawing.file, 0, "", drawing.place(end.x, end.y), message, remedy))
    if problems:
        raise SourceError(capped(problems))


def _rings(deposit: Deposit, file: str) -> list[Ring]:
    """Return the rings in the order in which their first pieces are drawn: every end meets one other by now."""
    rings: list[Ring] = []
    walked: set[Edge] = set()
    for edge in deposit.edges:
        if edge not in walked:
            chain = find_simple_chain(deposit, edge)
            walked.update(chain)
            ring = tuple(point for each in chain for point in _forward(each)[:-1])
            if len(ring) < _MINIMUM_CORNERS:
                raise SourceError([Problem(file, 0, "", "", "a closed outline has no area", "delete the doubled line")])
            rings.append(ring)
    return rings


def _forward(edge: Edge) -> Ring:
    points: Ring = edge.payload
    return points[::-1] if edge.is_reverse else points
