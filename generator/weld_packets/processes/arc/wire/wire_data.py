"""Wire feed and current of one torch, tied by the melting data of its wire: one follows from the other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from weld_packets.calculation.trace import Given, Lookup, Step
from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.model.table import Table
from weld_packets.model.tables.materials import Melting, MeltingLaw, MeltingPoint, Wire
from weld_packets.model.trade import TransferMode
from weld_packets.processes.arc.melting import drawn_current, melted_wire_feed, stick_out, wire_section
from weld_packets.units import Quantity, as_written, in_mm, is_between, magnitude, quantity, spelling

_FRACTION = Decimal("0.000001")


@dataclass(frozen=True)
class Tied:
    """A wire feed or a current that follows from the other, with the steps that lead to it."""

    result: Quantity
    trace: tuple[Step, ...]


@dataclass(frozen=True)
class WireData:
    """Melting data of a wire as they hold for one gas, mode of transfer and contact distance.

    Attributes:
        melting: the entry of the table of wires.
        words: the data in words, such as ``the law of melting of wire G3Si1-1.2``.
        feed: wire feed that a current (A) melts; OutOfRangeError where the data do not reach it.
        current: current that a wire feed (m/min) draws; OutOfRangeError where the data do not reach it.

    """

    melting: Melting
    words: str
    feed: Callable[[Quantity], Tied]
    current: Callable[[Quantity], Tied]

    @property
    def scatter(self) -> float:
        """Share by which the wire feed of other machines and wires differs at the same current."""
        return magnitude(self.melting.scatter, "1")

    def reaches(self, current: Quantity) -> bool:
        """Return whether the data say what a current melts: a law does, points do between the first and the last."""
        points = self.melting.points
        if not points:
            return True
        low, high = (magnitude(points[place].current, "A") for place in (0, -1))
        return is_between(low, magnitude(current, "A"), high)

    def currents(self, low: Quantity, high: Quantity) -> tuple[Quantity, Quantity]:
        """Return the lowest and the highest current that a feed from ``low`` to ``high`` draws within the scatter.

        A machine that melts more wire with a current draws less current at a feed. Data of points end where they end.
        """
        slow, fast = low / (1 + self.scatter), high / (1 - self.scatter)
        if self.melting.points:
            slow = max(slow, self.melting.points[0].wire_feed)
            fast = min(fast, self.melting.points[-1].wire_feed)
        return self.current(slow).result, self.current(fast).result


def wire_data(wire: Wire, gas: str, transfer: TransferMode, distance: Quantity, table: Table) -> WireData | None:
    """Return the melting data of a wire for a gas, a mode of transfer and a contact distance; None where none hold.

    ``table`` is the table of wires.
    """
    for melting in wire.melting:
        if gas not in melting.gases:
            continue
        if melting.law is None and _measured_at(melting, distance):
            return _by_points(wire, melting, table)
        if melting.law is not None and transfer in melting.law.arc_length:
            return _by_law(wire, melting, melting.law, transfer, distance)
    return None


def _measured_at(melting: Melting, distance: Quantity) -> bool:
    low, high = melting.contact_distance_from, melting.contact_distance_to
    return low is not None and high is not None and in_mm(low) <= in_mm(distance) <= in_mm(high)


def _by_law(wire: Wire, melting: Melting, law: MeltingLaw, transfer: TransferMode, distance: Quantity) -> WireData:
    origin = f"table of wires, {wire.id}: {melting.source}"
    section = wire_section.work(wire_diameter=wire.diameter)
    arc_length = law.arc_length[transfer]
    length = stick_out.work(contact_distance=distance, arc_length=arc_length)
    if in_mm(length.result) <= 0:
        raise refusal(
            f"at a contact distance of {as_written(distance)} the arc of {as_written(arc_length)} leaves no stick-out",
            "correct the contact distance of the chart, or the arc length in the table of wires",
            value=as_written(distance),
        )
    constants = {
        "arc_melting": quantity(float(law.arc), "1"),
        "resistance_melting": quantity(float(law.resistance), "1"),
    }
    before = (
        Given("arc melting", constants["arc_melting"], "1", origin),
        Given("resistance melting", constants["resistance_melting"], "1", origin),
        Given("arc length", arc_length, spelling(arc_length), origin),
        section,
        length,
    )
    known = {**constants, "section": section.result, "stick_out": length.result}

    def feed(current: Quantity) -> Tied:
        worked = melted_wire_feed.work(**known, welding_current=current)
        return Tied(worked.result, (*before, worked))

    def current(wire_feed: Quantity) -> Tied:
        worked = drawn_current.work(**known, wire_feed=wire_feed)
        return Tied(worked.result, (*before, worked))

    return WireData(melting, f"the law of melting of wire {wire.id}", feed, current)


def _by_points(wire: Wire, melting: Melting, table: Table) -> WireData:
    def feed(current: Quantity) -> Tied:
        return _between(wire, melting, table, "current", "wire_feed", current)

    def current(wire_feed: Quantity) -> Tied:
        return _between(wire, melting, table, "wire_feed", "current", wire_feed)

    return WireData(melting, f"the measured melting of wire {wire.id}", feed, current)


def _between(  # noqa: PLR0917 - where to look, along which column, for which other one
    wire: Wire, melting: Melting, table: Table, along: str, wanted: str, at: Quantity
) -> Tied:
    """Return what the neighbouring points of a wire give at a value, linear between them."""
    unit = spelling(getattr(melting.points[0], along))
    there = magnitude(at, unit)
    for first, second in pairwise(melting.points):
        low, high = (magnitude(getattr(point, along), unit) for point in (first, second))
        if is_between(low, there, high):
            share = (there - low) / (high - low)
            return _looked_up(wire, melting, table, (first, second), share, (along, wanted), at)
    raise _outside(wire, melting, along, at)


def _looked_up(  # noqa: PLR0917 - the parts of one look-up
    wire: Wire,
    melting: Melting,
    table: Table,
    points: tuple[MeltingPoint, MeltingPoint],
    share: float,
    columns: tuple[str, str],
    at: Quantity,
) -> Tied:
    along, wanted = columns
    ends = [getattr(point, wanted) for point in points]
    unit = spelling(ends[0])
    first, last = (magnitude(end, unit) for end in ends)
    result = quantity(first + (last - first) * share, unit)
    lookup = Lookup(
        table=table.table,
        revision=table.revision,
        source=f"{wire.id}: {melting.source}",
        column=wanted.replace("_", " "),
        at=at,
        rows=tuple(as_written(getattr(point, along)) for point in points),
        values=tuple(as_written(end) for end in ends),
        fraction=Decimal(share).quantize(_FRACTION),
        result=result,
    )
    return Tied(result, (lookup,))


def _outside(wire: Wire, melting: Melting, along: str, at: Quantity) -> OutOfRangeError:
    ends = " to ".join(as_written(getattr(melting.points[place], along)) for place in (0, -1))
    return refusal(
        f"wire {wire.id} has been measured at a {along.replace('_', ' ')} of {ends}, not at {as_written(at)}",
        "use a chart inside these, or measure more points of the wire; they are never extrapolated",
        value=as_written(at),
    )
