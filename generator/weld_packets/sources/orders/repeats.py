"""Welds and components that an order writes once: defaults for all welds, and copies by mirror, turn and step.

``weld defaults`` gives what a weld does not say itself. An item with ``repeat`` takes the place of one weld for each of
its ``ids``: the welds that it names, mirrored, then turned, then moved, with its other keys in place of theirs. A
component is repeated with its outlines.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from math import cos, radians, sin
from typing import Any

from weld_packets.errors import Gathering, PacketError, SourceError, located
from weld_packets.sources.reading.nearest import nearest
from weld_packets.sources.reading.places import KeyPath, Origin, Places, key_text
from weld_packets.units import Quantity, exact, kinds, parse, parse_number, plain, spelling

DEFAULTS, REPEAT, COMPONENTS = "weld defaults", "repeat", "components"
_ID, _IDS = "id", "ids"
_AXES = ("x", "y", "z")
_TURNED = {"X": (1, 2), "Y": (2, 0), "Z": (0, 1)}
"""The two axes that a turn about an axis changes, the first turning toward the second."""
_MOVES = ("mirror", "turn", "step")
_OWN = (REPEAT, _ID, _IDS, *_MOVES)
_PLANES = {"XY": (0, 1, 2), "XZ": (0, 2, 1), "YZ": (1, 2, 0)}
"""The axes along and up each plane of an outline, and the one across which it is offset."""
_RIGHT_ANGLES = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}
"""Cosine and sine of the turns that leave every coordinate exact."""
_KNOWN_TO = Decimal("0.0001")
"""Of a millimetre: to what a coordinate turned by another angle is rounded, as those of drawings are."""
Point = tuple[Decimal, Decimal, Decimal]


@dataclass(frozen=True)
class _Move:
    """A mirror at a plane across an axis, a turn about a line along one, and a step, in this order."""

    mirror: tuple[int, Quantity] | None = None
    turn: tuple[str, Sequence[Quantity], Decimal] | None = None
    step: Sequence[Quantity] | None = None

    def of(self, point: Point, unit: str, times: int) -> Point:
        """Return where a point is for the copy that is moved so many times; coordinates in ``unit``."""
        moved = list(point)
        if self.mirror:
            axis, plane = self.mirror
            moved[axis] = 2 * exact(plane, unit) - moved[axis]
        if self.turn:
            about, centre, angle = self.turn
            moved = self._turned(moved, about, [exact(each, unit) for each in centre], angle * times, unit)
        if self.step:
            moved = [at + times * exact(step, unit) for at, step in zip(moved, self.step, strict=True)]
        return moved[0], moved[1], moved[2]

    @staticmethod
    def _turned(point: list[Decimal], about: str, centre: list[Decimal], angle: Decimal, unit: str) -> list[Decimal]:
        first, second = _TURNED[about]
        a, b = point[first] - centre[first], point[second] - centre[second]
        right = _RIGHT_ANGLES.get(int(angle) % 360) if angle == int(angle) else None
        turn = right or (Decimal(cos(radians(angle))), Decimal(sin(radians(angle))))
        turned = list(point)
        turned[first] = centre[first] + turn[0] * a - turn[1] * b
        turned[second] = centre[second] + turn[1] * a + turn[0] * b
        if right is None:
            known = _KNOWN_TO if unit == "mm" else _KNOWN_TO / 100
            turned = [value.quantize(known) for value in turned]
        return turned


@dataclass
class _Weld:
    """A weld in the making: its keys, where it is written, and what of it is written elsewhere."""

    keys: dict[str, Any]
    origin: Origin
    elsewhere: dict[str, Origin] = field(default_factory=dict)


@dataclass(frozen=True)
class Written:
    """The welds of an operation, each written out, and where what is not in its own place is written."""

    welds: list[Any]
    origins: dict[KeyPath, Origin]


def written_out(operation: Mapping[str, Any], key: str, path: KeyPath, places: Places) -> Written:
    """Return the welds under ``key`` of an ``operation`` at ``path`` written out, with defaults and copies.

    Raises SourceError for every repeat that cannot be made: of a weld that is not before it, without a move, or with a
    number of identifiers that does not fit.
    """
    return _Writing(operation.get(DEFAULTS), key, path, places).all(operation[key])


def components_written_out(components: list[Any], path: KeyPath, places: Places) -> Written:
    """Return the components of an operation at ``path`` written out; raise SourceError as for welds."""
    return _Writing(None, COMPONENTS, path, places, "component").all(components)


class _Writing:
    def __init__(self, defaults: Any, key: str, path: KeyPath, places: Places, what: str = "weld") -> None:
        self._what = what
        self._at = (*path, DEFAULTS)
        if defaults is not None and not isinstance(defaults, dict):
            message, remedy = "keys of a weld are expected here", "write 'weld defaults: {joint: T fillet}'"
            raise SourceError([places.problem(self._at, "", message, remedy)])
        self._defaults: dict[str, Any] = defaults or {}
        self._list = (*path, key)
        self._places = places
        self._gathering = Gathering()
        self._made: dict[str, _Weld] = {}

    def all(self, items: list[Any]) -> Written:
        welds: list[_Weld | Any] = []
        for index, item in enumerate(items):
            origin = Origin((*self._list, index))
            if not isinstance(item, dict):
                welds.append(_Weld(item, origin))
            elif REPEAT in item:
                with self._gathering.step():
                    welds += self._copies(item, origin)
            else:
                welds.append(self._own(item, origin))
        self._gathering.finish()
        origins: dict[KeyPath, Origin] = {}
        for index, weld in enumerate(welds):
            origins[*self._list, index] = weld.origin
            origins |= {(*self._list, index, name): origin for name, origin in weld.elsewhere.items()}
        return Written([weld.keys for weld in welds], origins)

    def _own(self, item: dict[str, Any], origin: Origin) -> _Weld:
        given = {name: value for name, value in self._defaults.items() if name not in item}
        weld = _Weld(given | item, origin, {name: Origin((*self._at, name)) for name in given})
        if isinstance(name := item.get(_ID), str):
            self._made.setdefault(name, weld)
        return weld

    def _copies(self, item: dict[str, Any], origin: Origin) -> Iterator[_Weld]:
        names = self._names(item, REPEAT, origin)
        ids = self._names(item, _IDS if _IDS in item else _ID, origin)
        for name in names:
            if name not in self._made:
                remedy = f"name one that is above it: {nearest(name, self._made)}"
                self._refuse(origin, REPEAT, f"there is no {self._what} of this name above", remedy, name)
        if len(ids) % len(names) or not ids:
            message = f"{len(names)} {self._what}s are repeated, and 'ids' names {len(ids)}"
            self._refuse(origin, _IDS, message, "name one for each, or as many more for each further step")
        move = self._move(item, origin)
        if move.mirror and len(ids) > len(names):
            message = "a second copy by the same mirror lies on the first"
            self._refuse(origin, "mirror", message, "make it another repeat")
        for number, name in enumerate(ids):
            original = self._made[names[number % len(names)]]
            yield self._copy(original, item, name, move, number // len(names) + 1, origin)

    def _copy(  # noqa: PLR0917 - what a copy is made of
        self, original: _Weld, item: dict[str, Any], name: str, move: _Move, times: int, origin: Origin
    ) -> _Weld:
        note = f"copy {name} of {original.keys[_ID]}"
        own = {key: value for key, value in item.items() if key not in _OWN}
        keys = original.keys | own | {_ID: name}
        elsewhere = {key: self._origin_of(original, key) for key in original.keys if key not in (*own, _ID)}
        if "outlines" in keys:
            self._check_turn(keys, item, move, origin)
        moved = self._moved(keys, move, times)
        elsewhere |= {key: Origin((*origin.path, key)) for key in own}
        elsewhere |= {key: Origin(origin.path, note) for key in moved}
        weld = _Weld(keys | moved, Origin(origin.path, note), elsewhere)
        self._made.setdefault(name, weld)
        return weld

    def _check_turn(self, keys: dict[str, Any], item: dict[str, Any], move: _Move, origin: Origin) -> None:
        """Refuse a turn that takes an outline out of the planes of the datum, or a tube off its axis."""
        if move.turn is None:
            return
        about, _, angle = move.turn
        planes = {outline.get("plane", "XY") for outline in keys["outlines"] if isinstance(outline, dict)}
        if angle % 90 and any(_AXES[_PLANES.get(plane, _PLANES["XY"])[2]] != about.lower() for plane in planes):
            message = "an outline that is turned so lies in no plane of the datum"
            self._refuse(origin, "turn", message, "turn it by right angles, or about the normal of its plane")
        section = keys.get("section")
        if isinstance(section, dict) and section.get("axis") not in (None, about) and "section" not in item:
            remedy = "write 'section' of the copy, with the axis along which it runs"
            self._refuse(origin, "turn", "the tube no longer runs along the axis of its 'section'", remedy)

    @staticmethod
    def _origin_of(weld: _Weld, key: str) -> Origin:
        """Return where a key of a weld is written."""
        if key in weld.elsewhere:
            return weld.elsewhere[key]
        return Origin((*weld.origin.path, key), weld.origin.note)

    @staticmethod
    def _moved(keys: dict[str, Any], move: _Move, times: int) -> dict[str, Any]:
        """Return what of a weld a move changes; nothing where it cannot be read, which is reported of the original."""
        try:
            if "path" in keys:
                return {"path": _moved_path(keys["path"], move, times)}
            if "outlines" in keys:
                return {"outlines": [_moved_outline(outline, move, times) for outline in keys["outlines"]]}
            return _moved_point(keys, move, times)
        except (PacketError, KeyError, TypeError, ValueError, AttributeError):
            return {}

    def _names(self, item: dict[str, Any], key: str, origin: Origin) -> list[str]:
        value = item.get(key)
        names = [value] if isinstance(value, str) else value
        if not isinstance(names, list) or not names or not all(isinstance(name, str) for name in names):
            what = "the identifiers of the copies" if key != REPEAT else f"the {self._what}s to repeat"
            self._refuse(origin, key, f"{what} are missing", f"write '{key}: [S3, S4]'")
        return list(names or [])

    def _move(self, item: dict[str, Any], origin: Origin) -> _Move:
        if not any(name in item for name in _MOVES):
            remedy = "add 'step: {x: 40 mm}', 'mirror: {y: 250 mm}' or 'turn: {about: Z, at: {x: 0 mm}, by: 90°}'"
            message = "this repeat has no step, mirror or turn, so that it lies on the first"
            self._refuse(origin, REPEAT, message, remedy)
        mirror = self._lengths(item, "mirror", origin)
        if mirror is not None and len(item["mirror"]) != 1:
            self._refuse(origin, "mirror", "a mirror is at one plane", "write one axis, such as {y: 250 mm}")
        axis = _AXES.index(next(iter(item["mirror"]))) if mirror else 0
        return _Move(
            mirror=(axis, mirror[axis]) if mirror else None,
            turn=self._turn(item, origin),
            step=self._lengths(item, "step", origin),
        )

    def _turn(self, item: dict[str, Any], origin: Origin) -> tuple[str, Sequence[Quantity], Decimal] | None:
        turn = item.get("turn")
        if turn is None:
            return None
        form = "write {about: Z, at: {x: 0 mm, y: 0 mm}, by: 90°}"
        if not isinstance(turn, dict) or set(turn) != {"about", "at", "by"} or turn["about"] not in _TURNED:
            self._refuse(origin, "turn", "a turn has an axis, a place and an angle", form)
        centre = self._lengths(turn, "at", Origin((*origin.path, "turn")))
        with located(*self._places.at((*origin.path, "turn", "by")), key_text((*origin.path, "turn", "by"))):
            angle = exact(parse(str(turn["by"]), kinds.ANGLE), "°")
        return turn["about"], centre or (), angle

    def _lengths(self, item: dict[str, Any], key: str, origin: Origin) -> list[Quantity] | None:
        """Return the lengths along x, y and z that a key gives; nothing along an axis that it leaves out."""
        given = item.get(key)
        if given is None:
            return None
        if not isinstance(given, dict) or not given or set(given) - set(_AXES):
            self._refuse(origin, key, "lengths along x, y or z are expected", f"write '{key}: {{x: 40 mm}}'")
        found: list[Quantity] = []
        for axis in _AXES:
            path = (*origin.path, key, axis)
            with located(*self._places.at(path), key_text(path)):
                found.append(parse(str(given.get(axis, "0 mm")), kinds.LENGTH))
        return found

    def _refuse(self, origin: Origin, key: str, message: str, remedy: str, value: str = "") -> None:
        raise SourceError([self._places.problem((*origin.path, key), value, message, remedy)])


def _moved_path(path: Mapping[str, Any], move: _Move, times: int) -> dict[str, Any]:
    unit = path["unit"]

    def moved(point: Sequence[str]) -> list[str]:
        x, y, z = (parse_number(each) for each in point)
        return [plain(each) for each in move.of((x, y, z), unit, times)]

    pieces = [{name: moved(point) for name, point in piece.items()} for piece in path["pieces"]]
    return {**path, "start": moved(path["start"]), "pieces": pieces}


def _moved_point(keys: Mapping[str, Any], move: _Move, times: int) -> dict[str, str]:
    given = [parse(keys[axis], kinds.LENGTH) for axis in _AXES]
    unit = spelling(given[0])
    x, y, z = (exact(each, unit) for each in given)
    moved = move.of((x, y, z), unit, times)
    return {axis: f"{plain(value)} {unit}" for axis, value in zip(_AXES, moved, strict=True)}


def _moved_outline(outline: Mapping[str, Any], move: _Move, times: int) -> dict[str, Any]:
    """Return an outline in the plane in which a move leaves it, which is one of the datum's."""
    _, up, across = _PLANES[outline.get("plane", "XY")]
    unit = outline["unit"]
    offset = exact(parse(outline["offset"], kinds.LENGTH), unit) if "offset" in outline else Decimal(0)

    def moved(a: Decimal, b: Decimal, c: Decimal) -> Point:
        at = [a] * 3
        at[up], at[across] = b, c
        return move.of((at[0], at[1], at[2]), unit, times)

    zero, tip = moved(Decimal(0), Decimal(0), offset), moved(Decimal(0), Decimal(0), offset + 1)
    normal = max(range(3), key=lambda axis: abs(tip[axis] - zero[axis]))
    plane, axes = next((name, axes) for name, axes in _PLANES.items() if axes[2] == normal)
    corners = [moved(parse_number(a), parse_number(b), offset) for a, b in outline["points"]]
    points = [[plain(corner[axes[0]]), plain(corner[axes[1]])] for corner in corners]
    return {**outline, "plane": plane, "offset": f"{plain(zero[normal])} {unit}", "points": points}
