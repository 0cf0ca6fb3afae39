"""What a welder must know of arc seams besides their settings: one line each, with its source or who would state it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR

from weld_packets.calculation.trace import Detail, Figure, Given, Said, not_stated
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import ArcChart, SeamChart
from weld_packets.model.tables.machines import Torch
from weld_packets.model.tables.materials import ROOM
from weld_packets.model.trade import Polarity
from weld_packets.processes.arc.heat.cooling import LONGEST, SHORTEST
from weld_packets.processes.arc.heat.temperatures import component_minimum, interpass_maximum, silent, whole_degrees
from weld_packets.processes.arc.seam_groups import SeamGroup, closes
from weld_packets.processes.arc.size.fit_up import AT_GAP, GAP_COST, KEPT_TO, ROOT_GAP
from weld_packets.processes.arc.size.unequal import are_equal, ratio, thicknesses
from weld_packets.units import (
    in_mm,
    kinds,
    magnitude,
    plain,
    quantity,
    shown,
    spelling,
    with_unit,
)

_POLES: Mapping[Polarity, str] = {
    "DC+": "wire on the positive pole, work lead on the negative",
    "DC-": "wire on the negative pole, work lead on the positive",
    "AC": "alternating current",
}
BURN_THROUGH = (
    "cannot be decided by calculation: no source states a maximum heat input for a thickness; judge the coupon"
)
BURN_THROUGH_DETAIL = Detail("burn_through", "Burn-through", (BURN_THROUGH,), stated=True)
_PREHEAT = "EN 1011-2:2001, C.3, from memory"
_BETWEEN = "measured on the coupon, beside the seam, with a contact thermometer that is read outside the fence"
_Figures = Mapping[str, Figure]


def details_of(
    group: SeamGroup, table: ArcChart, approved: ApprovedTables, figures: Iterable[Figure], passes: int
) -> tuple[Detail, ...]:
    """Return the details of seams with equal settings, in the order of the work; ``figures`` are all of theirs."""
    found = {figure.key: figure for figure in figures}
    return (
        *_arc(group, table),
        *_unequal(group),
        *temperatures_details(group, found, passes),
        *_gap(group, found, approved),
        *shared_details(group, table, approved),
    )


def shared_details(group: SeamGroup, table: SeamChart, approved: ApprovedTables) -> Iterator[Detail]:
    """Yield what every arc has last: tacks, start and stop, torch, burn-through."""
    yield from _tacks(group)
    yield from _start_and_stop(group, table, approved)
    yield from _torch(group)
    yield BURN_THROUGH_DETAIL


def _arc(group: SeamGroup, table: ArcChart) -> Iterator[Detail]:
    wire = group.wire
    if wire.polarity is None:
        yield not_stated("polarity", "Polarity", "the table of wires")
    else:
        words = f"{wire.polarity}: {_POLES[wire.polarity]}"
        yield Detail("polarity", "Polarity", (words,), wire.polarity_source)
    chart = f"table {table.table}"
    yield Detail("transfer", "Metal transfer", (table.transfer,), chart)


def _unequal(group: SeamGroup) -> Iterator[Detail]:
    if are_equal(group):
        return
    thin, thick = thicknesses(group)
    times = shown(quantity(ratio(group), "1"), "1", 2)
    words: tuple[str | Said, ...] = (
        Said(thin, kinds.THICKNESS),
        " and ",
        Said(thick, kinds.THICKNESS),
        f", {times} times: set for the thinner; the thicker decides the cooling, and must be fused",
    )
    yield Detail("unequal", "Unequal thickness", words, "common practice, no source")
    if not group.is_butt:
        return
    step = Said(quantity(magnitude(thick, "mm") - magnitude(thin, "mm"), "mm"), kinds.SIZE)
    if group.seam.flush is None:
        words = (step, "; on which side is not stated by the order ('flush' of the seam)")
        yield Detail("step", "Step of the butt", words, stated=False)
    else:
        side = {"face": "root side", "root": "face side", "neither": "shared by both sides"}[group.seam.flush]
        yield Detail("step", "Step of the butt", (step, f", {side}"), "order; difference of the thicknesses")


def temperatures_details(group: SeamGroup, found: _Figures, passes: int) -> Iterator[Detail]:
    """Yield what is required of the temperature of components."""
    minimum = component_minimum(group, found["preheat"])
    if minimum is None:
        where = _no_material(group, "working_temperature_minimum")
        yield not_stated("working_temperature", "Components before welding", where)
    else:
        words = ("dry and at least ", Said(minimum.value, kinds.TEMPERATURE, ROUND_CEILING))
        source = f"{minimum.source}; {_PREHEAT}" if minimum.calculated else minimum.source
        yield Detail("working_temperature", "Components before welding", words, source)
    yield _preheat(found["preheat"])
    yield _interpass(group, passes)
    yield from _cooling(group, found, passes)


def _no_material(group: SeamGroup, field: str) -> str:
    return f"the table of materials for {' and '.join(each.designation for each in silent(group, field))}"


def _preheat(preheat: Figure) -> Detail:
    if preheat.value is None:
        words = ("not calculated: the method does not cover this joint; the temperature of the components applies",)
        return Detail("preheat", "Preheat", words, _PREHEAT)
    minimum = Said(preheat.value, kinds.TEMPERATURE, ROUND_CEILING)
    if whole_degrees(preheat.value, ROUND_CEILING) < whole_degrees(ROOM, ROUND_CEILING):
        return Detail("preheat", "Preheat", ("none: ", minimum, " is calculated, below room temperature"), _PREHEAT)
    return Detail("preheat", "Preheat", ("at least ", minimum), _PREHEAT)


def _interpass(group: SeamGroup, passes: int) -> Detail:
    maximum = interpass_maximum(group)
    if maximum is None:
        return not_stated("interpass", "Interpass temperature", _no_material(group, "interpass_maximum"))
    when = f"before every further pass, {_BETWEEN}" if passes > 1 else "where a weld meets one that is still hot"
    words = ("at most ", Said(maximum.value, kinds.TEMPERATURE, ROUND_FLOOR), f" {when}")
    return Detail("interpass", "Interpass temperature", words, maximum.source)


def _cooling(group: SeamGroup, found: _Figures, passes: int) -> Iterator[Detail]:
    ends = [found[name.key] for name in (SHORTEST, LONGEST) if name.key in found]
    texts = [with_unit(plain(end.text), end.unit) for end in ends if end.text is not None]
    if len(texts) == len((SHORTEST, LONGEST)):
        words = f"{texts[0]} to {texts[1]}"
        if not are_equal(group):
            words = f"{texts[0]} in the thicker component to {texts[1]} in the thinner"
        if passes > 1 and interpass_maximum(group) is not None:
            words = f"{words}, where a further pass begins at the maximum above"
        source = "EN 1011-2:2001, Annex D; shape factors from memory"
        yield Detail("cooling", "Cooling from 800 to 500 °C", (words,), source)


def _gap(group: SeamGroup, found: _Figures, approved: ApprovedTables) -> Iterator[Detail]:
    if not group.is_fillet:
        return
    gap, rule = found.get(ROOT_GAP.key), approved.plant.root_gap
    if gap is None or gap.value is None or rule is None:
        yield not_stated("root_gap", "Root gap", "the table of the plant")
        return
    words: list[str | Said | Figure] = ["at most ", gap]
    is_added = rule.added_over is not None and in_mm(gap.value) > in_mm(rule.added_over)
    if is_added and rule.added_over is not None:
        words += ["; over ", Said(rule.added_over, kinds.SIZE), " the gap is added to the leg"]
    levels = [step.origin for step in gap.trace[1:] if isinstance(step, Given)]
    sources = [rule.of_wire_source, *levels, rule.added_source if is_added else ""]
    yield Detail("root_gap", "Root gap", tuple(words), "; ".join(filter(None, sources)))
    left = found.get(AT_GAP.key)
    if left is not None and left.value is not None:
        cost: tuple[str | Figure, ...] = (left, "; (z - g)/√2 of the required leg")
        kept = found.get(KEPT_TO.key)
        if kept is not None:
            cost = (*cost, "; as set, the throat required is kept up to a gap of ", kept)
        yield Detail("gap_cost", "Throat left at the maximum gap", cost, str(GAP_COST))


def _tacks(group: SeamGroup) -> Iterator[Detail]:
    """Yield how the components are tacked."""
    tacks = group.tacks
    if tacks is None:
        yield not_stated("tacks", "Tacks", "the order ('tacks' of the operation or the seam)")
    elif tacks.number == 0 or tacks.length is None:
        yield Detail("tacks", "Tacks", ("none: the clamps hold",), "order")
    else:
        words = (f"{tacks.number} on each seam, ", Said(tacks.length, kinds.SIZE), f" long, by {tacks.made_by}")
        yield Detail("tacks", "Tacks", words, "order")


def _start_and_stop(group: SeamGroup, table: SeamChart, approved: ApprovedTables) -> Iterator[Detail]:
    """Yield how arc and gas begin and end."""
    chart = f"table {table.table}: {table.start_source}"
    for key, label, own, usual in (
        ("arc_start", "Arc start", group.arc_start, table.arc_start),
        ("crater_fill", "Crater fill", group.crater_fill, table.crater_fill),
    ):
        if own is None and usual is None:
            yield not_stated(key, label, "order and chart")
        else:
            yield Detail(key, label, (own or usual or "",), "order" if own else chart)
    for key, label, flow in (
        ("pre_flow", "Gas before the arc", table.pre_flow),
        ("post_flow", "Gas after the arc", table.post_flow),
    ):
        if flow is not None:
            source = f"table {table.table}: {table.flow_source}"
            yield Detail(key, label, (Said(flow, kinds.DURATION),), source)
    if not any(closes(seam) for seam in group.seams):
        return
    own_overlap, usual_overlap = group.seam.overlap, approved.plant.closed_seam_overlap
    overlap = own_overlap or usual_overlap
    if overlap is None:
        yield not_stated("overlap", "Overlap of closed seams", "order and plant")
    else:
        closed = [seam.id for seam in group.seams if closes(seam)]
        which = "" if len(closed) == len(group.seams) else f"{', '.join(closed)}: "
        words = (f"{which}past the start by ", Said(overlap, kinds.SIZE), "; counted in the arc time")
        source = "order" if own_overlap is not None else approved.plant.closed_seam_source
        yield Detail("overlap", "Overlap of closed seams", words, source)


def _torch(group: SeamGroup) -> Iterator[Detail]:
    """Yield the nozzle and the work lead."""
    torch, lead = group.machine.torch, group.machine.work_lead
    if torch is None:
        yield not_stated("nozzle", "Nozzle", "the table of machines ('torch')")
    else:
        yield _nozzle(torch)
    if lead is None:
        yield not_stated("work_lead", "Work lead", "the table of machines ('work lead')")
    else:
        yield Detail("work_lead", "Work lead", (lead,), "table of machines")


def _nozzle(torch: Torch) -> Detail:
    if torch.nozzle_bore is None and torch.contact_tip_setback is None:
        return not_stated("nozzle", "Nozzle", f"the table of machines for {torch.name}")
    words: list[str | Said] = []
    if torch.nozzle_bore is not None:
        words += ["bore ", Said(torch.nozzle_bore, kinds.SIZE)]
    if torch.contact_tip_setback is not None:
        words += ["; " if words else "", *_setback(torch)]
    return Detail("nozzle", "Nozzle", tuple(words), torch.source)


def _setback(torch: Torch) -> Iterator[str | Said]:
    back = torch.contact_tip_setback
    if back is None:
        return
    millimetres = magnitude(back, "mm")
    if millimetres == 0:
        yield "contact tip flush with its end"
    else:
        yield "contact tip "
        yield Said(back if millimetres > 0 else quantity(-back.magnitude, spelling(back)), kinds.SIZE)
        yield " behind its end" if millimetres > 0 else " before its end"
