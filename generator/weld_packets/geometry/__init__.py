"""Plain geometry of points, arcs, outlines and distances; nothing here knows of welding, of units or of pages.

Lengths are floats in one unit: millimetres where nothing else is said.
"""
