"""The run of the whole quantity: times, consumables, what is due."""
