"""What is set for welds, and what follows from it, as printed."""
