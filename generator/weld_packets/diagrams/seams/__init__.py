"""The map of the seams of an operation, and how the torch stands."""
