"""On what the state of a consumable rests that one order leaves to the next."""

import pytest
from weld_packets.wording.fitted import from_run


@pytest.mark.parametrize(
    ("changes", "turns", "noun", "done"),
    [
        ((), (), "dressing", "not changed"),
        ((40,), (60, 90), "dressing", "changed at 40, 2 dressings since, last at 90"),
        ((), (60,), "grinding", "not changed, 1 grinding, last at 60"),
        ((), (60,), "", "not changed, 1 dressing, last at 60"),  # a record from before electrodes were ground
        ((40, 80), (), "", "changed at 40 and 80"),
    ],
)
def test_the_record_of_a_run_says_what_was_done_by_the_name_of_its_process(
    changes: tuple[int, ...], turns: tuple[int, ...], noun: str, done: str
) -> None:
    assert from_run("2026-12-03", 100, 120, changes, turns, noun=noun) == (
        f"from the record of its run of 2026-12-03 (100 of 120 parts: {done})"
    )
