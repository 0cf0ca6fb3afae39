"""The approved tables of a plant: one file for the kinds of a subject, and all of them together."""
