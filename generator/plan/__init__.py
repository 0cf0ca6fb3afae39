"""Many welds together: times, sharing between the pair, consumables over the run, the slowest row."""

from generator.plan.order import plan_order
from generator.plan.records import ArmPlan, Event, OrderPlan, RowPlan, Use

__all__ = ["ArmPlan", "Event", "OrderPlan", "RowPlan", "Use", "plan_order"]
