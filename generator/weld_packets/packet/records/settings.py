"""Welds, what is set for them, what was checked, and what must be looked at."""

from __future__ import annotations

from typing import Literal

from weld_packets.model.trade import WarningStage
from weld_packets.packet.records.values import Value
from weld_packets.units import Amount, Plain
from weld_packets.wording.english import capital, inside, joined, listed, some


class LegendLine(Plain):
    """One line of a diagram's legend: its sign as inline SVG, empty for words alone, and its meaning."""

    sign: str = ""
    text: str


_OF_TORCH = "-torch"


class Picture(Plain):
    """One diagram as inline SVG; ``description`` says in words what it shows.

    ``legend`` is text of the page, so that it keeps its size beside a drawing of any; older records have it in the SVG.
    """

    key: str
    title: str
    description: str
    caption: str
    svg: str
    legend: tuple[LegendLine, ...] = ()

    @staticmethod
    def key_of_torch(operation: str) -> str:
        """Return the key of the picture that shows the attitude of the torch in an operation."""
        return f"{operation}{_OF_TORCH}"

    @property
    def is_of_torch(self) -> bool:
        """Whether it shows the attitude of the torch; records of any age say so by the key alone."""
        return self.key.endswith(_OF_TORCH)  # that records of any age hold


class WeldLine(Plain):
    """One weld in the table under the diagram: cells in the order of ``OperationSheet.weld_columns``."""

    key: str
    cells: tuple[str, ...]


class WeldGeometry(Plain):
    """Where one weld is, as decimal text in mm in the fixture datum, for comparing revisions and drawing ghosts.

    ``pieces``: for a spot one point; for a seam the start, then for each piece its end, or via and end.
    """

    key: str
    robot: str
    side: Literal["A", "B"]
    form: Literal["spot", "seam"]
    pieces: tuple[tuple[str, ...], ...]
    label: str


class ComponentOutline(Plain):
    """One closed outline of a component as X, Y, Z in mm (decimal text, fixture datum), drawn under comparisons."""

    component: str
    points: tuple[tuple[str, str, str], ...]


class ComponentLine(Plain):
    """A component that goes into the fixture; ``coating`` is ``none`` where it has none."""

    key: str
    name: str
    material: str
    coating: str
    thickness: Amount


class Check(Plain):
    """One check of the operation with its outcome; ``outcome`` "not checked" says why in ``text``.

    ``outcome`` "warning" was checked, and is outside what its source requires without being refused. ``do`` and
    ``stage`` say what is done about it, and when; empty where nothing is.
    """

    subject: str
    text: str
    outcome: Literal["passed", "not checked", "warning"]
    source: str
    do: str = ""
    stage: WarningStage | Literal[""] = ""


class PassLine(Plain):
    """One pass of several: where it lies, where the wire points, what is cleaned before it, the throat so far."""

    number: int
    place: str
    aim: str
    cleaning: str
    throat: str


class LinkedLimit(Plain):
    """How far one setting of a group may go beside another: from ``minimum`` to ``maximum`` times a power of it.

    ``value`` is the key of the setting that is limited, ``other`` of the one that limits it. Both ends are decimal
    text in the units in which the two are set, an open end empty.
    """

    value: str
    other: str
    power: Literal[1, -2]
    minimum: str = ""
    maximum: str = ""


class SettingGroup(Plain):
    """Welds with equal settings on one or both robots; ``name`` is the title as it reads inside a sentence, shorter.

    ``weld_schedule`` is the number under which the controls keep the settings, empty where the order does not say.
    ``coupled`` says in sentences how two of the dials limit each other, ``charts`` draws it, ``linked`` has it as
    numbers, which older records lack. ``pass_lines`` are the passes of a weld of several. ``sign`` is the SVG of the
    marks that its welds have on the map, empty where they have the marks of all.
    """

    key: str
    title: str
    robots: tuple[str, ...]
    welds: tuple[str, ...]
    pass_count: int
    dialled: tuple[Value, ...]
    derived: tuple[Value, ...]
    checks: tuple[Check, ...]
    name: str = ""
    weld_schedule: str = ""
    coupled: tuple[str, ...] = ()
    linked: tuple[LinkedLimit, ...] = ()
    charts: tuple[Picture, ...] = ()
    pass_lines: tuple[PassLine, ...] = ()
    pass_source: str = ""
    sign: str = ""


class WeldDetail(Plain):
    """One line of an operation: what it is about, what holds, on what authority; ``of`` names welds if not all.

    ``stated`` is no where no table and no order says it, so that whoever welds must ask.
    """

    key: str
    label: str
    text: str
    source: str = ""
    stated: bool = True
    of: str = ""
    welds: tuple[str, ...] = ()


class WeldLimit(Plain):
    """What a quality level allows of one imperfection at some welds of an operation.

    ``numbers`` are those of ISO 6520-1. ``text`` says the limit with how it comes about; ``size`` is its number, None
    where it is none, or depends on what is measured on the weld. ``of`` names the welds where they are not all.
    """

    key: str
    numbers: tuple[str, ...]
    name: str
    level: str
    text: str
    size: Amount | None = None
    short: bool = False
    of: str = ""
    welds: tuple[str, ...] = ()
    source: str = ""
    standing: Literal["read", "from memory"] = "read"

    @property
    def line(self) -> str:
        """The limit in one line, with its quality level and the welds that it is for."""
        of = f" of {self.of}" if self.of else ""
        return f"level {self.level}, {self.name}{of}: {self.text}"


class OperationWarning(Plain):
    """A warning about an operation, or a check of it that could not be made, given once with all that it concerns.

    ``about`` names the values or the subject of the check. ``groups`` and ``welds`` are empty where it concerns the
    whole operation. ``do`` is a sentence that begins with a verb, and ``stage`` says when; both are empty where it is
    only to be known.
    """

    weight: Literal["warning", "not checked"]
    text: str
    about: tuple[str, ...]
    groups: tuple[str, ...] = ()
    welds: tuple[str, ...] = ()
    source: str = ""
    do: str = ""
    stage: WarningStage | Literal[""] = ""

    @property
    def sentence(self) -> str:
        """What the warning is about, and what is the matter."""
        return f"{capital(listed(inside(each) for each in self.about))}: {self.text.rstrip('.')}."

    @property
    def place(self) -> str:
        """The groups of settings that it concerns, with their welds; empty for the whole operation."""
        return f"{listed(self.groups)}: {some(self.welds)}" if self.groups else ""

    @property
    def line(self) -> str:
        """The warning in one line, for a terminal."""
        return joined((self.sentence, f"({self.place})" if self.place else "", self.do), " ")
