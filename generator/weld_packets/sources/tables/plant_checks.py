"""What must agree between the shop's tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from weld_packets.errors import Problem
from weld_packets.model.approved_tables import TABLE_KINDS, Shop
from weld_packets.model.charts import ArcSchedule, SpotSchedule
from weld_packets.model.machines import Machines
from weld_packets.model.tables import Fault, Faults, Inspection, Inspections, Table, Wires
from weld_packets.sources.reading.places import KeyPath, Places
from weld_packets.sources.reading.references import repeated, unknown

_MANY = ("spot schedule", "spot spacing", "arc schedule")
"""Kinds of which there may be several tables; of every other kind there is exactly one."""
_LISTS = ("entries", "cells", "arms", "power_sources", "guns")

Read = tuple[Table, Places]
"""A table as read, and where its values stand."""


def census_problems(read: Sequence[Read]) -> Iterator[Problem]:
    """Yield tables that share a name, kinds that are missing, and kinds that are there twice."""
    owners: dict[str, str] = {}
    names: dict[str, str] = {}
    for table, places in read:
        kind = str(getattr(table, "kind", ""))
        if table.table in names:
            message = f"{names[table.table]} is already a table of this name"
            yield places.problem(("table",), table.table, message, "give each table its own name")
        if kind in owners and kind not in _MANY:
            message = f"{owners[kind]} is already the table of this kind"
            yield places.problem(("kind",), kind, message, "put the entries of both into one file")
        names.setdefault(table.table, places.file)
        owners.setdefault(kind, places.file)
    for kind in TABLE_KINDS:
        if kind not in owners:
            yield Problem("tables", 0, "", "", f"there is no table of kind {kind!r}", f"add one with 'kind: {kind}'")


def entry_problems(read: Sequence[Read]) -> Iterator[Problem]:
    """Yield entries that share an identifier within their list."""
    for table, places in read:
        for name in _LISTS:
            entries: Sequence[Any] = getattr(table, name, ())
            named: list[tuple[KeyPath, str]] = [
                ((name.replace("_", " "), index, "id"), entry.id)
                for index, entry in enumerate(entries)
                if hasattr(entry, "id")
            ]
            yield from repeated(places, named, "entry")


def shop_problems(shop: Shop, read: Sequence[Read]) -> Iterator[Problem]:
    """Yield every name in a table that leads nowhere."""
    for table, places in read:
        if isinstance(table, SpotSchedule):
            yield from unknown(places, ("spacing",), table.spacing, shop.spot_spacings, "spot spacing table")
            for index, name in enumerate(table.spacing_also):
                yield from unknown(places, ("spacing also", index), name, shop.spot_spacings, "spot spacing table")
            yield from unknown(places, ("hold from",), table.hold_from, shop.spot_schedules, "spot schedule")
        elif isinstance(table, ArcSchedule):
            yield from unknown(places, ("gas",), table.gas, shop.gases, "gas")
        elif isinstance(table, Wires):
            yield from _wires(table, shop, places)
        elif isinstance(table, Machines):
            yield from _machines(table, shop, places)
        elif isinstance(table, Faults | Inspections):
            yield from _limits(table, shop, places)


def _limits(table: Faults | Inspections, shop: Shop, places: Places) -> Iterator[Problem]:
    known = [entry.id for entry in shop.imperfections.entries] if shop.imperfections else []
    entries: tuple[Fault | Inspection, ...] = table.entries
    for index, entry in enumerate(entries):
        for place, name in enumerate(entry.limits):
            yield from unknown(places, ("entries", index, "limits", place), name, known, "imperfection")


def _wires(table: Wires, shop: Shop, places: Places) -> Iterator[Problem]:
    for index, wire in enumerate(table.entries):
        for number, melting in enumerate(wire.melting):
            for place, name in enumerate(melting.gases):
                yield from unknown(
                    places, ("entries", index, "melting", number, "gases", place), name, shop.gases, "gas"
                )


def _machines(table: Machines, shop: Shop, places: Places) -> Iterator[Problem]:
    equipment = [*shop.power_sources, *shop.guns]
    sources = [(("power sources", n, "id"), source.id) for n, source in enumerate(table.power_sources)]
    yield from repeated(
        places, [*sources, *((("guns", n, "id"), gun.id) for n, gun in enumerate(table.guns))], "machine"
    )
    for index, cell in enumerate(table.cells):
        for side, name in enumerate(cell.arms):
            yield from unknown(places, ("cells", index, "arms", side), name, shop.arms, "arm")
            arm = shop.arms.get(name)
            if arm and arm.cell != cell.id:
                message = f"this arm says that it stands in cell {arm.cell!r}"
                yield places.problem(("cells", index, "arms", side), name, message, "make cell and arm agree")
    for index, arm in enumerate(table.arms):
        yield from unknown(places, ("arms", index, "cell"), arm.cell, shop.cells, "cell")
        yield from unknown(places, ("arms", index, "equipment"), arm.equipment, equipment, "power source or gun")
    for index, source in enumerate(table.power_sources):
        for number, rating in enumerate(source.torch.ratings if source.torch else ()):
            for place, name in enumerate(rating.gases):
                key = ("power sources", index, "torch", "ratings", number, "gases", place)
                yield from unknown(places, key, name, shop.gases, "gas")
    for index, gun in enumerate(table.guns):
        yield from unknown(places, ("guns", index, "cap"), gun.cap, shop.caps, "electrode cap")
