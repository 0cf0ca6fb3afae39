"""Marks with boxes, placement of labels, dimension lines, signs, and their SVG; knows nothing of welding."""
