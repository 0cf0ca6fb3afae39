"""A set-up record names the qualification of its setter; one that had expired is filed and said."""

from __future__ import annotations

import json
from typing import Any

import pytest
from weld_packets.packet.records.operation import Holder, OperationSheet, People
from weld_packets.revisions.queries.set_ups import FiledSetUp
from weld_packets.revisions.set_ups.checks import setter_problems
from weld_packets.revisions.set_ups.record import SetterQualified, SetUp, set_up_bytes

SETTER = Holder(number="W-031", duties=("setter", "operator"), tested="2024-10-14", valid_until="2027-10-13")
OPERATOR = Holder(number="W-033", duties=("operator",), tested="2021-02-08", valid_until="2027-02-07")
NAMED = {"number": "W-031", "valid_until": "2027-10-13", "at": "2026-12-02T07:05:00+00:00", "by": "J. Setter"}


def sheet(people: People | None) -> OperationSheet:
    return OperationSheet.model_construct(people=people)


LISTED = sheet(People(needs="ISO 14732:2013, process 21", kept=True, holders=(SETTER, OPERATOR)))


def problems(of: OperationSheet, **changes: str) -> list[tuple[str, str]]:
    named = SetterQualified.model_validate({**NAMED, **changes})
    return [(problem.key, problem.message) for problem in setter_problems(named, of)]


def test_a_qualification_of_a_setter_of_the_release_is_taken_with_its_last_day() -> None:
    assert problems(LISTED) == []
    assert list(setter_problems(None, LISTED)) == []


@pytest.mark.parametrize("of", [LISTED, sheet(None), sheet(People(needs="x", kept=False))])
def test_a_qualification_that_the_release_does_not_list_for_a_setter_is_refused(of: OperationSheet) -> None:
    message = "this revision lists no such qualification of a setter"
    assert problems(of, number="W-033", valid_until="2027-02-07") == [("qualification.number", message)]


def test_another_last_day_than_the_release_has_is_refused() -> None:
    message = "in this revision W-031 is valid until 2027-10-13"
    assert problems(LISTED, valid_until="2029-10-13") == [("qualification.valid_until", message)]


def test_the_record_keeps_it_and_the_lists_say_whether_it_had_expired(plant: Any) -> None:
    answer = plant.add(plant.set_up(qualification=NAMED))
    assert answer.status == 0, answer.errors
    assert "set by J. Setter (qualification W-031)" in answer.out
    (of_order,) = json.loads(plant.run("records", "list", "--json").out)
    (filed,) = of_order["set_ups"]
    assert filed["record"]["qualification"] == NAMED
    assert filed["qualification_expired"] is False
    set_up = SetUp.model_validate(filed["record"])
    for begun, expired in (("2027-10-13T23:00:00+00:00", False), ("2027-10-14T00:00:00+00:00", True)):
        later = FiledSetUp(entry=None, set_up=set_up.model_copy(update={"begun": begun}))  # type: ignore[arg-type]
        assert later.expired is expired
    without = set_up.model_copy(update={"qualification": None})
    assert b"qualification" not in set_up_bytes(without)  # the bytes of a record from before it could be named
    assert FiledSetUp(entry=None, set_up=without).expired is False  # type: ignore[arg-type]
