"""General tolerances of a welded part, and the sizes of an operation that are held to them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Angle, Length, Name, Number, Record, Size
from weld_packets.model.table import Table

LinearClass = Literal["A", "B", "C", "D"]
FormClass = Literal["E", "F", "G", "H"]
SizeKind = Literal["linear", "straightness", "flatness", "parallelism", "angle"]


class NominalSize(Record):
    """One size of the part as an operation leaves it.

    ``size`` is a length; of a form the longer side, and of an ``angle`` its shorter leg.
    """

    name: Name
    kind: SizeKind = "linear"
    size: Size
    angle: Angle | None = None


class ToleranceClasses(Record):
    """The classes of the drawing: of lengths and angles, and of form."""

    linear: LinearClass | None = None
    form: FormClass | None = None


class Band(Record):
    """Nominal sizes over one and up to and including another; ``memory`` are the classes whose value was not read."""

    over: Length
    up_to: Length | None = None
    memory: tuple[Name, ...] = ()


class LinearBand(Band):
    """Permitted deviation of a length, plus and minus, by class."""

    A: Size
    B: Size
    C: Size
    D: Size


class AngularBand(Band):
    """Permitted deviation of an angle, plus and minus in minutes, by class."""

    A: Number
    B: Number
    C: Number
    D: Number


class FormBand(Band):
    """Permitted straightness, flatness and parallelism by class."""

    E: Size
    F: Size
    G: Size
    H: Size


class GeneralTolerances(Table):
    """The general tolerances of a standard; the program brings those that it knows, a plant's table goes before."""

    kind: Literal["general tolerances"]
    standard: Name
    editions: Annotated[tuple[Name, ...], Field(min_length=1)]
    linear: Annotated[tuple[LinearBand, ...], Field(min_length=1)]
    angular: Annotated[tuple[AngularBand, ...], Field(min_length=1)]
    form: Annotated[tuple[FormBand, ...], Field(min_length=1)]
