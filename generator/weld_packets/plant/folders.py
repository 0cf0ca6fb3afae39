"""Where things are in a plant's folder."""

from __future__ import annotations

INSTRUCTIONS = "instructions"
TABLES = "tables"
SITES = "site"
PREVIEWS = f"{SITES}/.preview"
"""Drafts that `serve` shows, apart from what operators read."""
FITTED = f"{SITES}/.fitted"
"""What orders leave fitted, kept from one build to the next."""


def order_path(slug: str) -> str:
    """Return the folder of an order from the plant's."""
    return f"{INSTRUCTIONS}/{slug}"
