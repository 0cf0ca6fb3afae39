"""What is set, for which welds, and what was checked."""

from __future__ import annotations

from typing import Literal

from weld_packets.model.trade import WarningStage
from weld_packets.packet.records.figures import Value
from weld_packets.packet.records.plain import Plain
from weld_packets.packet.records.welds import Picture


class Check(Plain):
    """One check of the operation with its outcome; ``outcome`` "not checked" says why in ``text``.

    ``outcome`` "warning" was checked, and is outside what its source asks without being refused. ``do`` and ``stage``
    say what is done about it, and when; empty where nothing is.
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


class SettingGroup(Plain):
    """Welds that are set alike on one or both robots; ``name`` is the title as it stands inside a sentence, shorter.

    ``set_number`` is what the welding controls keep the settings under, empty where the order does not say.
    ``coupled`` says in sentences how two of the dials limit each other, ``charts`` draws it. ``pass_lines`` are the
    passes of a weld of several.
    """

    key: str
    title: str
    robots: tuple[str, ...]
    welds: tuple[str, ...]
    runs: int
    dialled: tuple[Value, ...]
    derived: tuple[Value, ...]
    checks: tuple[Check, ...]
    name: str = ""
    weld_schedule: str = ""
    coupled: tuple[str, ...] = ()
    charts: tuple[Picture, ...] = ()
    pass_lines: tuple[PassLine, ...] = ()
    pass_source: str = ""
