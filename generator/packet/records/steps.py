"""Steps of work."""

from __future__ import annotations

from generator.packet.records.plain import Plain


class Action(Plain):
    """One step: one action, what to see when it is right, and messages that come before it.

    ``value`` is a setting or fact that the step uses, in large type; ``callouts`` are keys of ``Packet.callouts``.
    """

    do: str
    see: str = ""
    value: str = ""
    callouts: tuple[str, ...] = ()
    hold: bool = False
    """True where work stops until somebody signs or agrees."""
