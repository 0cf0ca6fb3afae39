"""Set-up records: which are filed, which are refused and why, and what protects them."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.errors import PacketError
from weld_packets.revisions.records.canonical import canonical
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.set_ups.acceptance import FROM_NOTHING, unrecorded_lines
from weld_packets.revisions.set_ups.record import read_set_up
from weld_packets.revisions.store.set_ups import file_from_cell

Form = dict[str, Any]
FILED = datetime(2026, 12, 20, 12, tzinfo=UTC)
CODE = Code(version="0", commit="unknown")
CURRENT = "left-c5a/weld_current"
TIME = "left-c5a/weld_time"


def filed_files(plant: Any) -> list[str]:
    return sorted(path.name for path in (plant.root / "instructions" / "wo-1").glob("set-ups/*"))


def test_a_record_is_filed_beside_its_order_in_canonical_form(plant: Any) -> None:
    form = plant.set_up()
    answer = plant.add(form)
    path = plant.root / "instructions" / "wo-1" / "set-ups" / f"{form['id']}.json"
    assert (answer.status, answer.errors) == (0, "")
    assert f"filed as wo-1/set-ups/{form['id']}.json; operation 2 revision A: first-off accepted" in answer.out
    assert "keep a copy of this line elsewhere: register 2:" in answer.out
    assert path.read_bytes() == canonical(form)
    assert plant.run("verify").status == 0


def test_the_same_file_again_is_said_and_not_filed_twice(plant: Any) -> None:
    form = plant.set_up()
    plant.add(form)
    register = sorted((plant.root / "instructions" / "register").iterdir())
    again = plant.add(form, form)
    assert again.status == 0
    assert again.out.count("filed already on 2026-12-20T12:00:00Z as wo-1/set-ups/") == 2
    assert sorted((plant.root / "instructions" / "register").iterdir()) == register


def test_another_record_of_the_same_set_up_is_refused(plant: Any) -> None:
    form = plant.set_up()
    plant.add(form)
    answer = plant.add({**form, "setter": "somebody else"})
    assert answer.status == 1
    assert "another record of this set-up is filed" in answer.errors
    assert len(filed_files(plant)) == 1


def test_the_fault_of_one_file_does_not_stop_the_others(plant: Any) -> None:
    good, other = plant.set_up(), plant.set_up(operation=1)
    answer = plant.add({**good, "version": 2}, good, other)
    assert answer.status == 1
    assert "0.json: refused, 1 problem" in answer.out
    assert answer.out.count("filed as") == 2
    assert len(filed_files(plant)) == 2


def test_a_file_that_is_missing_is_a_problem_of_its_own(plant: Any) -> None:
    answer = plant.run("records", "add", str(plant.root / "nothing.json"))
    assert answer.status == 1
    assert "nothing.json" in answer.errors


def test_both_robots_stand_in_the_record_with_their_own_readings(plant: Any) -> None:
    form = plant.set_up()
    value = plant.value(CURRENT)
    assert value.robots == ("C5A", "C5B")
    low = next(each for each in form["readings"] if (each["value"], each["robot"]) == (CURRENT, "C5B"))
    low |= {"entered": "6,1", "number": "6.1", "verdict": "low"}
    form = plant.excused(form, "Weld current, C5B", "Weld time, C5B, beside weld current")
    answer = plant.add(plant.judged(form))
    assert answer.status == 0, answer.errors
    assert "2 outside, 2 deviations" in answer.out
    data = json.loads(plant.run("records", "list", "--json").out)
    assert data[0]["set_ups"][0]["outside"] == [{"value": CURRENT, "robot": "C5B", "verdict": "low"}]
    assert data[0]["set_ups"][0]["outside_together"] == [
        {"value": TIME, "other": CURRENT, "robot": "C5B", "verdict": "low"}
    ]


def _apart(plant: Any) -> Form:
    """Return a set-up that read on C5A a time and a current, each inside its range, which make too weak a weld."""
    form = plant.set_up()
    for entry in form["readings"]:
        if entry["robot"] == "C5A" and entry["value"] in (TIME, CURRENT):
            text = {TIME: "180", CURRENT: "6.2"}[entry["value"]]
            entry |= {"entered": text, "number": text, "verdict": "in range"}
    return dict(plant.excused(form, "Weld time, C5A, beside weld current"))


def test_two_values_inside_their_ranges_are_judged_together_too(plant: Any) -> None:
    form = plant.judged(_apart(plant))
    robots = {entry["robot"]: entry["verdict"] for entry in form["together"]}
    assert robots == {"C5A": "low", "C5B": "in range"}
    answer = plant.add(form)
    assert answer.status == 0, answer.errors
    assert "1 outside" in answer.out


CURRENT_B = {"value": CURRENT, "robot": "C5B"}
OUTSIDE = {"entered": "6.1", "number": "6.1", "verdict": "low"}
UNEXCUSED = "Weld current, C5B is 'low', and no deviation says why"


def _low(plant: Any, *excused: str, reason: str = "gun on trial", **changes: Any) -> Form:
    """Return a set-up with a weld current of C5B outside its range, and a deviation for each name."""
    form = plant.set_up(**changes)
    next(each for each in form["readings"] if each.items() >= CURRENT_B.items()).update(OUTSIDE)
    return dict(plant.judged(plant.excused(form, *excused, reason=reason)))


@pytest.mark.parametrize(
    ("excused", "reason", "words"),
    [
        ((), "", (UNEXCUSED, "Weld time, C5B, beside weld current is 'low', and no deviation says why")),
        (("Weld current, C5B",), "trial", ("beside weld current is 'low'",)),
        (("Weld time, C5B, beside weld current",), "trial", (UNEXCUSED,)),
        (("Weld current, C5A", "Weld time, C5B, beside weld current"), "trial", (UNEXCUSED,)),
        (("Weld current, C5B", "Weld time, C5B, beside weld current"), "  ", (UNEXCUSED, "beside weld current is")),
        (("Weld current, C5B", "Weld time, C5B, beside weld current"), "trial", ()),
    ],
)
def test_nothing_outside_is_accepted_without_a_deviation_that_gives_the_reason(
    plant: Any, excused: tuple[str, ...], reason: str, words: tuple[str, ...]
) -> None:
    answer = plant.add(_low(plant, *excused, reason=reason))
    assert (answer.status, answer.errors.count("no deviation says why")) == (bool(words), 2 * len(words))
    assert [text for text in words if text not in answer.errors] == []


def test_the_coupons_rest_on_the_settings_alone_and_the_first_off_on_the_readings_too(plant: Any) -> None:
    form = plant.set_up(operation=1)
    reading = next(value for value in plant.set_up_form(1).values if value.kind == "reading")
    without = [entry for entry in form["readings"] if entry["value"] != reading.key]
    coupons, first_off = form["accepted"]
    form = {**form, "readings": without}
    answer = plant.add(plant.judged(form))
    assert f"accepted[1].what = 'first-off'\n    {reading.label}" in answer.errors
    assert f"{reading.robots[0]} was not read" in answer.errors
    assert first_off["what"] == "first-off"
    alone = plant.judged({**form, "accepted": [coupons], "finished": ""})
    assert plant.add(alone).status == 0


def test_no_acceptance_goes_before_every_setting_is_read_and_every_number_compared(plant: Any) -> None:
    form = plant.set_up()
    fewer = [each for each in form["readings"] if not each.items() >= CURRENT_B.items()]
    answer = plant.add(plant.judged({**form, "readings": fewer}))
    assert answer.errors.count("Weld current, C5B was not read") == 2
    number = form["numbers"][0]
    answer = plant.add({**form, "numbers": form["numbers"][1:]})
    assert answer.errors.count(f"{number['what']} {number['asked']} of {number['robot']} was not compared") == 2


def test_what_was_outside_and_was_read_again_needs_no_reason(plant: Any) -> None:
    form = _low(plant)
    entry = next(each for each in form["readings"] if each.items() >= CURRENT_B.items())
    again = plant.reading(plant.value(CURRENT), "C5B", plant.value(CURRENT).setting, repeat=1)
    assert plant.add(plant.judged({**form, "readings": [*form["readings"], again]})).status == 0
    worse = plant.set_up()
    assert plant.add(plant.judged({**worse, "readings": [*worse["readings"], {**entry, "repeat": 1}]})).status == 1


def test_a_set_up_that_nothing_was_accepted_of_may_have_readings_outside(plant: Any) -> None:
    assert plant.add(_low(plant, accepted=[], finished="")).status == 0


@pytest.mark.parametrize(
    ("edited", "words"),
    [
        (lambda found: [{**found[0], "verdict": "in range"}, *found[1:]], f"{TIME} beside {CURRENT} on C5A is 'low'"),
        (lambda found: found[1:], f"{TIME} beside {CURRENT} on C5A is 'low', and the record does not say so"),
        (lambda found: [*found, found[0]], "is there twice"),
        (lambda found: [*found, {**found[0], "robot": "C9A"}], "are no two readings of this record that limit"),
    ],
)
def test_what_a_record_says_of_two_values_together_is_judged_anew(
    plant: Any, edited: Callable[[list[Form]], list[Form]], words: str
) -> None:
    form = plant.judged(_apart(plant))
    form["together"] = edited(form["together"])
    answer = plant.add(form)
    assert answer.status == 1
    assert words in answer.errors
    assert "1 problem" in answer.errors


def replaced_in(form: Form) -> Form:
    """Return what was entered before what a record ends with: a reading, a program and a result that failed."""
    reading, number, result = form["readings"][0], form["numbers"][0], form["results"][0]
    earlier = {"at": "2026-12-02T07:20:00+00:00", "by": "J. Setter"}
    return {
        "readings": [{**reading, **earlier, "entered": "9,9", "number": "9.9", "verdict": "high"},
                     {**reading, **earlier, "entered": "1.45", "number": "1.45", "verdict": "equal"}],
        "numbers": [{**number, **earlier, "entered": "P9", "verdict": "mismatch"}],
        "results": [{**result, **earlier, "entered": "4.4", "number": "4.4", "verdict": "not accepted"}],
    }  # fmt: skip


def test_entries_that_failed_and_were_replaced_are_filed_and_listed(plant: Any) -> None:
    form = plant.set_up()
    form["replaced"] = replaced_in(form)
    answer = plant.add(form)
    assert answer.status == 0, answer.errors
    assert "0 outside, 0 deviations, 3 failed and replaced" in answer.out
    assert "3 failed and replaced" in plant.run("records", "list").out
    [filed] = json.loads(plant.run("records", "list", "--json").out)[0]["set_ups"]
    assert [(one["of"], one["entered"], one["verdict"]) for one in filed["failed_and_replaced"]] == [
        ("program P3, C5A", "P9", "mismatch"),
        (f"{form['readings'][0]['value']}, C5A", "9,9", "high"),
        (form["results"][0]["result"], "4.4", "not accepted"),
    ]
    assert filed["failed_and_replaced"][0]["by"] == "J. Setter"
    assert filed["record"]["replaced"] == form["replaced"]


def test_a_record_from_before_replaced_entries_were_kept_is_filed_as_it_was(plant: Any) -> None:
    form = plant.set_up()
    assert "replaced" not in form
    answer = plant.add(form)
    assert answer.status == 0
    assert "failed and replaced" not in answer.out
    path = plant.root / "instructions" / "wo-1" / "set-ups" / f"{form['id']}.json"
    assert b"replaced" not in path.read_bytes()


def change(path: str, value: object) -> Callable[[Form], None]:
    """Return a change of one value of a record; the path is of keys and indices."""

    def made(form: Form) -> None:
        *way, last = [int(part) if part.isdigit() else part for part in path.split("/")]
        part: Any = form
        for step in way:
            part = part[step]
        part[last] = value

    return made


def without(name: str, key: str) -> Callable[[Form], None]:
    def made(form: Form) -> None:
        form[name] = [each for each in form[name] if key not in each.values()]

    return made


def several(*changes: Callable[[Form], None]) -> Callable[[Form], None]:
    def made(form: Form) -> None:
        for each in changes:
            each(form)

    return made


REFUSED: dict[str, tuple[Callable[[Form], None], str, str]] = {
    "a forged verdict": (
        several(change("readings/0/entered", "9.9"), change("readings/0/number", "9.9")),
        "readings[0].verdict = 'equal'", "is 'high'",
    ),
    "a number that is not what was entered": (change("readings/0/number", "1.55"), "readings[0].number", "is 1.45"),
    "a value not in the form": (change("readings/0/value", "left-c5a/colour"), "readings[0].value", "no such value"),
    "a robot of another cell": (change("readings/0/robot", "C6A"), "readings[0].robot = 'C6A'", "C5A and C5B"),
    "another unit": (change("readings/0/unit", "lbf"), "readings[0].unit", "'kN'"),
    "a wrong record digest": (change("record_digest", "0" * 64), "record_digest", "is not the record of revision A"),
    "a wrong packet digest": (change("packet_digest", "0" * 64), "packet_digest", "is not the packet of revision A"),
    "an unknown order": (change("slug", "wo-9"), "slug = 'wo-9'", "no revision of this order is released"),
    "another order number": (change("order", "T-2"), "order = 'T-2'", "this is order T-1"),
    "an unknown revision": (change("revision", "C"), "revision = 'C'", "no such released revision"),
    "a draft": (
        several(change("revision", ""), change("record_digest", ""), change("status", "draft")),
        "revision = 'draft'", "made by a draft",
    ),
    "an unknown operation": (change("operation", 9), "operation = '9'", "has no such operation"),
    "another cell": (change("cell", "C6"), "cell = 'C6'", "'C5'"),
    "a hold point skipped": (without("steps", "coupon-test/accept"), "accepted[0].what", "'coupon-test/accept'"),
    "a hold point of the set-up skipped": (without("steps", "read-back"), "accepted[0].what", "'read-back'"),
    "a step that is not there": (change("steps/0/key", "dance"), "steps[0].key = 'dance'", "no such step"),
    "a step of another text": (change("steps/0/digest", "0" * 12), "steps[0].digest", "another text"),
    "a result that is missing": (without("results", "coupon/spot-peel"), "accepted[0].what", "is missing: Weld diam"),
    "a forged result": (
        several(change("results/0/entered", "4,4"), change("results/0/number", "4.4")),
        "results[0].verdict = 'accepted'", "'not accepted': the limits are 4.5 to open mm",
    ),
    "an acceptance on a result that is not": (
        several(change("results/0/entered", "4,4"), change("results/0/number", "4.4"),
                change("results/0/verdict", "not accepted")),
        "accepted[0].what", "is not accepted",
    ),
    "an acceptance before its result": (
        several(change("accepted/0/at", "2026-12-02T07:10:00+00:00")), "accepted[0].at", "was entered at",
    ),
    "a first-off before its coupons": (
        change("accepted/1/at", "2026-12-02T07:45:00+00:00"), "accepted[1].at", "before the coupons were accepted",
    ),
    "a first-off without coupons": (
        lambda form: form["accepted"].pop(0), "accepted[0].what", "the coupons are not",
    ),
    "nobody who accepted": (change("accepted/1/by", " "), "accepted[1].by", "nobody is named"),
    "a program that does not match": (
        several(change("numbers/0/entered", "P9"), change("numbers/0/verdict", "mismatch")),
        "accepted[0].what", "is 'P9' in place of 'P3'",
    ),
    "a forged match": (change("numbers/0/entered", "P9"), "numbers[0].verdict = 'match'", "are a mismatch"),
    "a step before the begin": (
        change("steps/0/done", "2026-12-02T06:59:59+00:00"), "steps[0].done", "before the set-up was begun",
    ),
    "a forged verdict of a replaced entry": (
        several(lambda form: form.update(replaced=replaced_in(form)), change("replaced/readings/0/verdict", "equal")),
        "replaced.readings[0].verdict = 'equal'", "is 'high'",
    ),
    "a forged match that was replaced": (
        several(lambda form: form.update(replaced=replaced_in(form)), change("replaced/numbers/0/verdict", "match")),
        "replaced.numbers[0].verdict = 'match'", "are a mismatch",
    ),
    "a forged result that was replaced": (
        several(lambda form: form.update(replaced=replaced_in(form)), change("replaced/results/0/verdict", "accepted")),
        "replaced.results[0].verdict = 'accepted'", "'not accepted': the limits are 4.5 to open mm",
    ),
    "an entry that replaced a later one": (
        several(lambda form: form.update(replaced=replaced_in(form)),
                change("replaced/readings/0/at", "2026-12-02T07:30:01+00:00")),
        "replaced.readings[0].at", "is after the entry that replaced it at 2026-12-02T07:30:00+00:00",
    ),
    "a replaced entry before the begin": (
        several(lambda form: form.update(replaced=replaced_in(form)),
                change("replaced/results/0/at", "2026-12-02T06:59:59+00:00")),
        "replaced.results[0].at", "before the set-up was begun",
    ),
    "a day that has not come": (change("begun", "2027-01-01T00:00:00+00:00"), "begun", "is after its filing"),
    "a finish that has not come": (change("finished", "2026-12-20T12:05:01+00:00"), "finished", "is after its filing"),
    "a name that is read backwards": (
        change("setter", "J. \u202eretteS"), "setter = 'J. \\u202eretteS'", "turns what follows round, U+202E",
    ),
    "a lot that is read backwards": (
        change("lots/0/lot", "\u20667-L"), "lots[0].lot = '\\u20667-L'", "turns what follows round, U+2066",
    ),
    "a name of which nothing is seen": (
        change("accepted/0/by", "\u3164"), "accepted[0].by", "nobody is named",
    ),
    "an acceptance after the finish": (
        change("finished", "2026-12-02T07:45:00+00:00"), "accepted[0].at", "after the set-up was finished",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_is_refused_with_key_value_and_remedy(plant: Any, name: str) -> None:
    make, key, message = REFUSED[name]
    form = plant.set_up()
    make(form)
    answer = plant.add(form)
    assert answer.status == 1
    assert f"0.json: {key}" in answer.errors.replace(str(plant.root), ""), answer.errors
    assert message in answer.errors
    assert "\n    -> " in answer.errors
    assert filed_files(plant) == []


def test_a_finish_that_the_clock_of_the_device_explains_is_filed(plant: Any) -> None:
    """The record is filed at 12:00: five minutes on is as far as a device's clock may be before the computer's."""
    assert plant.add(plant.set_up(finished="2026-12-20T12:05:00+00:00")).status == 0


def test_a_sign_of_a_keyboard_that_nobody_sees_loses_no_record(plant: Any) -> None:
    form = plant.set_up(lots=[{"what": "electrode caps", "lot": "L-7 \u2714\ufe0f"}])
    assert plant.add(form).status == 0


FORMS: dict[str, tuple[Callable[[Form], None], str]] = {
    "an unknown key": (change("colour", "red"), "colour = 'red'"),
    "an unknown key inside": (change("readings/0/colour", "red"), "readings[0].colour"),
    "a missing key": (lambda form: form.pop("serials"), "serials"),
    "a number in place of text": (change("readings/0/number", 1.5), "readings[0].number"),
    "text in place of a number": (change("operation", "2"), "operation = '2'"),
    "a truth value in place of a number": (change("operation", True), "operation = 'True'"),  # noqa: FBT003
    "not a number": (change("operation", float("nan")), "NaN is not a number"),
    "another form": (change("form", "score"), "form = 'score'"),
    "another version": (change("version", 2), "version = '2'"),
    "a long text": (change("setter", "x" * 121), "setter"),
    "many entries": (change("lots", [{"what": "w", "lot": "l"}] * 2001), "lots"),
    "a time without an offset": (change("begun", "2026-12-02T07:00:00"), "begun"),
    "a day that is none": (change("begun", "2026-02-30T07:00:00Z"), "begun"),
    "an identifier that leads elsewhere": (change("id", "../../../../etc/pw"), "id"),
    "a slug that leads elsewhere": (change("slug", "../wo-1"), "slug"),
    "an unknown verdict": (change("readings/0/verdict", "good"), "readings[0].verdict = 'good'"),
}


@pytest.mark.parametrize("name", FORMS)
def test_a_form_that_is_no_set_up_record_is_refused_with_its_key(plant: Any, name: str) -> None:
    make, key = FORMS[name]
    form = plant.set_up()
    make(form)
    answer = plant.add(form)
    assert answer.status == 1
    assert key in answer.errors
    assert ".json:1" not in answer.errors  # the page saves one line: its number says nothing
    assert filed_files(plant) == []


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "the file is empty"),
        (b"[]", "a record from a cell"),
        (b"\xff\xfe", "is not JSON"),
        (b"[" * 100_000, "nested too deep"),
        (b'{"form": "set-up record", "form": "set-up record"}', "is there twice"),
        (b'{"operation": 1e999}', "too large"),
        (b"1" * 2_000_001, "has 2000001 bytes"),
    ],
    ids=["empty", "list", "no text", "nested", "twice", "infinite", "huge"],
)
def test_what_is_not_such_a_file_is_refused(plant: Any, data: bytes, message: str) -> None:
    file = plant.root / "file.json"
    file.write_bytes(data)
    answer = plant.run("records", "add", str(file))
    assert answer.status == 1
    assert message in answer.errors


def test_a_decimal_comma_is_read_as_its_point(plant: Any) -> None:
    form = plant.set_up()
    form["readings"][0] |= {"entered": "1,450", "number": "1.450", "verdict": "equal"}
    assert plant.add(form).status == 0


def test_an_unfinished_set_up_is_filed_as_far_as_it_came(plant: Any) -> None:
    form = plant.set_up(accepted=[], finished="", results=[])
    form["steps"] = form["steps"][:3]
    answer = plant.add(form)
    assert answer.status == 0, answer.errors
    assert "operation 2 revision A: being set" in answer.out


# ---------------------------------------------------------------- revisions that were not in force


SECOND = datetime(2026, 12, 10, 6, 0, tzinfo=UTC)


@pytest.fixture
def superseded(plant: Any) -> Any:
    """The same with a second revision, in force from 10 December."""
    order = plant.root / "instructions" / "wo-1" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("quantity: 20", "quantity: 30"), "utf-8")
    plant.release(SECOND, "more parts")
    return plant


def test_a_superseded_revision_is_refused_without_a_reason_and_filed_with_one(superseded: Any) -> None:
    late = superseded.set_up(begun=SECOND + timedelta(days=1))
    refused = superseded.add(late)
    assert refused.status == 1
    assert "revision A was not in force on 2026-12-11T07:00:00+00:00, and no reason is given" in refused.errors
    assert "status_reason" in refused.errors
    kept = superseded.add({**late, "status": "superseded", "status_reason": "remaining stock of blanks"})
    assert kept.status == 0
    assert "superseded, because: remaining stock of blanks" in kept.out


def test_a_set_up_from_before_the_next_revision_is_filed_after_it(superseded: Any) -> None:
    assert superseded.add(superseded.set_up()).status == 0
    assert superseded.add(superseded.set_up(revision="B", begun=SECOND + timedelta(hours=2))).status == 0


def test_the_digest_of_another_revision_is_named(superseded: Any) -> None:
    form = superseded.set_up()
    other = superseded.set_up(revision="B")
    answer = superseded.add({**form, "record_digest": other["record_digest"]})
    assert "that is revision B: the record was edited" in answer.errors


def test_a_release_after_a_filing_goes_on_from_the_register_with_it(plant: Any) -> None:
    plant.add(plant.set_up())
    order = plant.root / "instructions" / "wo-1" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("quantity: 20", "quantity: 30"), "utf-8")
    plant.release(SECOND + timedelta(days=15), "more parts")
    assert plant.run("verify", now=SECOND + timedelta(days=15)).status == 0
    kinds = [line.split("  ")[3] for line in plant.run("register").out.splitlines()[:-1]]
    assert kinds == ["release", "set-up", "release"]
    record = json.loads((plant.root / "instructions" / "wo-1" / "released" / "B.json").read_bytes())
    assert record["register_before"]["records"] == 2


# ---------------------------------------------------------------- protection


def _path(plant: Any) -> Path:
    form = plant.set_up()
    assert plant.add(form).status == 0
    return Path(plant.root, "instructions", "wo-1", "set-ups", f"{form['id']}.json")


def test_verify_notices_a_changed_reading(plant: Any) -> None:
    path = _path(plant)
    path.write_bytes(path.read_bytes().replace(b'"number":"1.45"', b'"number":"1.50"', 1))
    answer = plant.run("verify")
    assert answer.status == 1
    assert "is altered: its SHA-256 is" in answer.out
    assert plant.run("records", "list").status == 1


def test_verify_notices_a_missing_and_an_added_record(plant: Any) -> None:
    path = _path(plant)
    other = path.with_name("0123456789abcdef.json")
    path.rename(other)
    answer = plant.run("verify")
    assert answer.status == 1
    assert f"{path.name}: is missing" in answer.out
    assert f"{other.name}: is not in the register" in answer.out


def test_verify_notices_a_line_taken_out_of_the_register(plant: Any) -> None:
    _path(plant)
    known = plant.run("register").out.splitlines()[-1].removeprefix("register ")
    *_, newest = sorted((plant.root / "instructions" / "register").iterdir())
    newest.unlink()
    assert plant.run("verify").status == 1
    assert plant.run("verify", "--known", known).status == 1


def test_nothing_is_filed_on_top_of_what_was_altered(plant: Any) -> None:
    path = _path(plant)
    path.write_bytes(path.read_bytes() + b" ")
    answer = plant.add(plant.set_up(operation=1))
    assert answer.status == 1
    assert "nothing is added on top of it" in answer.errors


def test_a_forged_file_under_the_name_of_a_set_up_is_not_overwritten(plant: Any) -> None:
    form = plant.set_up()
    path = Path(plant.root, "instructions", "wo-1", "set-ups", f"{form['id']}.json")
    path.parent.mkdir()
    path.write_text("forged", "utf-8")
    answer = plant.add(form)
    assert answer.status == 1
    assert path.read_text("utf-8") == "forged"


# ---------------------------------------------------------------- what is listed


def test_what_was_filed_is_listed_as_it_was_given(plant: Any) -> None:
    forms = [plant.set_up(), plant.set_up(operation=1)]
    plant.add(*deepcopy(forms))
    (order,) = json.loads(plant.run("records", "list", "T-1", "--json").out)
    assert sorted((each["record"] for each in order["set_ups"]), key=lambda form: -form["operation"]) == forms


def test_an_order_that_is_not_known_is_refused(plant: Any) -> None:
    answer = plant.run("records", "list", "wo-9")
    assert answer.status == 1
    assert "wo-9" in answer.errors


def test_a_plant_without_set_ups_says_so(plant: Any) -> None:
    assert plant.run("records", "list").out == "no record of a set-up or a run is filed\n"


def test_a_reading_that_drifts_is_listed(plant: Any) -> None:
    forms = []
    for day, current in enumerate(("7.1", "7.1", "7,2", "7.1", "7.3")):
        form = plant.set_up(begun=datetime(2026, 12, 2 + day, 7, tzinfo=UTC))
        setting = plant.value(CURRENT).setting
        reading = next(each for each in form["readings"] if (each["value"], each["robot"]) == (CURRENT, "C5A"))
        assert float(setting) < 7.1
        reading |= {"entered": current, "number": current.replace(",", "."), "verdict": "in range"}
        forms.append(form)
    assert plant.add(*forms).status == 0
    out = plant.run("records", "list").out
    assert out.count("drifts:") == 1
    assert "C5A" in out.splitlines()[-1]
    assert "the last 5 readings are above the setting (7.1, 7.1, 7.2, 7.1, 7.3 kA)" in out


def test_a_record_is_not_filed_by_a_clock_that_is_far_ahead(plant: Any) -> None:
    data = json.dumps(plant.set_up()).encode()
    clock, allowance = FILED - timedelta(days=30), timedelta(days=30)
    instructions = plant.root / "instructions"
    late = FILED + timedelta(seconds=1)
    with pytest.raises(PacketError, match="is more than 30 days after the clock of this computer"):
        file_from_cell(instructions, data, "x.json", at=late, code=CODE, machine_clock=clock, allowance=allowance)
    filed = file_from_cell(instructions, data, "x.json", at=FILED, code=CODE, machine_clock=clock, allowance=allowance)
    assert not filed.already


@pytest.mark.parametrize("folder", ["wo-1/set-ups", "wo-1/released", "wo-1", "register"])
def test_records_in_a_folder_that_is_a_link_are_refused(plant: Any, folder: str) -> None:
    instructions = plant.root / "instructions"
    other = plant.set_up(id="f" * 16)
    assert plant.add(plant.set_up()).status == 0
    (instructions / folder).rename(plant.root / "elsewhere")
    (instructions / folder).symlink_to(plant.root / "elsewhere")
    for answer in (plant.run("verify"), plant.add(other)):
        assert answer.status == 1
        assert "is a link" in answer.out + answer.errors or "is not a folder" in answer.out + answer.errors


def test_a_first_off_after_a_changeover_says_that_its_ticks_are_not_in_the_record(plant: Any) -> None:
    whole = plant.set_up()
    changed_over = {**whole, "steps": [step for step in whole["steps"] if step["list"] == "prove-out"]}

    def lines(form: Form, *cells: str) -> list[str]:
        packet = SimpleNamespace(changeover=SimpleNamespace(lines=[SimpleNamespace(cell=cell) for cell in cells]))
        return list(unrecorded_lines(read_set_up(json.dumps(form).encode(), "f"), packet))  # type: ignore[arg-type]

    (said,) = lines(changed_over, "C1", whole["cell"])
    assert said.endswith("on the page Changeover, and not in this record")
    assert lines(changed_over, "C1") == []
    assert lines(whole, whole["cell"]) == []
    assert lines({**changed_over, "accepted": whole["accepted"][:1], "finished": ""}, whole["cell"]) == []
    assert lines(plant.excused(changed_over, FROM_NOTHING), whole["cell"]) == []


def test_the_page_writes_what_makes_a_set_up_one_from_nothing() -> None:
    page = Path(__file__).parents[2] / "generator/weld_packets/site/theme/assets/device/device_set_up.js"
    assert f'const FROM_NOTHING = "{FROM_NOTHING}"' in page.read_text(encoding="utf-8")
