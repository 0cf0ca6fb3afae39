"""Around a run: its start, what interrupts it, what stopped or failed, and how it is handed over and ends."""
