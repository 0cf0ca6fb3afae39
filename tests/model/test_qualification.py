"""A qualification record is of one test with one process."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError
from weld_packets.model.tables.qualification import QualificationRecord

SHEET = {"material": "S355J2", "thickness": "8 mm"}
WHOLE = {
    "table": "R-1", "kind": "qualification record", "title": "t", "source": "s", "revision": "A", "standard": "S",
    "edition": "1", "examiner": "role", "date": "2025-01-01", "weld type": "butt", "sheets": [SHEET, SHEET],
    "results": [{"test": "macro", "found": "good", "document": "D"}],
}  # fmt: skip


def said(process: Any) -> str:
    """Return the message on a record of a process; empty where it is good."""
    try:
        QualificationRecord.model_validate({**WHOLE, "process": process})
    except ValidationError as error:
        return error.errors()[0]["msg"]
    return ""


@pytest.mark.parametrize("process", ["141/135", "141 + 135", ["141", "135"]])
def test_a_test_with_several_processes_is_refused_as_not_covered(process: Any) -> None:
    assert said(process) == "a test with several processes is not covered"


@pytest.mark.parametrize("process", ["111", "135/999", ["135"], [{"135": "141"}], "135 135", 135])
def test_any_other_word_that_is_not_one_process_is_refused_as_everywhere(process: Any) -> None:
    assert said(process) not in ("", "a test with several processes is not covered")


def test_one_process_of_the_table_is_read() -> None:
    assert said("141") == ""
