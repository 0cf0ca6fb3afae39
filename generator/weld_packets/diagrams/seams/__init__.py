"""The map of the seams of an operation, and the attitude of the torch."""
