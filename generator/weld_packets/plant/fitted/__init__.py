"""What an order leaves fitted for the next: as its packet plans it, as set-ups counted it, as its run left it."""
