"""What a row takes from: wire, gas, contact tips, electrode caps; what one part takes of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from generator.errors import refusal
from generator.model.order import ArcRow, SpotRow
from generator.model.shop import Shop
from generator.model.tables import Cap, CapLife
from generator.plan.times import of_arm, total
from generator.process.measure import as_written
from generator.process.results import RowResult, WeldSettings
from generator.process.trace import Given
from generator.units import Kind, Quantity, exact, kinds, quantity


@dataclass(frozen=True)
class Supply:
    """A consumable at one place of the line.

    Attributes:
        row: name of the row.
        cell: its cell.
        arm: the arm; empty where the whole cell shares it.
        what: the consumable; ``kind`` is that of its amounts, ``unit`` and ``run_unit`` show a part's and a run's.
        per_part: what one part takes.
        lasts: what one spool, container, tip or dressing lasts for, and on what authority.
        wear: the share of that which one part takes, exactly.
        change: what to do when it falls due.
        lesser: what to do instead, ``turns`` times before each change, such as dressing a cap; empty for nothing.

    """

    row: str
    cell: str
    arm: str
    what: str
    kind: Kind
    unit: str
    run_unit: str
    per_part: Quantity
    lasts: tuple[Given, ...]
    wear: Fraction
    change: str
    lesser: str = ""
    turns: int = 0


def supplies(found: RowResult, shop: Shop) -> tuple[Supply, ...]:
    """Return every consumable of a row that its parts take some of.

    Raises OutOfRangeError where a cap has no life on a coating that it welds.
    """
    row = found.row
    each = _of_arcs(found, row, shop) if isinstance(row, ArcRow) else _of_spots(found, row, shop)
    return tuple(supply for supply in each if supply.wear > 0)


def _of_arcs(found: RowResult, row: ArcRow, shop: Shop) -> Iterator[Supply]:
    for arm in row.arms:
        yield _wire(row, arm, total(of_arm(found, arm), "wire_mass", "kg"), shop)
        yield _tip(row, arm, total(of_arm(found, arm), "arc_time", "s"), shop)
    gas, flowed = shop.gases[row.gas], total(found.settings, "gas_volume", "l")
    holds = Given("one container", gas.container, "l", f"table of gases: {gas.container_name}")
    change = f"Change the gas container ({gas.container_name})"
    wear = _share(flowed, gas.container, "l")
    yield Supply(row.name, row.cell, "", "Gas", kinds.VOLUME, "l", "l", flowed, (holds,), wear, change)


def _wire(row: ArcRow, arm: str, mass: Quantity, shop: Shop) -> Supply:
    wire = shop.wires[row.wire]
    holds = Given("one spool", wire.spool, "kg", f"table of wires: {wire.designation}")
    change = f"Change the wire spool ({as_written(wire.spool)})"
    wear = _share(mass, wire.spool, "kg")
    return Supply(row.name, row.cell, arm, "Wire", kinds.MASS, "kg", "kg", mass, (holds,), wear, change)


def _tip(row: ArcRow, arm: str, burning: Quantity, shop: Shop) -> Supply:
    after, plant = shop.plant.contact_tip_after, shop.plant
    lasts = Given("one contact tip, time of burning arc", after, "h", plant.contact_tip_source)
    change = f"Change the contact tip (after {as_written(after)} of burning arc)"
    wear = _share(burning, after, "s")
    return Supply(row.name, row.cell, arm, "Contact tip", kinds.DURATION, "s", "h", burning, (lasts,), wear, change)


def _share(taken: Quantity, capacity: Quantity, unit: str) -> Fraction:
    return Fraction(exact(taken, unit)) / Fraction(exact(capacity, unit))


def _of_spots(found: RowResult, row: SpotRow, shop: Shop) -> Iterator[Supply]:
    for arm in row.arms:
        cap = shop.caps[shop.guns[shop.arms[arm].equipment].cap]
        lives = [(group, _life(cap, row, group, shop)) for group in of_arm(found, arm)]
        wear = sum((Fraction(len(group.welds), life.welds_between_dressings) for group, life in lives), Fraction(0))
        welds = quantity(sum(len(group.welds) for group, _ in lives), "1")
        yield Supply(
            row=row.name,
            cell=row.cell,
            arm=arm,
            what="Electrode caps",
            kind=kinds.NUMBER,
            unit="1",
            run_unit="1",
            per_part=welds,
            lasts=tuple(dict.fromkeys(_lasting(life) for _, life in lives)),
            wear=wear,
            change=f"Change both caps ({cap.id}, {cap.dressings} dressings done)",
            lesser="Dress both caps",
            turns=cap.dressings,
        )


def _lasting(life: CapLife) -> Given:
    label = f"welds between dressings, coating {life.coating}"
    return Given(label, quantity(life.welds_between_dressings, "1"), "1", life.basis)


def _life(cap: Cap, row: SpotRow, group: WeldSettings, shop: Shop) -> CapLife:
    """Return the cap's life on the coating of a group's stack that wears it most."""
    parts = {part.id: shop.materials[part.material].coating for part in row.parts}
    stack_of = {spot.id: spot.stack for spot in row.spots}
    sheets = next(stack.sheets for stack in row.stacks if stack.id == stack_of[group.welds[0]])
    known = {life.coating: life for life in cap.life}
    missing = sorted({parts[sheet] for sheet in sheets} - set(known))
    if missing:
        raise refusal(
            f"cap {cap.id} has no number of welds between dressings on coating {', '.join(missing)}",
            "add it under 'life' in the table of caps",
            value=cap.id,
        )
    return min((known[parts[sheet]] for sheet in sheets), key=lambda life: life.welds_between_dressings)
