"""Resistance spot welding: settings for stacks of two or three sheets, and checks of an operation's pattern."""

from weld_packets.processes.spot.family import SpotFamily

FAMILY = SpotFamily()
