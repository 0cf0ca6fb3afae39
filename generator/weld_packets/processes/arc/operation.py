"""One arc row computed: settings of all its seams, reach of its arms, sense of its positions."""

from __future__ import annotations

import re
from collections.abc import Iterator

from weld_packets.calculation.acts import BARE_OR_SECTION, DIRECTION
from weld_packets.calculation.measure import WHOLE, in_mm, lengths
from weld_packets.calculation.reach import farthest, within
from weld_packets.calculation.results import RowResult, WeldSettings
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.model.approved_tables import Shop
from weld_packets.model.machines import Arm
from weld_packets.model.order import ArcRow, Seam
from weld_packets.processes.arc.asked import Ask, asks
from weld_packets.processes.arc.path import end_mm, points_mm, start_mm
from weld_packets.processes.arc.seams.checks import seam_verdicts
from weld_packets.processes.arc.settings import settings_of

MACHINES = "table of machines: base and reach of the arm, straight line to the torch tip"
COAT = "common practice, no source"
RISE = "common practice, no source; the third axis of the datum taken as up"


def arc_row(row: ArcRow, shop: Shop) -> RowResult:
    """Return the settings of every seam of a row, in groups that are set alike, with the checks of the row.

    Raises OutOfRangeError with every problem of the row; keys are paths within it, such as ``seams[3].throat``.
    """
    gathering = Gathering()
    places = seam_verdicts(row, shop, gathering)
    misread = any(problem.key.endswith((".unit", ".file")) for problem in gathering.problems)
    groups = asks(row, shop, gathering)
    settings = tuple(_settings(groups, row, shop, gathering))
    verdicts = () if misread else tuple(_reaches(groups, gathering))
    gathering.finish(OutOfRangeError)
    return RowResult(row, settings, (*verdicts, *places, *_senses(row), *_coats(row, shop)))


def _settings(groups: tuple[Ask, ...], row: ArcRow, shop: Shop, gathering: Gathering) -> Iterator[WeldSettings]:
    taken: set[str] = set()
    for group in groups:
        key = _key(group, taken)
        taken.add(key)
        with gathering.step(key=f"seams[{group.indices[0]}]"):
            yield settings_of(group, key, row.schedule, shop)


def _key(group: Ask, taken: set[str]) -> str:
    """Return arm and first seam as a safe name; with a number where two names differ only in case or signs."""
    name = re.sub(r"[^a-z0-9]+", "-", f"{group.arm.id}-{group.seam.id}".lower()).strip("-")
    return name if name not in taken else f"{name}-{group.indices[0] + 1}"


def _reaches(groups: tuple[Ask, ...], gathering: Gathering) -> Iterator[Verdict]:
    """Yield for each arm the farthest point of its paths; a path out of reach is a problem of its seam."""
    longest: dict[str, tuple[Arm, str, float]] = {}
    for group in groups:
        for index, seam in zip(group.indices, group.seams, strict=True):
            with gathering.step(key=f"seams[{index}].path"):
                found = _reach(group.arm, seam)
                if found > longest.get(group.arm.id, (group.arm, "", 0.0))[2]:
                    longest[group.arm.id] = group.arm, seam.id, found
    for arm, seam_id, found in longest.values():
        away, most = lengths(found, in_mm(arm.reach), WHOLE)
        text = f"farthest point {away.text} from the base (seam {seam_id}), reach {most.text}"
        yield Verdict("reach", arm.name, text, passed=True, source=MACHINES, measured=(away, most))


def _reach(arm: Arm, seam: Seam) -> float:
    _, found = farthest(arm, points_mm(seam.path))
    if not within(found, in_mm(arm.reach)):
        away, most = lengths(found, in_mm(arm.reach), WHOLE)
        raise refusal(
            f"{arm.name} reaches {most.text} from its base, this path runs to {away.text}",
            "give the seam to the other arm, or move the fixture",
            value=away.text,
        )
    return found


def _coats(row: ArcRow, shop: Shop) -> Iterator[Verdict]:
    """Yield a warning for each welded part with a coat of zinc, which no arc schedule was made for."""
    welded = {name for seam in row.seams for name in seam.parts}
    for part in (part for part in row.parts if part.id in welded):
        coating = shop.materials[part.material].coating
        if coating != "none":
            text = f"coated with {coating}: arc charts are for bare sheet, expect pores"
            about = f"part {part.id}"
            yield Verdict("coating", about, text, passed=None, source=COAT, warns=True, act=BARE_OR_SECTION)


def _senses(row: ArcRow) -> Iterator[Verdict]:
    """Yield a warning for each seam whose vertical position does not agree with the way its path runs."""
    for seam in row.seams:
        rise = end_mm(seam.path)[2] - start_mm(seam.path)[2]
        if (seam.position == "PF" and rise <= 0) or (seam.position == "PG" and rise >= 0):
            way = "up" if seam.position == "PF" else "down"
            text = f"{seam.position} is vertical {way}, but the path rises {rise:.0f} mm from start to stop"
            yield Verdict("position", f"seam {seam.id}", text, passed=None, source=RISE, warns=True, act=DIRECTION)
