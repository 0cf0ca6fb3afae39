"""Resistance spot welding: settings for stacks of two or three sheets, and checks of a row's pattern."""

from generator.process.spot.row import spot_row

__all__ = ["spot_row"]
