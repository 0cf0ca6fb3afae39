"""Resistance spot welding: settings for stacks of two or three sheets, and checks of an operation's pattern."""

from weld_packets.processes.spot.operation import spot_operation

__all__ = ["spot_operation"]
