"""What must be looked at before an operation runs."""

from __future__ import annotations

from typing import Literal

from weld_packets.model.trade import WarningStage
from weld_packets.packet.records.plain import Plain


class OperationWarning(Plain):
    """A warning about an operation, or a check of it that could not be made, told once with all that it concerns.

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
