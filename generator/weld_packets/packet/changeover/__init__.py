"""The changeover from the order before: what is compared, and the sheet with its steps."""
