"""Many welds together: times, sharing between the pair, consumables over the run, the slowest operation."""

from weld_packets.planning.order import plan_order
from weld_packets.planning.records import Event, Left, OperationPlan, OrderPlan, Origin, RobotPlan, Start, Use

__all__ = ["Event", "Left", "OperationPlan", "OrderPlan", "Origin", "RobotPlan", "Start", "Use", "plan_order"]
