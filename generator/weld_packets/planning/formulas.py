"""Formulas of time over many welds, each with its printed form."""

from __future__ import annotations

from weld_packets.calculation.formula import SUMMED, Duration, Length, Number, Share, Source, Speed, Standing, formula

WORN = Source("what is left, divided by what one part takes", standing=Standing.GEOMETRY)
COUNTED = Source("number of times, multiplied by the time of each", standing=Standing.GEOMETRY)


@formula("d / v + N * t_a", symbol="t_m", source=SUMMED, d="air_distance", v="air_speed", N="moves", t_a="approach")
def move_time(*, air_distance: Length, air_speed: Speed, moves: Number, approach: Duration) -> Duration:
    """Return the time between welds: straight air travel, and the approach to each weld."""


@formula("t_w + t_m", symbol="t_robot", source=SUMMED, t_w="weld_time", t_m="moving_time")
def robot_time(*, weld_time: Duration, moving_time: Duration) -> Duration:
    """Return the time that one robot works on a part."""


@formula("t_w + t_m + t_q", symbol="t_robot", source=SUMMED, t_w="weld_time", t_m="moving_time", t_q="waiting_time")
def robot_time_with_waits(*, weld_time: Duration, moving_time: Duration, waiting_time: Duration) -> Duration:
    """Return the time from when a robot leaves its waiting place until it is back there, waits included."""


@formula("max(t_A, t_B) + t_l", symbol="t_cycle", source=SUMMED, t_A="first_robot", t_B="second_robot", t_l="load_time")
def operation_time(*, first_robot: Duration, second_robot: Duration, load_time: Duration) -> Duration:
    """Return an operation's time for one part: both robots work at once, then the part is changed."""


@formula("100 * t / t_cycle", symbol="X_arc", source=SUMMED, t="arc_time", t_cycle="time_of_operation")
def arc_share(*, arc_time: Duration, time_of_operation: Duration) -> Share:
    """Return the share of an operation's time for which a robot's arc burns."""


@formula("floor((100 - u) / w)", symbol="n", source=WORN, u="used", w="taken_by_a_part")
def parts_before_due(*, used: Share, taken_by_a_part: Share) -> Number:
    """Return for how many whole parts one spool, cylinder, contact tip or dressing still lasts."""


@formula("u + q - 100 * k", symbol="u_1", source=WORN, u="used", q="taken_in_prove_out", k="renewed")
def used_after_prove_out(*, used: Share, taken_in_prove_out: Share, renewed: Number) -> Share:
    """Return the share of one that is used after the prove-out, in which it was ``renewed`` so many times."""


@formula("u + M * w", symbol="u_N", source=WORN, u="used", M="parts_since", w="taken_by_a_part")
def used_after_parts(*, used: Share, parts_since: Number, taken_by_a_part: Share) -> Share:
    """Return the share of one that is used after some parts since it was as far used as ``used``."""


@formula("n * t_1", symbol="t_s", source=COUNTED, n="times", t_1="each")
def stop_time(*, times: Number, each: Duration) -> Duration:
    """Return for how long a cell stands still for something that happens several times in a run."""


@formula("N * t_cycle + t_s", symbol="t_op", source=SUMMED, N="parts", t_cycle="operation_time", t_s="stops")
def operation_run(*, parts: Number, operation_time: Duration, stops: Duration) -> Duration:
    """Return for how long an operation runs: every part one after another, and what stops its cell between them."""
