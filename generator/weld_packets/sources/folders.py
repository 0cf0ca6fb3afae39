"""Where things are in a plant's folder."""

from __future__ import annotations

INSTRUCTIONS = "instructions"
TABLES = "tables"
LOOKS_FILE, OVERRIDES = "mkdocs.yml", "site_overrides"
"""What a plant sets of the looks of its sites, and its own templates and assets."""
ORDER_FILE = "order.yaml"
"""The source of an order in its folder."""
SITES = "site"
PREVIEWS = f"{SITES}/.preview"
"""Drafts that `serve` shows, apart from what operators read."""
FITTED = f"{SITES}/.fitted"
"""What orders leave fitted, kept from one build to the next."""
KEPT_PACKETS = f"{SITES}/.packets"
"""Packets of drafts, kept from one command to the next."""
FIND_PLANT = "go to the folder that holds instructions/ and tables/, or name it with --root"
"""What to do where the plant's folder is not found."""


def order_path(slug: str) -> str:
    """Return the folder of an order from the plant's."""
    return f"{INSTRUCTIONS}/{slug}"
