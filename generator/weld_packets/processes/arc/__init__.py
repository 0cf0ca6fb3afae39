"""Arc welding, one row at a time: sizes, runs, settings, heat, use."""
