from __future__ import annotations

import pytest
from weld_packets.wording.phrases import clashes_words
from weld_packets.wording.revisions import (
    coming_notice,
    document_words,
    proposed_notice,
    revision_words,
    status_words,
    withdrawn_notice,
)


@pytest.mark.parametrize("reason", ["a spot lies under a clamp", "A spot lies under a clamp."])
def test_the_reason_of_a_withdrawal_is_a_sentence_however_it_was_written(reason: str) -> None:
    assert withdrawn_notice(reason) == "A spot lies under a clamp. Do not work from this page."


def test_a_notice_says_from_when_and_by_whom() -> None:
    assert coming_notice("2026-12-01") == "Takes effect from 2026-12-01. Do not work from this page before."
    assert proposed_notice("R. Vale").startswith("By R. Vale, and not approved. Do not make parts")


def test_a_revision_is_called_by_its_letter_or_by_its_status() -> None:
    assert (revision_words("C", "in force"), revision_words("", "draft")) == ("Rev C", "Draft")
    assert (status_words("C", "in force"), status_words("", "draft")) == ("Rev C, in force", "draft")


def test_the_head_of_a_page_leaves_out_what_is_not_known() -> None:
    assert document_words("C", "2026-12-01", "lead") == ("superseded by C", "from 2026-12-01", "approved by lead")
    assert document_words("", "", "lead") == ("approved by lead",)
    assert document_words("", "", "") == ()


@pytest.mark.parametrize(
    ("count", "words"), [(1, "One program of a robot is used"), (2, "2 programs of robots are used")]
)
def test_programs_that_two_orders_share_are_counted(count: int, words: str) -> None:
    assert clashes_words(count) == f"{words} otherwise in two orders"
