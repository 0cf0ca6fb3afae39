"""Safety messages: which hazards an order has, and what each message says."""
