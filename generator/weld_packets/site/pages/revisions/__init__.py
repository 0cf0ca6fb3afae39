"""The pages and marks that compare the revisions of an order: history, review, bars of changes."""
