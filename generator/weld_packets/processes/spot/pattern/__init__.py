"""Where spots are: from each other, from the edges of their sheets, from the robots."""
