"""What is drawn for a row: spot maps, seam maps, pictorial views and torch attitudes."""
