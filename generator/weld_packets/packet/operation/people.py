"""Which qualification of people an operation needs, and who holds it."""

from __future__ import annotations

from weld_packets.calculation.people import holders, needed_for
from weld_packets.model.people import PersonQualification
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import Holder, People
from weld_packets.wording.people import STANDARD, needs_words


def people(view: OperationView) -> People:
    """Return what an operation needs of its people, and who holds it by the plant's table."""
    needed, table = needed_for(view.result), view.approved.people
    if table is None:
        return People(needs=needs_words(needed, STANDARD), kept=False)
    standard = f"{table.standard}:{table.edition}"
    return People(
        needs=needs_words(needed, standard),
        kept=True,
        holders=tuple(_holder(entry) for entry in holders(needed, table)),
        source=f"table {table.table}, revision {table.revision}",
    )


def _holder(entry: PersonQualification) -> Holder:
    return Holder(
        number=entry.id,
        duties=entry.duties,
        tested=entry.tested.isoformat(),
        valid_until=entry.valid_until.isoformat(),
        confirmed=entry.confirmed.isoformat() if entry.confirmed else "",
        document=entry.document,
    )
