"""Resistance spot welding: settings for stacks of two or three sheets, and checks of a row's pattern."""

from weld_packets.processes.spot.operation import spot_row

__all__ = ["spot_row"]
