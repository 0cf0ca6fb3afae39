"""Who of the plant's list may make which record, and with which key."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.status.people import (
    OF_RELEASE,
    OF_TABLES,
    OF_WITHDRAWAL,
    People,
    Permission,
    Person,
    key_problems,
    listing_problems,
)

DAY = date(2026, 3, 2)
ENGINEER = Person("Process engineer", frozenset({"author"}), key="engineer")
LEAD = Person("Quality lead", frozenset({"approve releases", "approve tables", "withdraw"}), key="lead")
PEOPLE = People((ENGINEER, LEAD), "tables/people.yaml")


def against(name: str, *acts: Permission, people: People = PEOPLE, day: date = DAY, stops: bool = False) -> list[str]:
    return [problem.message for problem in listing_problems(people, "approver", name, acts, day, stops=stops)]


def with_lead(**changes: Any) -> People:
    return replace(PEOPLE, persons=(ENGINEER, replace(LEAD, **changes)))


def test_a_listed_person_may_do_what_the_list_says_however_the_name_is_typed() -> None:
    assert against("QUALITY  lead", "approve releases") == []
    assert PEOPLE.as_listed("QUALITY  lead") == "Quality lead"
    assert PEOPLE.as_listed("Somebody") == "Somebody"


def test_who_is_not_listed_or_may_not_is_refused_with_who_may() -> None:
    assert against("Somebody", "approve releases") == [
        "is not in the plant's list of responsible people, tables/people.yaml"
    ]
    (problem,) = listing_problems(PEOPLE, "approver", "Process engineer", ("approve releases",), DAY, stops=False)
    assert problem.message == "may not approve releases by the plant's list: author alone"
    assert problem.remedy == "who may approve releases: Quality lead; or change the list and have it approved"


@pytest.mark.parametrize(
    ("since", "until", "said"),
    [
        (DAY, DAY, ""),
        (date(2026, 3, 3), None, "is listed from 2026-03-03, and this is of 2026-03-02"),
        (None, date(2026, 3, 1), "is listed until 2026-03-01, and this is of 2026-03-02"),
        (date(2026, 1, 1), date(2026, 3, 1), "is listed from 2026-01-01 until 2026-03-01, and this is of 2026-03-02"),
    ],
)
def test_the_first_and_the_last_day_of_an_entry_are_included(since: date | None, until: date | None, said: str) -> None:
    people = with_lead(since=since, until=until)
    assert against("Quality lead", "approve releases", people=people) == ([said] if said else [])


def test_a_date_bars_a_withdrawal_only_while_somebody_else_may_make_it() -> None:
    late = with_lead(until=date(2026, 3, 1))
    assert against("Quality lead", "withdraw", people=late, stops=True) == []
    other = replace(late, persons=(*late.persons, Person("Cell lead", frozenset({"withdraw"}))))
    assert against("Quality lead", "withdraw", people=other, stops=True)
    assert against("Somebody", "withdraw", people=late, stops=True)


def keys(name: str, used: str, people: People | None = PEOPLE, *, required: bool = False) -> list[str]:
    return [problem.message for problem in key_problems(people, name, used, required=required)]


def test_each_signs_with_their_own_key() -> None:
    assert keys("Quality Lead", "lead", required=True) == []
    assert keys("Quality lead", "engineer") == ["is not the key of Quality lead"]
    without = with_lead(key="")
    assert keys("Quality lead", "engineer", without) == ["is the key of Process engineer, not of Quality lead"]
    assert keys("Quality lead", "another", without) == []


def test_a_plant_that_requires_signatures_gets_one() -> None:
    assert keys("Quality lead", "") == []
    assert keys("Quality lead", "", required=True) == ["the plant requires a signature"]
    assert keys("Quality lead", "", with_lead(key=""), required=True) == [
        "the list of responsible people names no key of Quality lead"
    ]
    assert keys("anybody", "", None, required=True) == ["the plant requires a signature"]
    assert keys("anybody", "any-key", None, required=True) == []


def test_what_each_record_asks_of_its_two_people() -> None:
    assert (OF_RELEASE.author, OF_RELEASE.approver) == (("author",), ("approve releases",))
    assert (OF_TABLES.author, OF_TABLES.approver) == (("author",), ("approve tables",))
    assert (OF_WITHDRAWAL.author, OF_WITHDRAWAL.approver) == (("author", "withdraw"), ("withdraw",))
    assert [duties.stops for duties in (OF_RELEASE, OF_TABLES, OF_WITHDRAWAL)] == [False, False, True]


def test_release_and_withdrawal_ask_the_list(plant: Any) -> None:
    swapped = {"author": "Quality lead", "approver": "Process engineer"}
    with pytest.raises(PacketError) as refusal:
        plant.release(people=PEOPLE, **swapped)
    assert [(problem.key, problem.message) for problem in refusal.value.problems] == [
        ("author", "may not author by the plant's list: approve releases, approve tables, withdraw alone"),
        ("approver", "may not approve releases by the plant's list: author alone"),
    ]
    plant.release(people=PEOPLE, approver="Quality lead")
    with pytest.raises(PacketError, match="may not withdraw by the plant's list"):
        plant.withdraw("A", people=PEOPLE, **swapped)
    plant.withdraw("A", people=PEOPLE, approver="Quality lead", must_sign=True)


def test_a_release_without_the_signature_that_the_plant_requires_is_refused(plant: Any) -> None:
    with pytest.raises(PacketError, match="the plant requires a signature"):
        plant.release(must_sign=True)
