"""The pages over all orders of a plant: their list, the register, the tables, the instruments."""
