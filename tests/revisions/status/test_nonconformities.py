"""A nonconformity is carried by the withdrawal, corrected by a release, added to and closed in the register."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.nonconformity import AlsoIn, Concerned, Nonconformity, PartsAffected, read_parts
from weld_packets.revisions.records.record import read_record
from weld_packets.revisions.register.entries import NonconformityEntry
from weld_packets.revisions.set_ups.run_record import Counted, Run, Start, parts_counted
from weld_packets.revisions.status.nonconformities import (
    NonconformityState,
    Reported,
    corrected_problems,
    nonconformities_of,
    nonconformity_problems,
    orders_with_nonconformities,
)
from weld_packets.revisions.status.release_rules import Withdrawal
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.nonconforming import NonconformityChange, record_nonconformity
from weld_packets.revisions.store.proposing import record_proposal
from weld_packets.revisions.store.releasing import record_release, record_withdrawal
from weld_packets.revisions.store.verification import verify_records

NUMBER = "NC-26-031"
CURRENT = Concerned(operation=2, kind="setting", name="weld current", group="1.2 + 1.0 mm", value="8.4 kA")
SPOT = Concerned(operation=2, kind="weld", name="s1", value="10/0/0 mm")

Leaf = Callable[..., Packet]
Signed = Callable[..., Any]


def by(signed: Signed, day: int, **changed: Any) -> Any:
    when = datetime(2026, 3, day, 8, 0, tzinfo=UTC)
    return signed(recorded=when, effective=Effective(kind="date", start=when.date().isoformat()), **changed)


def withdrawn(plant: Any, signed: Signed, reported: Reported, day: int = 10) -> NonconformityState:
    """Release A and B with another title, withdraw B and return its nonconformity."""
    plant.release(plant.titled("first"), 2)
    plant.release(plant.titled("second"), 9)
    record_withdrawal(plant.instructions, Withdrawal("door-1", "B", by(signed, day, reason="cracks"), reported))
    return state(plant)


def state(plant: Any) -> NonconformityState:
    (found,) = nonconformities_of(load_register(plant.instructions), "door-1")
    return found


def change(plant: Any, signed: Signed, day: int, reported: Reported, **more: Any) -> NonconformityState:
    record_nonconformity(plant.instructions, NonconformityChange("door-1", reported, by(signed, day), **more))
    return state(plant)


def refused(call: Callable[[], object]) -> list[tuple[str, str]]:
    with pytest.raises(PacketError) as caught:
        call()
    assert all(problem.remedy for problem in caught.value.problems)
    return [(problem.key, problem.message) for problem in caught.value.problems]


def test_a_withdrawal_carries_number_parts_containment_and_who_else_holds_it(plant: Any, signed: Signed) -> None:
    parts = PartsAffected(kind="part", first="3", last="12")
    found = withdrawn(plant, signed, Reported(NUMBER, parts, "red cage", ("2:s1", "2: Weld  current")))
    assert (found.number, found.status, found.revision, found.opened.reason) == (NUMBER, "open", "B", "cracks")
    assert (found.known.parts, found.known.containment) == (parts, "red cage")
    assert found.known.concerned == (SPOT, CURRENT)
    assert found.known.also_in == (
        AlsoIn(revision="A", settings_same=1, settings=1, welds_same=1, welds=1, same=(SPOT, CURRENT)),
    )
    assert verify_records(plant.instructions).findings == ()


def test_a_record_without_one_has_the_bytes_of_its_digest_and_none(plant: Any) -> None:
    plant.three()
    entry = load_register(plant.instructions).entries[-1]
    assert (entry.kind, entry.nonconformity, entry.corrects) == ("withdrawal", None, ())
    data = json.loads((plant.instructions / entry.path).read_bytes())
    del data["nonconformity"], data["corrects"]
    assert read_record(json.dumps(data).encode(), entry.path).nonconformity is None


@pytest.mark.parametrize(
    ("altered", "same"),
    [
        ((("operations", 0, "groups", 0, "dialled", 0, "amount", "value"), "8.5"), (SPOT,)),
        ((("operations", 0, "geometry", 0, "pieces", 0, 1), "1"), (CURRENT,)),
        ((("operations", 0, "groups", 0, "title"), "another title"), (SPOT, CURRENT)),
        ((("operations", 0, "geometry", 0, "key"), "s9"), (SPOT, CURRENT)),
        ((("operations", 0, "number"), 7), (SPOT, CURRENT)),
    ],
    ids=["another current", "another place", "the welds under another title", "the place by another name", "number"],
)
def test_what_another_revision_holds_is_compared_by_value_and_place(
    plant: Any, signed: Signed, leaf: Leaf, altered: tuple[Any, ...], same: tuple[Concerned, ...]
) -> None:
    plant.release(leaf(plant.packet, *altered), 2)
    plant.release(plant.packet, 9)
    reported = Reported(NUMBER, concerned=("2:s1", "2:weld current"))
    record_withdrawal(plant.instructions, Withdrawal("door-1", "B", by(signed, 10), reported))
    assert state(plant).known.also_in[0].same == same


def test_without_a_name_everything_is_compared_also_with_later_revisions(
    plant: Any, signed: Signed, leaf: Leaf
) -> None:
    plant.release(leaf(plant.packet, ("operations", 0, "geometry", 0, "pieces", 0, 1), "1"), 2)
    plant.release(plant.packet, 9)
    plant.release(leaf(plant.packet, ("operations", 0, "groups", 0, "dialled", 0, "amount", "value"), "9"), 12)
    record_withdrawal(plant.instructions, Withdrawal("door-1", "B", by(signed, 13), Reported(NUMBER)))
    assert [str(each) for each in state(plant).known.also_in] == [
        "revision A holds the same in 1 of 1 setting and 2 of 3 welds",
        "revision C holds the same in 0 of 1 setting and 3 of 3 welds",
    ]


def test_what_concerns_nothing_of_the_revision_is_refused_with_what_is_near(plant: Any, signed: Signed) -> None:
    plant.release()
    before = plant.files()
    reported = Reported(NUMBER, concerned=("2:weld curent", "3:s1"))
    with pytest.raises(PacketError) as caught:
        record_withdrawal(plant.instructions, Withdrawal("door-1", "A", by(signed, 10), reported))
    first, second = caught.value.problems
    assert first.remedy.startswith("did you mean weld current?")
    assert second.message == "names no operation of this revision"
    assert plant.files() == before


def test_more_can_be_recorded_later_and_what_is_not_stated_stays(plant: Any, signed: Signed) -> None:
    withdrawn(plant, signed, Reported(NUMBER, concerned=("2:s1",)))
    found = change(plant, signed, 11, Reported(NUMBER, parts=read_parts("none made")))
    assert (found.known.parts.kind, found.known.containment, found.known.concerned) == ("none made", "", (SPOT,))
    found = change(plant, signed, 12, Reported(NUMBER, containment="nothing to hold"))
    assert (found.known.parts.kind, found.known.containment, found.revision) == ("none made", "nothing to hold", "B")
    assert [entry.recorded_at[:10] for entry in found.added_to] == ["2026-03-11", "2026-03-12"]
    assert found.opened.recorded_at[:10] == "2026-03-10"


def test_cause_and_corrective_action_are_kept_when_they_become_known(plant: Any, signed: Signed) -> None:
    found = withdrawn(plant, signed, Reported(NUMBER, cause="clamp moved"))
    assert (found.known.cause, found.known.corrective_action) == ("clamp moved", "")
    found = change(plant, signed, 11, Reported(NUMBER, corrective_action="place checked at each release"))
    assert (found.known.cause, found.known.corrective_action) == ("clamp moved", "place checked at each release")
    found = change(plant, signed, 12, Reported(NUMBER, cause=""))
    assert (found.known.cause, found.known.corrective_action) == ("", "place checked at each release")
    assert verify_records(plant.instructions).findings == ()


def test_an_entry_from_before_they_could_be_stated_is_read_and_keeps_its_signed_bytes() -> None:
    known = {"number": NUMBER, "parts": {"kind": "none made", "first": "", "last": ""}, "containment": "none",
             "concerned": [], "also_in": []}  # fmt: skip
    written = {"author": "a", "approver": "b", "reason": "cracks", "recorded_at": "2026-03-11T08:00:00Z",
               "code": {"version": "0.3.0", "commit": "unknown"}, "record_version": 1, "kind": "nonconformity",
               "order": "door-1", "revision": "A", "nonconformity": known, "closed": False,
               "corrected_by": []}  # fmt: skip
    entry = NonconformityEntry.model_validate_json(json.dumps(written), strict=True)
    assert (entry.nonconformity.cause, entry.nonconformity.corrective_action) == ("", "")
    assert json.loads(entry.signed_bytes) == written | {"signature": None}


def test_a_revision_at_fault_is_not_released_again_unchanged_while_its_nonconformity_is_open(
    plant: Any, signed: Signed
) -> None:
    withdrawn(plant, signed, Reported(NUMBER, read_parts("none made"), "none", cause="clamp moved"))
    again = replace(plant.wanted(plant.titled("second")), by=by(signed, 12))
    refusal = ("nonconformity", "is open, and the packet still holds what revision B has at fault: all")
    assert refused(lambda: record_release(plant.instructions, again)) == [refusal]
    assert refused(lambda: record_release(plant.instructions, replace(again, corrects=(NUMBER,)))) == [refusal]
    change(plant, signed, 13, Reported(NUMBER), closed=True)
    published = record_release(plant.instructions, replace(again, by=by(signed, 14)))
    assert published.entry.revision == "C"


def test_a_packet_that_changes_nothing_of_what_an_open_nonconformity_names_is_refused(
    plant: Any, signed: Signed, leaf: Leaf
) -> None:
    withdrawn(plant, signed, Reported(NUMBER, concerned=("2:s1", "2:weld current")))
    same = replace(plant.wanted(plant.titled("third")), by=by(signed, 12))
    message = f"is open, and the packet still holds what revision B has at fault: {SPOT}; {CURRENT}"
    for record in (record_proposal, record_release):
        assert refused(partial(record, plant.instructions, same)) == [("nonconformity", message)]
    moved = leaf(plant.packet, ("operations", 0, "geometry", 0, "pieces", 0, 1), "1")
    published = record_release(plant.instructions, replace(plant.wanted(moved), by=by(signed, 12)))
    assert published.entry.revision == "C"


def test_a_release_says_what_it_corrects_and_only_what_is_open(plant: Any, signed: Signed) -> None:
    withdrawn(plant, signed, Reported(NUMBER, read_parts("none made"), "none", cause="clamp moved"))
    third = replace(plant.wanted(plant.titled("third")), by=by(signed, 12))
    other = replace(third, corrects=("NC-1",))
    assert refused(lambda: record_release(plant.instructions, other)) == [
        ("corrects", "is not an open nonconformity of this order")
    ]
    record_release(plant.instructions, replace(third, corrects=(NUMBER,)))
    assert state(plant).corrected_by == ("C",)
    change(plant, signed, 13, Reported(NUMBER), closed=True)
    fourth = replace(plant.wanted(plant.titled("fourth")), by=by(signed, 14), corrects=(NUMBER,))
    assert refused(lambda: record_release(plant.instructions, fourth)) == [
        ("corrects", "is not an open nonconformity of this order")
    ]


def test_it_closes_once_with_a_reason_when_parts_and_containment_are_stated(plant: Any, signed: Signed) -> None:
    withdrawn(plant, signed, Reported(NUMBER))
    closing = NonconformityChange("door-1", Reported(NUMBER), by(signed, 11), closed=True)
    assert refused(lambda: record_nonconformity(plant.instructions, closing)) == [
        ("parts", "it is not known which parts are affected"),
        ("containment", "no containment is recorded"),
        ("cause", "no cause is recorded"),
    ]
    change(plant, signed, 11, Reported(NUMBER, read_parts("serial L-1 to L-9"), "scrapped", cause="not known"))
    silent = replace(closing, by=by(signed, 12, reason=" "))
    assert refused(lambda: record_nonconformity(plant.instructions, silent)) == [("reason", "is missing")]
    found = change(plant, signed, 12, Reported(NUMBER), closed=True)
    assert found.status == "closed"
    assert found.closed is not None
    assert (found.closed.reason, found.closed.recorded_at[:10]) == ("first issue", "2026-03-12")
    again = replace(closing, by=by(signed, 13))
    assert refused(lambda: record_nonconformity(plant.instructions, again)) == [("nonconformity", "is closed already")]
    more = NonconformityChange("door-1", Reported(NUMBER), by(signed, 13))
    assert refused(lambda: record_nonconformity(plant.instructions, more)) == [
        ("nonconformity", "is closed since 2026-03-12")
    ]
    last = Withdrawal("door-1", "A", by(signed, 13), Reported(NUMBER, cause="clamp moved"))
    assert refused(lambda: record_withdrawal(plant.instructions, last)) == [
        ("nonconformity", "is closed since 2026-03-12")
    ]
    assert verify_records(plant.instructions).findings == ()


def closed_before_causes(plant: Any, signed: Signed, monkeypatch: pytest.MonkeyPatch, cause: str = "") -> None:
    """Close one as a program did that asked for no cause, or with what is stated of its cause."""
    withdrawn(plant, signed, Reported(NUMBER, read_parts("none made"), "none", cause=cause))
    with monkeypatch.context() as patch:
        patch.setattr("weld_packets.revisions.store.nonconforming.closing_problems", lambda _number, _known: ())
        change(plant, signed, 12, Reported(NUMBER), closed=True)


@pytest.mark.parametrize("stated", ["", "not known", "Not known"])
def test_one_that_was_closed_without_a_cause_is_given_it_later_and_stays_closed(
    plant: Any, signed: Signed, monkeypatch: pytest.MonkeyPatch, stated: str
) -> None:
    closed_before_causes(plant, signed, monkeypatch, stated)
    before = plant.files()
    found = change(plant, signed, 14, Reported(NUMBER, cause="clamp moved"))

    assert (found.status, found.known.cause, found.known.containment) == ("closed", "clamp moved", "none")
    assert found.closed is not None
    assert found.closed.recorded_at[:10] == "2026-03-12"
    assert [each.recorded_at[:10] for each in found.added_to] == ["2026-03-14"]
    found = change(plant, signed, 15, Reported(NUMBER, corrective_action="place checked at each release"))
    assert (found.known.cause, found.known.corrective_action) == ("clamp moved", "place checked at each release")
    assert [each.recorded_at[:10] for each in found.added_to] == ["2026-03-14", "2026-03-15"]
    assert before.items() <= plant.files().items()
    assert verify_records(plant.instructions).findings == ()


@pytest.mark.parametrize(
    "late",
    [
        Reported(NUMBER, cause="another"),
        Reported(NUMBER, cause=""),
        Reported(NUMBER, containment="held"),
        Reported(NUMBER, parts=read_parts("not known"), corrective_action="checked"),
        Reported(NUMBER, concerned=("2:s1",)),
    ],
)
def test_nothing_else_is_stated_of_one_that_is_closed(
    plant: Any, signed: Signed, monkeypatch: pytest.MonkeyPatch, late: Reported
) -> None:
    closed_before_causes(plant, signed, monkeypatch, "clamp moved")
    wanted = NonconformityChange("door-1", late, by(signed, 14))
    assert refused(lambda: record_nonconformity(plant.instructions, wanted)) == [
        ("nonconformity", "is closed since 2026-03-12")
    ]


def test_a_late_cause_is_a_text_as_any_other(plant: Any, signed: Signed, monkeypatch: pytest.MonkeyPatch) -> None:
    closed_before_causes(plant, signed, monkeypatch)
    wanted = NonconformityChange("door-1", Reported(NUMBER, cause="one\ntwo"), by(signed, 14))
    ((key, _message),) = refused(lambda: record_nonconformity(plant.instructions, wanted))
    assert key == "cause"


def test_one_of_a_revision_in_use_is_opened_without_a_withdrawal(plant: Any, signed: Signed) -> None:
    plant.release()
    nameless = NonconformityChange("door-1", Reported(NUMBER), by(signed, 3))
    assert refused(lambda: record_nonconformity(plant.instructions, nameless))[0][0] == "revision"
    found = change(plant, signed, 3, Reported(NUMBER), revision="A")
    assert (found.status, found.revision, found.known.also_in) == ("open", "A", ())
    assert orders_with_nonconformities(load_register(plant.instructions)) == ("door-1",)


@pytest.mark.parametrize(
    ("reported", "key"),
    [
        (Reported("NC\t1"), "nonconformity"), (Reported("x" * 41), "nonconformity"), (Reported(""), "nonconformity"),
        (Reported(NUMBER, containment="a\x07"), "containment"),
        (Reported(NUMBER, containment="a" * 501), "containment"),
        (Reported(NUMBER, containment="\u3164"), "containment"),
        (Reported(NUMBER, cause="a\u202eb"), "cause"),
        (Reported(NUMBER, corrective_action="--"), "corrective action"),
        (Reported(NUMBER, PartsAffected(kind="part", first="1", last="501")), "parts"),
    ],
)  # fmt: skip
def test_what_cannot_be_so_is_refused(plant: Any, signed: Signed, reported: Reported, key: str) -> None:
    plant.release()
    wanted = Withdrawal("door-1", "A", by(signed, 10), reported)
    assert [found for found, _ in refused(lambda: record_withdrawal(plant.instructions, wanted))] == [key]


def test_the_last_part_of_the_order_can_be_affected(plant: Any, signed: Signed) -> None:
    parts = PartsAffected(kind="part", first="500", last="500")
    assert str(withdrawn(plant, signed, Reported("N" * 40, parts, "c" * 500)).known.parts) == "part 500"


def run_of(revision: str, started: tuple[str, ...], *counts: str, identifier: str, saved_during: str = "") -> Run:
    starts = tuple(Start.model_construct(revision=each) for each in started)
    return Run.model_construct(
        id=identifier,
        revision=revision,
        starts=starts,
        counts=tuple(Counted.model_construct(count=each) for each in counts),
        saved_during=saved_during,
    )


def test_parts_count_for_every_revision_that_started_or_ended_a_run() -> None:
    counts = (("A", (), "3", "7"), ("B", ("A", "B"), "9"), ("B", ("B",), "20"), ("A", ("A",)))
    runs = [run_of(*each, identifier=str(at)) for at, each in enumerate(counts)]
    assert parts_counted(runs, "A") == 16
    assert parts_counted(runs, "C") == 0


def test_the_parts_of_a_run_count_once_however_often_its_record_was_saved() -> None:
    runs = [
        run_of("A", (), "9", identifier="1"),
        run_of("A", (), "7", identifier="2", saved_during="1"),
        run_of("A", (), "4", identifier="3", saved_during="5"),
        run_of("A", (), "6", identifier="4", saved_during="5"),
    ]
    assert parts_counted(runs, "A") == 15


@pytest.mark.parametrize(("counted", "found"), [(0, []), (1, ["run records of the revision at fault count 1 parts"])])
def test_none_made_is_refused_where_run_records_count_parts(counted: int, found: list[str]) -> None:
    wanted = Nonconformity(number=NUMBER, parts=read_parts("none made"))
    problems = nonconformity_problems(wanted, quantity=500, counted=counted)
    assert [problem.message for problem in problems] == found


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("none made", "none made"), ("Not  known", "not known yet"), ("part 12", "part 12"),
        ("parts 3 to 12", "parts 3 to 12"), ("part 1", "part 1"),
        ("serial LC-0450 to LC-0470", "serial numbers LC-0450 to LC-0470"), ("serials 7", "serial number 7"),
    ],
)  # fmt: skip
def test_the_parts_affected_are_read(text: str, said: str) -> None:
    assert str(read_parts(text)) == said


@pytest.mark.parametrize("text", ["", "12", "part 0", "part 12 to 3", "serial", "some", "part -1"])
def test_other_words_for_parts_are_refused(text: str) -> None:
    assert refused(lambda: read_parts(text)) == [("parts", "does not say which parts are affected")]


@pytest.mark.parametrize("given", [{"kind": "part"}, {"kind": "none made", "first": "1", "last": "2"},
                                   {"kind": "part", "first": "2", "last": "1"}, {"kind": "part", "first": "0", "last": "1"}])  # fmt: skip  # noqa: E501
def test_a_record_cannot_hold_parts_that_are_none(given: dict[str, str]) -> None:
    with pytest.raises(ValueError, match=r"part"):
        PartsAffected.model_validate(given)


@pytest.mark.parametrize(
    ("revision", "at_fault", "remedy"),
    [("C", "B", ""), ("D", "B", ""), ("B", "B", "name one of: C, D"), ("A", "B", "name one of: C, D"),
     ("D", "D", "leave it out: none was released after it"), ("A", "", "leave it out: none was released after it")],
)  # fmt: skip
def test_only_a_revision_that_was_released_later_corrects_the_one_at_fault(
    revision: str, at_fault: str, remedy: str
) -> None:
    before: Any = SimpleNamespace(revision=at_fault) if at_fault else None
    found = list(corrected_problems([revision], before, ["A", "B", "C", "D"]))

    assert [each.remedy for each in found] == ([remedy] if remedy else [])
    assert all(f"after {at_fault or 'the one'}, which is at fault" in each.message for each in found)
