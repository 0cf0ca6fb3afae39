"""Whether the instruments of a set-up were calibrated on its day, by the plant's table of instruments.

The table is asked as it is today: a calibration is renewed without a new revision of any order, so no released packet
holds it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from weld_packets.letters import meaning
from weld_packets.model.tables.inspection import Instrument, Instruments
from weld_packets.revisions.set_ups.record import Instrument as Named


def instrument_faults(table: Instruments | None, named: Iterable[Named], day: date) -> Iterator[str]:
    """Yield what speaks against each instrument that was named on a day; nothing where the plant has no table."""
    if table is None:
        return
    known = {meaning(each.id): each for each in table.entries}
    for each in named:
        found = known.get(meaning(each.number))
        if found is None:
            yield f"instrument {each.number}, {each.what}: is not in table {table.table}"
        elif found.calibration_due < day:
            yield f"{_named(found)}: its calibration was due on {found.calibration_due}, before the set-up of {day}"
        elif found.calibrated > day:
            yield f"{_named(found)}: its calibration is of {found.calibrated}, after the set-up of {day}"


def due_lines(table: Instruments | None, day: date, version: str) -> Iterator[str]:
    """Yield each instrument of the plant whose calibration does not hold on a day: it is over, or dated ahead.

    Also that this ``version`` of the program is not validated, where the plant says that it has validated others.
    """
    for each in table.entries if table else ():
        if each.calibration_due < day:
            yield f"plant: {_named(each)}: its calibration was due on {each.calibration_due}"
        elif each.calibrated > day:
            yield f"plant: {_named(each)}: its calibration is of {each.calibrated}, a day to come; check the year"
    if table and table.validations and version not in {each.version for each in table.validations}:
        yield f"plant: version {version} of this program is not among the validations of table {table.table}"


def _named(each: Instrument) -> str:
    return f"instrument {each.id}, {each.what}"
