"""Problems name their place and their remedy, and none hides another."""

from __future__ import annotations

import pickle

import pytest
from weld_packets.errors import Gathering, OutOfRangeError, Problem, SourceError, located, refusal


def test_a_problem_reads_place_key_value_fault_remedy() -> None:
    problem = Problem("order.yaml", 12, "operations[0].throat", "3", "a length needs its unit", "write '3 mm'")
    assert str(problem) == (
        "order.yaml:12: operations[0].throat = '3'\n    a length needs its unit\n    -> write '3 mm'"
    )


def test_a_place_is_added_on_the_way_up_and_never_overwritten() -> None:
    with (
        pytest.raises(OutOfRangeError) as caught,
        located("order.yaml", 7, "operations[1]"),
        located(line=9, key="spots[3]"),
    ):
        raise refusal("too near", "move it", key="pitch", value="9 mm")
    problem = caught.value.problems[0]
    assert (problem.file, problem.line, problem.key) == ("order.yaml", 9, "operations[1].spots[3].pitch")


def test_all_problems_of_independent_steps_are_reported_together() -> None:
    gathering = Gathering()
    for number in (3, 1, 2):
        with gathering.step("a.yaml", number):
            raise refusal(f"fault {number}", "correct it")
    with pytest.raises(SourceError) as caught:
        gathering.finish()
    assert [problem.line for problem in caught.value.problems] == [1, 2, 3]


def test_nothing_gathered_raises_nothing() -> None:
    Gathering().finish()


def test_a_long_value_is_cut_in_the_message() -> None:
    assert len(str(Problem("f", 1, "k", "x" * 5000, "m", "r"))) < 200


def test_a_value_without_a_key_is_shown_alone() -> None:
    assert str(Problem("order.yaml", 65, "", "cell: W2", "m", "r")).startswith("order.yaml:65: 'cell: W2'\n")
    assert str(Problem("order.yaml", 65, "cell", "W2", "m", "r")).startswith("order.yaml:65: cell = 'W2'\n")


def test_another_process_gets_the_problems_of_a_refusal_and_not_their_text() -> None:
    problems = [Problem("a.yaml", 1, "", "", "is wrong", "correct it"), Problem("b.yaml", 2, "", "", "", "")]
    refused = SourceError(problems)
    handed_over = pickle.loads(pickle.dumps(refused))  # noqa: S301 - what this test wrote
    assert isinstance(handed_over, SourceError)
    assert handed_over.problems == refused.problems
