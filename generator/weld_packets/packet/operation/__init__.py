"""One operation: its view on tables and results, its welds, limits, faults and checks."""
