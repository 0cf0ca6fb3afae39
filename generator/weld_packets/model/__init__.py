"""What exists in the plant and in an order, as frozen records; no files and no sums."""
