"""Proving a cell: coupons, then the first-off part, each dry before it is welded."""
