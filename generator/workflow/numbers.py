"""The number of an order is its name on the floor: two orders of one number would send a setter to the wrong packet."""

from __future__ import annotations

from collections.abc import Iterable

from generator.errors import Problem
from generator.workflow.places import INSTRUCTIONS


def repeated_numbers(numbered: Iterable[tuple[str, str]]) -> tuple[Problem, ...]:
    """Return a problem for each order, given as folder name and number, whose number an earlier one has."""
    first: dict[str, str] = {}
    problems = []
    for slug, number in numbered:
        if number in first:
            message = f"{INSTRUCTIONS}/{first[number]} has the same order number"
            file = f"{INSTRUCTIONS}/{slug}/order.yaml"
            problems.append(Problem(file, 0, "order", number, message, "give each order its own number"))
        first.setdefault(number, slug)
    return tuple(problems)
