"""Charts that are read at a glance: settings allowed together, both robots over time."""
