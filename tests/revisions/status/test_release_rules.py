from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.records.canonical import packet_digest, short
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.status.release_rules import expired_records
from weld_packets.revisions.status.status import in_force
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.releasing import record_release
from weld_packets.revisions.store.verification import verify_records


def refusals(plant: Any, packet: Packet | None = None, approved: str = "", **by: Any) -> list[tuple[str, str]]:
    before = plant.files()
    with pytest.raises(PacketError) as caught:
        record_release(plant.instructions, plant.wanted(packet, approved, **by))
    assert plant.files() == before
    assert all(problem.file and problem.remedy for problem in caught.value.problems)
    return [(problem.key, problem.message) for problem in caught.value.problems]


@pytest.mark.parametrize(
    "approver", ["Process engineer", "process  ENGINEER ", "Process\u00a0engineer", "\uff30rocess engineer"]
)
def test_author_and_approver_differ(plant: Any, approver: str) -> None:
    assert refusals(plant, approver=approver) == [("approver", "author and approver are the same person")]


def test_one_person_may_do_both_where_the_plant_allows_it(plant: Any) -> None:
    record_release(plant.instructions, plant.wanted(approver="Process engineer", one_person=True))
    assert load_register(plant.instructions).entries[0].approver == "Process engineer"


@pytest.mark.parametrize("key", ["author", "approver", "reason"])
def test_author_approver_and_reason_are_asked_for(plant: Any, key: str) -> None:
    assert refusals(plant, **{key: "  "}) == [(key, "is missing")]


@pytest.mark.parametrize("text", ["a\nb", "a\u2028b", "x" * 501])
def test_control_characters_and_endless_texts_are_refused(plant: Any, text: str) -> None:
    ((key, message),) = refusals(plant, reason=text)
    assert key == "reason"
    assert "control character or more than 500" in message


@pytest.mark.parametrize("change", [{"approved_by": ""}, {"approved_on": ""}])
def test_a_table_that_is_not_approved_is_refused(plant: Any, change: dict[str, str]) -> None:
    table = plant.packet.tables[0].model_copy(update=change)
    packet = plant.packet.model_copy(update={"tables": (table,)})
    assert refusals(plant, packet) == [("tables", "table spot-lc, revision 3, is not approved")]


def test_several_tables_that_are_not_approved_are_one_refusal_with_their_names(plant: Any) -> None:
    table = plant.packet.tables[0].model_copy(update={"approved_by": ""})
    other = table.model_copy(update={"table": "wires"})
    packet = plant.packet.model_copy(update={"tables": (table, other)})
    assert refusals(plant, packet) == [("tables", "2 tables are not approved: spot-lc, wires")]


def test_a_table_whose_approval_lies_in_the_future_is_refused(plant: Any) -> None:
    table = plant.packet.tables[0].model_copy(update={"approved_on": "2099-01-01"})
    ((key, message),) = refusals(plant, plant.packet.model_copy(update={"tables": (table,)}))
    assert (key, message) == (
        "tables", "table spot-lc, revision 3, is approved on 2099-01-01, a day that has not come"
    )  # fmt: skip


def test_nothing_changed_is_refused(plant: Any) -> None:
    plant.release()
    assert refusals(plant) == [("order", "nothing has changed since revision A")]


def test_what_was_withdrawn_may_be_released_again_under_a_new_mark(plant: Any) -> None:
    plant.release()
    plant.withdraw("A")
    assert plant.release(day=21).entry.revision == "B"


def test_a_withdrawal_of_an_older_revision_is_no_change_of_the_newest(plant: Any) -> None:
    plant.release()
    plant.release(plant.titled("second"), day=21)
    plant.withdraw("A", day=22)
    with pytest.raises(PacketError, match="nothing has changed since revision B"):
        plant.release(plant.titled("second"), day=23)


def test_what_a_withdrawn_revision_replaced_may_be_released_again(plant: Any) -> None:
    plant.release()
    plant.release(plant.titled("second"), day=21)
    plant.withdraw("B", day=22)
    assert plant.release(day=23).entry.revision == "C"


def test_an_unknown_previous_order_is_refused(plant: Any) -> None:
    head = plant.packet.head.model_copy(update={"previous_order": "frame-9"})
    packet = plant.packet.model_copy(update={"head": head})
    assert refusals(plant, packet) == [("previous order", "there is no such order to change over from")]


def test_an_order_without_a_previous_one_is_released(plant: Any) -> None:
    head = plant.packet.head.model_copy(update={"previous_order": ""})
    assert plant.release(plant.packet.model_copy(update={"head": head})).entry.revision == "A"


@pytest.mark.parametrize("form", [str, short])
def test_a_release_may_be_bound_to_the_digest_that_was_approved(plant: Any, form: Any) -> None:
    approved = form(packet_digest(plant.packet))
    record_release(plant.instructions, plant.wanted(approved=approved))
    assert load_register(plant.instructions).entries[0].packet_digest == packet_digest(plant.packet)


@pytest.mark.parametrize("approved", ["0" * 64, "0" * 12, "1a2b"])
def test_another_packet_than_the_approved_one_is_refused(plant: Any, approved: str) -> None:
    ((key, message),) = refusals(plant, approved=approved)
    assert key == "digest"
    assert short(packet_digest(plant.packet)) in message


def test_a_bad_effectivity_is_refused(plant: Any) -> None:
    ((key, message),) = refusals(plant, effective=Effective(kind="date", start="2026-02-01"))
    assert key == "effective from"
    assert "before the day of the record" in message


def test_a_revision_may_not_begin_before_the_one_that_it_follows(plant: Any) -> None:
    plant.release(effective=Effective(kind="date", start="2026-04-01"))
    earlier = Effective(kind="date", start="2026-03-20")
    assert refusals(plant, plant.titled("new"), effective=earlier)
    plant.withdraw("A")
    plant.release(plant.titled("new"), 21, effective=Effective(kind="date", start="2026-03-22"))


def test_a_clock_that_was_set_back_is_noticed(plant: Any) -> None:
    plant.release(day=3)
    found = refusals(plant, plant.titled("new"), recorded=datetime(2026, 3, 3, 7, 59, 59, tzinfo=UTC),
                     effective=Effective(kind="date", start="2026-03-03"))  # fmt: skip
    assert found[0][0] == "released on"


def test_all_reasons_are_reported_at_once(plant: Any) -> None:
    found = refusals(plant, approved="0" * 12, author="", reason="", effective=Effective(kind="part", start="501"))
    assert [key for key, _ in found] == ["author", "reason", "digest", "effective from"]


def test_letters_run_out_only_after_the_last_one(plant: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("weld_packets.revisions.store.releasing.REVISION_LETTERS", ("A",))
    plant.release()
    ((_, message),) = refusals(plant, plant.titled("new"))
    assert "all revision letters" in message


@pytest.mark.parametrize(("mark", "why"), [("B", "no such released revision; there are: A"), ("C", "no such")])
def test_only_a_released_revision_is_withdrawn(plant: Any, mark: str, why: str) -> None:
    plant.release()
    with pytest.raises(PacketError, match=why):
        plant.withdraw(mark)


def test_a_revision_is_withdrawn_once(plant: Any) -> None:
    plant.release()
    plant.withdraw("A")
    with pytest.raises(PacketError, match="is withdrawn already"):
        plant.withdraw("A")


def test_a_withdrawal_takes_effect_on_a_date(plant: Any) -> None:
    plant.release()
    with pytest.raises(PacketError, match="takes effect on a date"):
        plant.withdraw("A", effective=Effective(kind="part", start="7"))


def test_a_withdrawal_needs_two_people_too(plant: Any) -> None:
    plant.release()
    with pytest.raises(PacketError, match="the same person"):
        plant.withdraw("A", approver="Process engineer")


def test_an_order_without_releases_has_nothing_to_withdraw(plant: Any) -> None:
    with pytest.raises(PacketError, match="there are: none"):
        plant.withdraw("A")


@pytest.mark.parametrize(
    "sign", ["\u3164", "\u200b", "\u2800", "\u00ad", "\ufe0f", "\U000e0041", "\u115f", "\u202e", "\ufeff"]
)
def test_signs_that_nobody_sees_make_no_name_and_no_other_person(plant: Any, sign: str) -> None:
    assert refusals(plant, author=sign) == [("author", "is missing")]
    found = refusals(plant, approver=f"Process engineer{sign}")
    assert ("approver", f"holds a sign that nobody sees, U+{ord(sign):04X}") in found
    assert ("approver", "author and approver are the same person") in found


def test_a_letter_of_another_script_makes_no_other_person(plant: Any) -> None:
    found = refusals(plant, approver="Process engin\u0435er")
    assert ("approver", "holds letters of two scripts that look the same") in found
    assert ("approver", "author and approver are the same person") in found


def late(year: int, **by: Any) -> dict[str, Any]:
    return {
        "recorded": datetime(year, 1, 1, tzinfo=UTC),
        "effective": Effective(kind="date", start=f"{year}-01-01"),
        **by,
    }


def test_a_record_of_another_order_is_before_the_clock_too(plant: Any) -> None:
    plant.release(plant.titled("frame", "frame-1"), 9)
    on_the_eighth = {"effective": Effective(kind="date", start="2026-03-08")}
    ((key, message),) = refusals(plant, recorded=datetime(2026, 3, 8, tzinfo=UTC), **on_the_eighth)
    assert (key, message) == (
        "released on",
        "the clock is before the last record of the register, 2026-03-09T08:00:00Z",
    )


def test_a_clock_that_is_far_ahead_is_refused_against_the_last_record_and_that_of_the_computer(plant: Any) -> None:
    plant.release(day=2)
    ((key, message),) = refusals(plant, plant.titled("new"), **late(2100))
    assert key == "released on"
    assert message == "the clock is more than 400 days after the last record of the register, 2026-03-02T08:00:00Z"
    machine = datetime(2026, 3, 3, tzinfo=UTC)
    found = refusals(plant, plant.titled("new"), **late(2100, machine_clock=machine))
    assert found[1] == ("released on", "is more than 400 days after the clock of this computer, 2026-03-03")
    bound = datetime(2026, 3, 2, 8, tzinfo=UTC) + timedelta(days=400)
    on_it = {"effective": Effective(kind="date", start=bound.date().isoformat())}
    assert refusals(plant, plant.titled("new"), recorded=bound + timedelta(seconds=1), **on_it)
    record_release(plant.instructions, plant.wanted(plant.titled("new"), recorded=bound, **on_it))


def test_what_is_in_force_is_withdrawn_after_a_record_of_a_wrong_clock_and_time_goes_on_from_there(plant: Any) -> None:
    plant.release(day=2)
    wrong = late(2100, clock_allowance=timedelta(days=100_000))
    record_release(plant.instructions, plant.wanted(plant.titled("of the wrong clock"), **wrong))
    on_the_ninth = {"effective": Effective(kind="date", start="2026-03-09")}
    assert refusals(plant, plant.titled("next"), recorded=datetime(2026, 3, 9, tzinfo=UTC), **on_the_ninth)
    plant.withdraw("A", 5)
    register = load_register(plant.instructions)
    assert in_force(register.of("door-1"), date(2026, 3, 6)) is None
    assert register.last_at == "2026-03-05T08:00:00Z"
    plant.withdraw("B", 6)
    plant.release(plant.titled("frame", "frame-1"), 7)
    plant.release(plant.titled("next"), 8)
    found = verify_records(plant.instructions)
    assert found.findings == ()
    note, gap = found.notes
    assert gap.startswith(
        "door-1/released/B.json is of 2100-01-01T00:00:00Z, more than 400 days after the record before"
    )
    assert note.startswith("door-1/released/A.withdrawn.json is of 2026-03-05T08:00:00Z, earlier than an entry before")


def test_after_a_withdrawal_of_a_wrong_clock_time_goes_on_from_that_of_a_superseded_revision(plant: Any) -> None:
    plant.release(day=2)
    plant.release(plant.titled("second"), 3)
    far = Effective(kind="date", start="2100-01-01")
    plant.withdraw("B", recorded=datetime(2100, 1, 1, tzinfo=UTC), effective=far)
    ninth = {"recorded": datetime(2026, 3, 9, tzinfo=UTC), "effective": Effective(kind="date", start="2026-03-09")}
    assert (
        refusals(plant, plant.titled("third"), **ninth)[0][1]
        == "the clock is before the last record of the register, 2100-01-01T00:00:00Z"
    )
    plant.withdraw("A", 8)
    plant.release(plant.titled("third"), 9)


def test_a_record_that_is_earlier_than_one_before_it_shows(plant: Any) -> None:
    plant.release(day=9)
    plant.release(plant.titled("frame", "frame-1"), 12)
    one, other = load_register(plant.instructions).entries
    plant.write_register([other, one])
    assert "door-1 release: is of 2026-03-09T08:00:00Z, earlier than an entry before it" in [
        str(finding) for finding in verify_records(plant.instructions).findings
    ]


@pytest.mark.parametrize(("days", "refused"), [(400, False), (401, True)])
def test_a_day_of_effect_is_no_further_off_than_a_clock_may_run_ahead(plant: Any, days: int, *, refused: bool) -> None:
    recorded = plant.wanted().by.recorded
    start = Effective(kind="date", start=(recorded.date() + timedelta(days=days)).isoformat())
    if refused:
        assert refusals(plant, effective=start) == [("effective from", "is more than 400 days off")]
    else:
        plant.release(effective=start)


@pytest.mark.parametrize(("start", "refused"), [("2027-04-06", False), ("2027-04-07", True)])
def test_a_withdrawal_under_a_clock_that_was_set_back_takes_effect_on_the_day_that_it_names(
    plant: Any, start: str, *, refused: bool
) -> None:
    plant.release(day=2)
    changed = {"recorded": datetime(2001, 9, 9, tzinfo=UTC), "effective": Effective(kind="date", start=start)}
    if refused:
        with pytest.raises(PacketError, match="is more than 400 days off"):
            plant.withdraw("A", **changed)
    else:
        plant.withdraw("A", **changed)
        entries = load_register(plant.instructions).of("door-1")
        assert in_force(entries, date.fromisoformat(start) - timedelta(days=1)) is not None
        assert in_force(entries, date.fromisoformat(start)) is None


def test_a_withdrawal_does_not_wait_for_another_century(plant: Any) -> None:
    plant.release()
    with pytest.raises(PacketError) as caught:
        plant.withdraw("A", effective=Effective(kind="date", start="2126-04-01"))
    assert [problem.message for problem in caught.value.problems] == ["is more than 400 days off"]


@pytest.mark.parametrize(("day", "expired"), [("2026-11-30", False), ("2026-12-01", True)])
def test_a_qualification_record_holds_on_the_last_of_its_days(day: str, *, expired: bool) -> None:
    records = [
        SimpleNamespace(record="WPQR-1", valid_until="2026-11-30"),
        SimpleNamespace(record="W-2", valid_until=""),
    ]
    operation = SimpleNamespace(
        number=1, name="Frame", qualification=SimpleNamespace(required="required", records=records)
    )
    packet: Any = SimpleNamespace(operations=[operation])
    found = [each.message for each in expired_records(packet, date.fromisoformat(day))]

    assert found == (["record WPQR-1 of operation 1, Frame, expired on 2026-11-30"] if expired else [])
