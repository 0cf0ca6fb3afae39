"""Many welds together: times, sharing between the pair, consumables over the run, the slowest operation."""
