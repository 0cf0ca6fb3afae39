"""The pages over all orders: their list, the register, the tables that were used, the qualification records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from weld_packets.errors import PacketError, Problem
from weld_packets.packet.program_use import ProgramClash
from weld_packets.plant.archive import today_of
from weld_packets.plant.shared_numbers import clashing_programs, repeated_numbers
from weld_packets.revisions.queries.archive import Archive
from weld_packets.revisions.store.files import open_archive
from weld_packets.site.build.all_orders import gathered, write_lists
from weld_packets.site.pages.all_orders.instrument_page import (
    KeptInstrument,
    KeptInstruments,
    KeptMachine,
    KeptValidation,
)
from weld_packets.site.pages.all_orders.qualification_page import KeptRecord
from weld_packets.sources.folders import INSTRUCTIONS, ORDER_FILE, SITES, order_path
from weld_packets.sources.looks import load_looks
from weld_packets.sources.tables.tables import kept_instruments, kept_plant, kept_records
from weld_packets.wording.qualification import record_dates, record_end, standard_words


def write_pages_over_all(
    root: Path, cards: Mapping[str, dict[str, Any]], sources: str, archive: Archive | None = None
) -> tuple[Problem, ...]:
    """Write them from the cards of the orders' sites; return what is wrong between orders.

    ``sources`` is the digest of what the pages of tables are made from. The released records are taken from ``archive``
    where the caller has it open: to read a register of thousands of entries takes long.
    """
    archive = archive or open_archive(root / INSTRUCTIONS)
    day = today_of(archive.register.entries, archive.register)
    name, kept = load_looks(root).site_name or plant_name(root), records_kept(root, day)
    over_all = gathered(cards)
    found = clashing_programs(over_all.programs.uses(cards), over_all.numbers.__getitem__)
    clashes = [_placed(clash, cards[clash.order]["status"]) for clash in found]
    write_lists(
        root / SITES,
        over_all,
        archive.register,
        day,
        name,
        read=archive.read,
        kept=kept,
        clashes=clashes,
        instruments=instruments_kept(root),
        sources=sources,
    )
    binding = (clash.problem for clash in clashes if clash.hinders)
    return (*repeated_numbers(over_all.numbers.items()), *binding)


def plant_name(root: Path) -> str:
    """Return the name of the plant as its table says it; empty where that cannot be read."""
    try:
        table = kept_plant(root)
    except PacketError:
        return ""
    return "" if table is None else table.name


def _placed(clash: ProgramClash, status: str) -> ProgramClash:
    """Return a clash with its file: that of a release, whose site may differ from the order's files, is no source."""
    folder, remedy = order_path(clash.order), clash.problem.remedy
    if status == "draft":
        return replace(clash, problem=replace(clash.problem, file=f"{folder}/{ORDER_FILE}"))
    remedy = f"release anew whichever of the two was corrected since; else {remedy}"
    return replace(clash, problem=replace(clash.problem, file=f"{folder}/released", remedy=remedy))


def records_kept(root: Path, day: date) -> tuple[KeptRecord, ...] | None:
    """Return every record of the plant's tables with its dates on a day; None where a table cannot be read."""
    try:
        found = kept_records(root)
    except PacketError:  # the page says that it is so, and `check` what is wrong
        return None
    return tuple(
        KeptRecord(each.table, standard_words(each), record_dates(each, day), record_end(each)) for each in found
    )


def instruments_kept(root: Path) -> KeptInstruments:
    """Return what the plant's tables say of instruments, machines and this program."""
    try:
        machines, table = kept_instruments(root)
    except PacketError:
        return KeptInstruments(unread=True)
    entries, validations = (table.entries, table.validations) if table else ((), ())
    return KeptInstruments(
        table.table if table else "",
        [
            KeptInstrument(
                each.id, each.what, str(each.calibrated), str(each.calibration_due), each.document or "", each.of or ""
            )
            for each in entries
        ],
        [KeptMachine(robot.cell, robot.id, robot.equipment) for robot in (machines.robots if machines else ())],
        [KeptValidation(each.version, str(each.date), each.by, each.document or "") for each in validations],
    )
