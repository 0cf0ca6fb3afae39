"""What is drawn for an operation: spot maps, seam maps, pictorial views and torch attitudes."""
