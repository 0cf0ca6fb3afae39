"""A gun on a stack: what its setter dials, the caps it wears, and how hard it works."""
