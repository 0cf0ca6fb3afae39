"""What exists in the shop and in an order, as frozen records; no files and no sums."""
