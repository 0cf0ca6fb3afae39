"""The map of the spots of an operation."""
