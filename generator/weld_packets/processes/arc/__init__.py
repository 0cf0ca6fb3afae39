"""Arc welding, one operation at a time: sizes, passes, settings, heat, use."""

from weld_packets.processes.arc.family import ArcFamily

FAMILY = ArcFamily()
