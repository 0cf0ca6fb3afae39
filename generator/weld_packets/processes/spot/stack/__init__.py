"""Stacks of two or three sheets: what is under a spot, and what it requires of every gun."""
