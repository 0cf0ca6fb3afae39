"""What an operation takes from: wire, gas, contact tips, electrode caps; what one part takes of each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.calculation.trace import Given
from weld_packets.errors import refusal
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.order import ArcOperation, SpotOperation
from weld_packets.model.tables import Cap, CapLife
from weld_packets.planning.times import of_robot, total
from weld_packets.units import Kind, Quantity, as_written, exact, kinds, magnitude, quantity

Word = Literal["wire", "contact tip", "gas", "caps"]
"""How an order calls a consumable of which it records what is fitted."""


@dataclass(frozen=True)
class Supply:
    """A consumable at one place of the line.

    Attributes:
        operation: name of the operation; the first one where several operations share the place.
        cell: its cell.
        robot: the robot; empty where both robots of the cell share it.
        what: the consumable; ``kind`` is that of its amounts, ``unit`` and ``run_unit`` show a part's and a run's.
        word: how an order calls it.
        item: its identifier in its table; that of the wire for a contact tip.
        per_part: what one part takes.
        lasts: what one spool, cylinder, tip or dressing lasts for, and on what authority.
        holds: what one of them holds; None for caps, which wear by coating.
        wear: the share of that which one part takes, exactly.
        change: what to do when it falls due.
        lesser: what to do instead, ``turns`` times before each change, such as dressing a cap; empty for nothing.

    """

    operation: str
    cell: str
    robot: str
    what: str
    word: Word
    item: str
    kind: Kind
    unit: str
    run_unit: str
    per_part: Quantity
    lasts: tuple[Given, ...]
    holds: Quantity | None
    wear: Fraction
    change: str
    lesser: str = ""
    turns: int = 0

    @property
    def place(self) -> str:
        """Where it is fitted: at the robot, or in the cell."""
        return self.robot or self.cell


def supplies(found: OperationResult, approved: ApprovedTables) -> tuple[Supply, ...]:
    """Return every consumable that is fitted for an operation, also where its parts take none of it.

    Raises OutOfRangeError where a cap has no life on a coating that it welds.
    """
    operation = found.operation
    return tuple(
        _of_arcs(found, operation, approved)
        if isinstance(operation, ArcOperation)
        else _of_spots(found, operation, approved)
    )


def pooled(stock: Iterable[Supply]) -> tuple[Supply, ...]:
    """Return the consumables of an order, each once: operations in one cell weld with the same robots."""
    found: dict[tuple[str, str], Supply] = {}
    for supply in stock:
        key = (supply.place, supply.what)
        found[key] = _together(found[key], supply) if key in found else supply
    return tuple(found.values())


def _together(one: Supply, other: Supply) -> Supply:
    taken = magnitude(one.per_part, one.unit) + magnitude(other.per_part, one.unit)
    lasts = tuple(dict.fromkeys((*one.lasts, *other.lasts)))
    return replace(one, per_part=quantity(taken, one.unit), lasts=lasts, wear=one.wear + other.wear)


def share(taken: Quantity, whole: Quantity, unit: str) -> Fraction:
    """Return exactly which share of a whole is taken."""
    return Fraction(exact(taken, unit)) / Fraction(exact(whole, unit))


def _of_arcs(found: OperationResult, operation: ArcOperation, approved: ApprovedTables) -> Iterator[Supply]:
    for robot in operation.robots:
        yield _wire(operation, robot, total(of_robot(found, robot), "wire_mass", "kg"), approved)
        yield _tip(operation, robot, total(of_robot(found, robot), "arc_time", "s"), approved)
    yield _gas(operation, total(found.settings, "gas_volume", "l"), approved)


def _wire(operation: ArcOperation, robot: str, mass: Quantity, approved: ApprovedTables) -> Supply:
    wire = approved.wires[operation.wire]
    return Supply(
        operation=operation.name,
        cell=operation.cell,
        robot=robot,
        what="Wire",
        word="wire",
        item=wire.id,
        kind=kinds.MASS,
        unit="kg",
        run_unit="kg",
        per_part=mass,
        lasts=(Given("one spool", wire.spool, "kg", f"table of wires: {wire.designation}"),),
        holds=wire.spool,
        wear=share(mass, wire.spool, "kg"),
        change=f"Change the wire spool ({as_written(wire.spool)})",
    )


def _tip(operation: ArcOperation, robot: str, arc_on: Quantity, approved: ApprovedTables) -> Supply:
    after = approved.plant.contact_tip_after
    return Supply(
        operation=operation.name,
        cell=operation.cell,
        robot=robot,
        what="Contact tip",
        word="contact tip",
        item=operation.wire,
        kind=kinds.DURATION,
        unit="s",
        run_unit="h",
        per_part=arc_on,
        lasts=(Given("one contact tip, arc-on time", after, "h", approved.plant.contact_tip_source),),
        holds=after,
        wear=share(arc_on, after, "s"),
        change=f"Change the contact tip (after {as_written(after)} arc-on time)",
    )


def _gas(operation: ArcOperation, flowed: Quantity, approved: ApprovedTables) -> Supply:
    gas = approved.gases[operation.gas]
    return Supply(
        operation=operation.name,
        cell=operation.cell,
        robot="",
        what="Gas",
        word="gas",
        item=gas.id,
        kind=kinds.VOLUME,
        unit="l",
        run_unit="l",
        per_part=flowed,
        lasts=(Given("one cylinder", gas.cylinder, "l", f"table of gases: {gas.cylinder_name}"),),
        holds=gas.cylinder,
        wear=share(flowed, gas.cylinder, "l"),
        change=f"Change the gas cylinder ({gas.cylinder_name})",
    )


def _of_spots(found: OperationResult, operation: SpotOperation, approved: ApprovedTables) -> Iterator[Supply]:
    for robot in operation.robots:
        cap = approved.caps[approved.guns[approved.robots[robot].equipment].cap]
        lives = [(group, _life(cap, operation, group, approved)) for group in of_robot(found, robot)]
        wear = sum((Fraction(len(group.welds), life.welds_between_dressings) for group, life in lives), Fraction(0))
        welds = quantity(sum(len(group.welds) for group, _ in lives), "1")
        yield Supply(
            operation=operation.name,
            cell=operation.cell,
            robot=robot,
            what="Electrode caps",
            word="caps",
            item=cap.id,
            kind=kinds.NUMBER,
            unit="1",
            run_unit="1",
            per_part=welds,
            lasts=tuple(dict.fromkeys(_lasting(life) for _, life in lives)),
            holds=None,
            wear=wear,
            change=f"Change both caps ({cap.id}, {cap.dressings} dressings done)",
            lesser="Dress both caps",
            turns=cap.dressings,
        )


def _lasting(life: CapLife) -> Given:
    label = f"welds between dressings, coating {life.coating}"
    return Given(label, quantity(life.welds_between_dressings, "1"), "1", life.basis)


def _life(cap: Cap, operation: SpotOperation, group: WeldSettings, approved: ApprovedTables) -> CapLife:
    """Return the cap's life on the coating of a group's stack that wears it most."""
    parts = {part.id: approved.materials[part.material].coating for part in operation.components}
    stack_of = {spot.id: spot.stack for spot in operation.spots}
    sheets = next(stack.sheets for stack in operation.stacks if stack.id == stack_of[group.welds[0]])
    known = {life.coating: life for life in cap.life}
    missing = sorted({parts[sheet] for sheet in sheets} - set(known))
    if missing:
        raise refusal(
            f"cap {cap.id} has no number of welds between dressings on coating {', '.join(missing)}",
            "add it under 'life' in the table of caps",
            value=cap.id,
        )
    return min((known[parts[sheet]] for sheet in sheets), key=lambda life: life.welds_between_dressings)
