"""Many welds together: times, sharing between the pair, consumables over the run, the slowest row."""

from weld_packets.planning.order import plan_order
from weld_packets.planning.records import ArmPlan, Event, Left, OrderPlan, Origin, RowPlan, Start, Use

__all__ = ["ArmPlan", "Event", "Left", "OrderPlan", "Origin", "RowPlan", "Start", "Use", "plan_order"]
