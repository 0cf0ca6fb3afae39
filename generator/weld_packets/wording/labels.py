"""Labels of what a changeover compares, by key."""

from __future__ import annotations

from typing import Literal

ChangeoverTopic = Literal[
    "operation", "process", "fixture", "components", "fitted", "program", "coupon programs", "welds", "weld length",
    "coupon limit", "weld schedule", "setting", "cell",
]  # fmt: skip
CHANGEOVER_LABELS: dict[ChangeoverTopic, str] = {
    "operation": "Operation",
    "process": "Process",
    "fixture": "Fixture",
    "components": "Components",
    "program": "Program",
    "coupon programs": "Coupon programs",
    "welds": "Welds",
    "weld length": "Weld length",
    "coupon limit": "Coupon limit",
    "weld schedule": "Weld schedule",
    "cell": "Cell",
}
"""A setting has the label of its value, and what is fitted the one that its process family gives it."""
