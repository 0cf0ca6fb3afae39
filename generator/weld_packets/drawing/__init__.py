"""Marks with boxes, placement of labels, dimension lines, signs, and their SVG; knows nothing of welding."""

import logging

logging.getLogger("matplotlib").setLevel(logging.ERROR)  # a home folder without room for its cache is no user's matter
