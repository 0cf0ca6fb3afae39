"""What a page reads from the sentences of a changeover is what they were made from."""

from __future__ import annotations

import pytest
from weld_packets.wording.changeover import (
    NOT_USED,
    basis_words,
    cell_heading,
    cell_of_heading,
    changed_words,
    is_as_released,
)


@pytest.mark.parametrize(
    ("basis", "is_released"),
    [
        (basis_words("LK-1"), False),
        (basis_words("LK-1", "B"), False),
        (basis_words("LK-1", "B", is_as_released=True), True),
    ],
)
def test_a_basis_says_whether_a_release_was_compared_as_it_is(basis: str, *, is_released: bool) -> None:
    assert is_as_released(basis) is is_released
    assert "LK-1" in basis


@pytest.mark.parametrize("operations", [[], ["Door"], ["Door: left", "Frame"]])
def test_a_heading_names_its_cell(operations: list[str]) -> None:
    assert cell_of_heading(cell_heading("C5", operations)) == "C5"


@pytest.mark.parametrize(
    ("operations", "heading"),
    [([], "Cell C5: no longer used"), (["Door"], "Cell C5: Door"), (["Door", "Frame"], "Cell C5: Door and Frame")],
)
def test_a_heading_names_the_operations_of_its_cell(operations: list[str], heading: str) -> None:
    assert cell_heading("C5", operations) == heading


def test_no_heading_is_of_no_cell() -> None:
    assert cell_of_heading("") == ""


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ([("Cell", "Doors", NOT_USED)], "no longer used"),
        ([("Cell", NOT_USED, "Doors")], "not used before, everything is new"),
        ([("Program, C5A", "P1", "P2"), ("Fixture", "F-1", NOT_USED)], "Program, C5A; Fixture"),
        ([("Fixture", "F-1", NOT_USED)], "Fixture"),
        ([("Fixture", NOT_USED, "F-1"), ("Program, C5A", "P1", "P2")], "Fixture; Program, C5A"),
    ],
)
def test_what_changes_in_a_cell_is_said_in_a_line(changes: list[tuple[str, str, str]], words: str) -> None:
    assert changed_words(changes) == words
