"""Which operations rest on which qualification record, and which rest on none."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.qualification import Outcome, WeldQualification


@dataclass(frozen=True)
class Resting:
    """How one operation of an order is qualified.

    ``outcome`` is None where nothing was recorded, or no record is kept or used; ``text`` says which. ``rests_on`` are
    the records that cover some of its welds, ``open_welds`` those that none covers.
    """

    number: int
    name: str
    wps: str
    outcome: Outcome | None
    text: str
    rests_on: tuple[str, ...]
    open_welds: tuple[WeldQualification, ...]

    @property
    def verdict(self) -> tuple[object, ...]:
        """What was found, however it was worded by the version of this program that made the packet."""
        welds = tuple((each.welds, each.outcome, each.record) for each in self.open_welds)
        return self.number, self.name, self.wps, self.outcome, self.rests_on, welds


def resting(packet: Packet) -> Iterator[Resting]:
    """Yield how each operation of a packet is qualified."""
    for operation in packet.operations:
        found = operation.qualification
        if found is None:
            yield Resting(operation.number, operation.name, "", None, "not recorded", (), ())
            continue
        inside = (welds.record for welds in found.welds if welds.outcome == "inside")
        yield Resting(
            operation.number,
            operation.name,
            found.wps,
            found.outcome,
            found.text,
            tuple(dict.fromkeys(inside)),
            tuple(welds for welds in found.welds if welds.outcome != "inside"),
        )
