"""What is said about a pair: how near the tools come, or why nobody looked; who has nothing to do."""

from __future__ import annotations

from weld_packets.calculation.countermeasures import ONE_IDLE, WATCH_BOTH
from weld_packets.calculation.results import OperationResult
from weld_packets.calculation.sentences import length
from weld_packets.calculation.trace import Remark, Verdict, Weight, Words, warned
from weld_packets.planning.pair.records import NotChecked, PairPlan
from weld_packets.processes.family import family_of
from weld_packets.units import exact, plain, quantity, rounded, with_unit
from weld_packets.units.digits import TENTH, WHOLE

TOOL_POINTS = (
    "Distance of tool centre points only: robot arms, cables and clamps are not checked. "
    "Prove it in the dry cycles, at low speed override."
)


def pair_verdicts(pair: PairPlan | NotChecked, found: OperationResult) -> tuple[Verdict, ...]:
    """Return the verdicts on both robots of an operation."""
    distance = _not_checked(pair, found.operation.robots) if isinstance(pair, NotChecked) else _checked(pair)
    return distance, *_idle(found)


def wait_remark(pair: PairPlan) -> tuple[Remark, ...]:
    """Return what limits the waits of a plan."""
    texts = []
    if not pair.is_best:
        texts.append("not proved to be the shortest: the search over retreats to the waiting place was ended")
    if pair.waits:
        texts.append(f"both robots are done after {seconds(pair.ends)}")
    return tuple(Remark(Weight.NOTE, text, reader="auditor") for text in texts)


def seconds(milliseconds: int) -> str:
    """Return a time in s to a tenth."""
    return with_unit(plain(rounded(exact(quantity(milliseconds / 1000, "s"), "s"), TENTH)), "s")


def doing(pair: PairPlan, robot: int, place: int) -> str:
    """Return what a robot does in a block, in words."""
    block = pair.started(robot, place).block
    if block.weld:
        return f"{pair.names[robot]} at or moving to {block.weld}"
    return f"{pair.names[robot]} moving to its waiting place, or at it"


def kept(pair: PairPlan) -> Words:
    """Return the distance that is kept, and what it is made of."""
    parts = (pair.clearance.required, *pair.clearance.radii, pair.clearance.margin)
    whole, first, second, margin = (length(part / 1000, TENTH if part % 1000 else WHOLE) for part in parts)
    return (
        "at least ",
        whole,
        " is kept: keep-out radii ",
        first,
        f" ({pair.names[0]}) and ",
        second,
        f" ({pair.names[1]}), margin ",
        margin,
    )


def _checked(pair: PairPlan) -> Verdict:
    near = length(pair.nearest.apart // 1000, WHOLE)
    when = seconds(pair.nearest.moment)
    who = ", ".join(doing(pair, robot, pair.nearest.blocks[robot]) for robot in (0, 1) if pair.timed[robot])
    said = ("the tool centre points come no nearer than ", near, f", {when} after the start ({who}); ", *kept(pair))
    stated = f" ({'; '.join(pair.clearance.sources)})" if pair.clearance.sources else ""
    source = f"table of machines, keep out radius, waiting place and margin{stated}; closed form over the whole cycle"
    return Verdict("pair_distance", "distance of both robots", said, True, source)  # noqa: FBT003


def _not_checked(pair: NotChecked, robots: tuple[str, str]) -> Verdict:
    text = (
        f"whether {robots[0]} and {robots[1]} come too near each other is not checked, and waits are not counted: the "
        f"table of machines gives no {', no '.join(pair.missing)}"
    )
    return Verdict(
        "pair_distance", "distance of both robots", text, None, "table of machines", countermeasure=WATCH_BOTH
    )


def _idle(found: OperationResult) -> tuple[Verdict, ...]:
    welds = family_of(found.operation.process).welds(found.operation)
    busy = {weld.robot for weld in welds}
    idle = [robot for robot in found.operation.robots if robot not in busy]
    if not idle:
        return ()
    text = f"all welds are on {', '.join(sorted(busy))}; {idle[0]} has none and idles"
    return (warned("idle_robot", idle[0], text, "the order", ONE_IDLE),)
