"""What an order leaves fitted, as its record keeps it for the next order: exactly, and for a reader."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from weld_packets.packet.records import FittedAtEnd, Packet
from weld_packets.planning import Left
from weld_packets.units import plain, significant, with_unit

_DIGITS = 3


def fitted_at_end(left: Sequence[Left]) -> tuple[FittedAtEnd, ...]:
    """Return what an order leaves fitted as its record keeps it."""
    return tuple(
        FittedAtEnd(
            place=each.place,
            what=each.what,
            item=each.item,
            used=str(each.used),
            share=_per_cent(each.used),
            dressings=each.dressings,
            order=each.order,
            revision=each.revision,
            wear=str(each.wear),
            counted=each.counted,
            begun="" if each.begun is None else str(each.begun),
            dressings_begun=each.dressings_begun,
            turns=each.turns,
        )
        for each in left
    )


def left_by(packet: Packet, revision: str) -> tuple[Left, ...]:
    """Return what the released ``revision`` of an order leaves fitted; nothing in records that do not hold it."""
    return tuple(
        Left(
            place=each.place,
            what=each.what,
            item=each.item,
            used=Fraction(each.used),
            dressings=each.dressings,
            order=each.order,
            revision=each.revision or (revision if each.order == packet.head.number else ""),
            wear=Fraction(each.wear),
            counted=each.counted,
            begun=Fraction(each.begun) if each.begun else None,
            dressings_begun=each.dressings_begun,
            turns=each.turns,
        )
        for each in packet.run.fitted_at_end
    )


def _per_cent(used: Fraction) -> str:
    number = Decimal(100) * used.numerator / used.denominator
    return with_unit(plain(significant(number, _DIGITS) if number else number), "%")
