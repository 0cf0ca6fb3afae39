"""How commands make sites, and compare those that are there with their records."""
