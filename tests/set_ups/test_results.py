"""Results that are measured, chosen or judged by eye, as the program judges them anew."""

from __future__ import annotations

import pytest
from weld_packets.packet.records.forms import RequiredResult, ResultChoice, SetUpForm
from weld_packets.revisions.set_ups.entered import result_problems
from weld_packets.revisions.set_ups.record import ResultEntry

CHOICES = (ResultChoice(text="symmetric plug", accepted=True), ResultChoice(text="interface", accepted=False))
EYE = RequiredResult(key="eye", stage="first-off", what="Overlap")
FOUND = RequiredResult(key="found", stage="first-off", what="Undercut", found_unit="mm", found_maximum="0.15")
CHOSEN = RequiredResult(key="chosen", stage="coupon", what="Failure type", choices=CHOICES)
FORM = SetUpForm(values=(), numbers=(), results=(EYE, FOUND, CHOSEN), steps=())
GOOD, BAD = "accepted", "not accepted"


def problems(result: str, entered: str, number: str, verdict: str) -> list[tuple[str, str]]:
    entry = {"result": result, "entered": entered, "number": number, "verdict": verdict, "by": "S"}
    read = ResultEntry.model_validate({**entry, "at": "2026-12-02T07:00:00+00:00"})
    return [(problem.key, problem.message) for problem in result_problems((read,), FORM)]


@pytest.mark.parametrize(
    ("result", "entered", "number", "verdict"),
    [
        ("eye", GOOD, "", GOOD),
        ("eye", BAD, "", BAD),
        ("found", GOOD, "", GOOD),
        ("found", "0,15", "0.15", GOOD),
        ("found", "0", "0", GOOD),
        ("found", "0.16", "0.16", BAD),
        ("chosen", "symmetric plug", "", GOOD),
        ("chosen", "interface", "", BAD),
    ],
)
def test_a_result_that_is_judged_as_the_limit_says_is_taken(
    result: str, entered: str, number: str, verdict: str
) -> None:
    assert problems(result, entered, number, verdict) == []


@pytest.mark.parametrize(
    ("result", "entered", "number", "verdict", "key", "message"),
    [
        ("eye", "0.1", "0.1", GOOD, "results[0].number", "is judged by eye and has no number"),
        ("found", "0.16", "0.16", GOOD, "results[0].verdict", "0.16 mm is 'not accepted': the limits are open to 0.15"),
        ("found", "0.2", "0.1", GOOD, "results[0].number", "what was entered, '0.2', is 0.2"),
        ("chosen", "interface", "", GOOD, "results[0].verdict", "'interface' is 'not accepted'"),
        ("chosen", GOOD, "", GOOD, "results[0].entered", "is none of the answers of this revision"),
        ("chosen", "symmetric plug", "1", GOOD, "results[0].number", "is chosen and has no number"),
    ],
)
def test_a_result_that_is_judged_otherwise_is_refused(  # noqa: PLR0917 - a row of the table
    result: str, entered: str, number: str, verdict: str, key: str, message: str
) -> None:
    (found,) = problems(result, entered, number, verdict)
    assert found[0] == key
    assert found[1].startswith(message)
