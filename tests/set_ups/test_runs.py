"""The record of a run: checked against the releases of its order, filed, listed and shown."""

from __future__ import annotations

import copy
import html
import json
import re
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.forms import run_form
from weld_packets.packet.records.forms import DueEvent, RunForm
from weld_packets.revisions.queries.archive import released_packet
from weld_packets.revisions.set_ups.record import read_form
from weld_packets.revisions.set_ups.run_checks import overdue_of
from weld_packets.revisions.set_ups.run_record import Run
from weld_packets.revisions.store.files import open_archive

Form = dict[str, Any]
RELEASED = datetime.fromisoformat("2026-12-01T07:00:00+00:00")
BEGUN = datetime.fromisoformat("2026-12-02T08:00:00+00:00")


@pytest.fixture(scope="module")
def released(released: Path, copied: Callable[[Path, Path], Any], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the workspace with a second revision, of so many parts that caps and wire fall due."""
    plant = copied(released, tmp_path_factory.mktemp("runs") / "workshop")
    order = plant.root / "instructions" / "wo-1" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("quantity: 20", "quantity: 2000"), "utf-8")
    plant.release(RELEASED, "more parts")
    return order.parents[2]


def at(minutes: int) -> str:
    return (BEGUN + timedelta(minutes=minutes)).isoformat(timespec="seconds")


def form_of(plant: Any) -> RunForm:
    return run_form(released_packet(open_archive(plant.root / "instructions"), "wo-1", "B"))


def run_record(plant: Any, **changes: Any) -> Form:
    """Return the record of a run by revision B in which both cells are started and one thing is done late."""
    rule = form_of(plant).rules[0]
    late = {"key": rule.key, "due": rule.turns[0], "what": rule.what, "at_count": "2000", "passed_over": False}
    return plant.ran("B", BEGUN, **{"events": [{**late, "at": at(121), "by": "J. Setter"}], **changes})


def test_a_run_is_filed_listed_and_protected_as_a_set_up_is(plant: Any) -> None:
    form = run_record(plant)
    answer = plant.add(form, plant.set_up(revision="B"))
    assert answer.status == 0, answer.errors
    assert "run by revision B: 2000 parts counted, 2 starts, 1 event done, 1 late, 0 passed over" in answer.out
    assert re.search(r"0 passed over, [1-9][0-9]* overdue", answer.out)
    kept = plant.root / "instructions" / "wo-1" / "runs" / f"{form['id']}.json"
    assert json.loads(kept.read_bytes()) == form
    assert plant.run("verify").status == 0
    (order,) = json.loads(plant.run("records", "list", "--json").out)
    assert [each["record"] for each in order["runs"]] == [form]
    assert (order["runs"][0]["parts"], len(order["runs"][0]["late"])) == (2000, 1)
    assert "run by revision B: 2000 parts counted" in plant.run("records", "list", "wo-1").out
    assert "  wo-1  B  run  2026-12-20T12:00:00Z" in plant.run("register").out
    kept.write_bytes(kept.read_bytes().replace(b'"2000"', b'"2001"'))
    assert "runs/" in plant.run("verify").out
    kept.unlink()
    assert "is missing" in plant.run("verify").out


def test_a_run_is_filed_once(plant: Any) -> None:
    form = run_record(plant)
    plant.add(form)
    assert plant.add(form).out.startswith(f"{plant.root}/0.json: filed already")
    refused = plant.add(run_record(plant, counts=[]))
    assert refused.status == 1
    assert "another record of this run is filed" in refused.errors


def test_a_run_alone_is_listed_and_on_the_history_page(plant: Any) -> None:
    plant.run("build")
    events = run_record(plant)["events"]
    second = form_of(plant).rules[0].turns[1]
    passed = events[0] | {"passed_over": True}
    assert (
        plant.add(run_record(plant, events=[passed, events[0] | {"due": second, "at_count": str(second)}])).status == 0
    )
    assert "built 1, unchanged 0" in plant.run("build").out
    page = (plant.root / "site" / "wo-1" / "history.html").read_text("utf-8")
    said = re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", page[page.index('id="runs"') :])))
    assert "C2: 2026-12-02 08:05, J. Setter" in said
    assert "No set-up record is filed." in html.unescape(page)
    assert (
        f"due {form_of(plant).rules[0].turns[0]} "
        in said[said.index("filed 2026-12-20") : said.index("Settings history")]
    )
    register = (plant.root / "site" / "register.html").read_text("utf-8")
    assert 'href="wo-1/history.html#runs"' in register
    assert "run by revision B" in plant.run("records", "list").out


def test_a_record_that_was_saved_during_a_run_says_so_and_that_of_its_end_is_filed_beside_it(plant: Any) -> None:
    during = run_record(plant, id="cd" * 8, saved_during="ab" * 8, events=[])
    answer = plant.add(during)
    assert "2000 parts counted, saved during the run, 2 starts" in answer.out
    at_end = run_record(plant, ended={"at": at(121), "by": "J. Setter"})
    answer = plant.add(at_end)
    assert answer.status == 0, answer.errors
    assert "saved during" not in answer.out
    folder = plant.root / "instructions" / "wo-1" / "runs"
    kept = [json.loads((folder / f"{form['id']}.json").read_bytes()) for form in (during, at_end)]
    assert kept == [during, at_end]
    assert plant.run("verify").status == 0
    plant.run("build")
    page = (plant.root / "site" / "wo-1" / "history.html").read_text("utf-8")
    assert page.count("saved during the run") == 1


def change(place: str, value: Any) -> Callable[[Form], None]:
    def made(form: Form) -> None:
        *steps, last = (int(step) if step.isdecimal() else step for step in place.split("/"))
        inner: Any = form
        for step in steps:
            inner = inner[step]
        inner[last] = value

    return made


def twice(name: str) -> Callable[[Form], None]:
    return lambda form: form[name].append(copy.deepcopy(form[name][0]))


def ended(minutes: int) -> Callable[[Form], None]:
    return change("ended", {"at": at(minutes), "by": "J. Setter"})


REFUSED: dict[str, tuple[Callable[[Form], None], str, str]] = {
    "another order number": (change("order", "T-2"), "order = 'T-2'", "this is order T-1"),
    "a wrong record digest": (change("record_digest", "0" * 64), "record_digest", "is not the record of revision B"),
    "a draft": (change("revision", ""), "revision", "made by a draft"),
    "a count after the filing": (change("counts/1/at", "2026-12-20T12:06:00Z"), "counts[1].at", "after its filing"),
    "a tick before the run": (change("starts/0/ticks/0/done", at(-1)), "starts[0].ticks[0].done", "before the run"),
    "a start by no revision": (change("starts/0/revision", "C"), "starts[0].revision = 'C'", "no such released"),
    "a start by another record": (
        change("starts/1/record_digest", "0" * 64), "starts[1].record_digest", "is not the record of revision B",
    ),
    "a start of no list": (change("starts/0/list", "start-9"), "starts[0].list = 'start-9'", "no such list"),
    "a start of another cell": (change("starts/0/cell", "C9"), "starts[0].operation", "starts operation 1 in cell C2"),
    "a start that is not whole": (lambda form: form["starts"][0]["ticks"].pop(), "starts[0].ticks", "ticked 0 times"),
    "a step of another text": (change("starts/0/ticks/0/digest", "0" * 12), "starts[0].ticks[0].key", "no such step"),
    "a start at another time": (change("starts/0/at", at(6)), "starts[0].at", "last step"),
    "more parts than the order has": (change("counts/1/count", "2001"), "counts[1].count = '2001'", "has 2000 parts"),
    "a count of a strange cell": (change("counts/1/cell", "C9"), "counts[1].cell = 'C9'", "no released revision"),
    "counts out of their order": (change("counts/1/at", at(59)), "counts[1].at", "before the count above it"),
    "an event that is not due": (change("events/0/due", 1), "events[0].what", "has that due"),
    "an event by another name": (change("events/0/what", "tea"), "events[0].what", "has that due"),
    "an event after the last part": (change("events/0/at_count", "2001"), "events[0].at_count", "has 2000 parts"),
    "an event done twice": (twice("events"), "events[1].key", "done twice"),
    "an end before the last count": (ended(119), "counts[1].at", "after the end of the run"),
    "an end before the last event": (ended(120), "events[0].at", "after the end of the run"),
    "an end after the filing": (change("ended", {"at": "2026-12-20T12:06:00Z", "by": ""}), "ended.at", "its filing"),
    "an end during the run": (
        lambda form: form.update(ended={"at": at(121), "by": ""}, saved_during="cd" * 8), "saved_during", "not ended",
    ),
    "a part of itself": (change("saved_during", "ab" * 8), "saved_during", "identifier of its own"),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_so_is_refused_with_its_key(plant: Any, name: str) -> None:
    made, key, message = REFUSED[name]
    form = run_record(plant)
    made(form)
    answer = plant.add(form)
    assert answer.status == 1, name
    assert key in answer.errors
    assert message in answer.errors
    assert not (plant.root / "instructions" / "wo-1" / "runs").exists()


def test_a_clock_may_run_five_minutes_ahead(plant: Any) -> None:
    form = run_record(plant)
    form["counts"][1]["at"] = "2026-12-20T12:05:00+00:00"
    assert plant.add(form).status == 0


def test_a_start_by_a_revision_not_in_force_needs_its_reason(plant: Any) -> None:
    early = run_record(plant, begun="2026-11-30T00:00:00+00:00")
    start = early["starts"][0]
    start["at"] = "2026-11-30T23:59:00+00:00"
    start["ticks"] = [tick | {"done": start["at"]} for tick in start["ticks"]]
    assert "was not in force" in plant.add(early).errors
    start["status_reason"] = "trial before the day"
    answer = plant.add(early)
    assert answer.status == 0
    assert "started because: trial before the day" in answer.out


def of_run(plant: Any, **changes: Any) -> Run:
    return read_form(Run, json.dumps(run_record(plant, **changes)).encode(), "a run")


def counted(number: int) -> list[Form]:
    return [{"count": str(number), "at": at(130), "by": ""}]


def test_what_was_neither_done_nor_passed_over_is_overdue_once_the_count_is_past_it(plant: Any) -> None:
    known = form_of(plant)
    rule = known.rules[0]
    first, second = rule.turns[:2]

    def found(number: int, events: list[Form]) -> list[tuple[int, int]]:
        overdue = overdue_of(of_run(plant, counts=counted(number), events=events), known)
        return [(one.at, one.by) for one in overdue if one.what == rule.what]

    done = {"key": rule.key, "due": first, "what": rule.what, "at_count": str(first), "passed_over": False}
    done |= {"at": at(121), "by": ""}
    assert found(first, []) == []
    assert found(first + 1, []) == [(first, 1)]
    assert found(first + 1, [done]) == []
    assert found(second + 3, [done]) == [(second, 3)]
    assert found(second + 3, [done | {"due": second, "passed_over": True}]) == []
    assert found(second + 3, []) == [(second, 3)]


def test_what_is_due_in_a_cell_is_overdue_by_the_count_of_that_cell(plant: Any) -> None:
    known = form_of(plant)
    rule = next(rule for rule in known.rules if rule.cell == "C5")
    first = rule.turns[0]

    def found(*counts: tuple[str, int]) -> list[tuple[int, int]]:
        shown = [{"count": str(count), "at": at(130), "by": "", "cell": cell} for cell, count in counts]
        overdue = overdue_of(of_run(plant, counts=shown, events=[]), known)
        return [(one.at, one.by) for one in overdue if one.what == rule.what]

    assert found(("C2", first + 1)) == []
    assert found(("C5", first + 2), ("C2", 1)) == [(first, 2)]
    assert found(("C5", first + 2), ("C5", first)) == []
    assert found(("", first + 3), ("C2", 1)) == [(first, 3)]


def test_a_run_keeps_the_counts_of_cells_as_they_were_saved(plant: Any) -> None:
    counts = [{"count": "1900", "at": at(130), "by": "", "cell": "C5"}, {"count": "1800", "at": at(130), "by": ""}]
    form = run_record(plant, counts=counts, events=[])
    answer = plant.add(form)
    assert answer.status == 0, answer.errors
    assert json.loads((plant.root / "instructions" / "wo-1" / "runs" / f"{form['id']}.json").read_bytes()) == form
    run = of_run(plant, counts=counts, events=[])
    assert (run.last_counts, run.parts) == ({"": 1800, "C5": 1800}, 1800)
    assert of_run(plant, counts=counts[:1], events=[]).last_counts == {"C5": 1900}
    assert of_run(plant, counts=[], events=[]).parts == 0


def test_every_event_that_happens_once_is_overdue_by_itself_first_due_first(plant: Any) -> None:
    known = form_of(plant)
    events = tuple(
        DueEvent(key=f"{number:012x}", cell="C5", at=number, when="after", what=f"change {number}")
        for number in (1999, 7, 2000)
    )
    overdue = overdue_of(
        of_run(plant, counts=counted(2000), events=[]), known.model_copy(update={"events": events, "rules": ()})
    )
    assert [(one.what, one.cell, one.at, one.by) for one in overdue] == [
        ("change 7", "C5", 7, 1993),
        ("change 1999", "C5", 1999, 1),
    ]


def test_a_cell_that_has_not_started_is_overdue_with_nothing(plant: Any) -> None:
    known = form_of(plant)
    run = of_run(plant, counts=counted(2000), events=[])
    cells = {one.cell for one in overdue_of(run, known)}
    assert cells
    (other,) = {start.cell for start in run.starts} - {min(cells)}
    alone = run.model_copy(update={"starts": tuple(each for each in run.starts if each.cell == other)})
    assert min(cells) not in {one.cell for one in overdue_of(alone, known)}
    assert {one.cell for one in overdue_of(run.model_copy(update={"starts": ()}), known)} == cells


def test_what_is_overdue_is_listed_and_on_the_history_page(plant: Any) -> None:
    assert plant.add(run_record(plant, events=[])).status == 0
    (order,) = json.loads(plant.run("records", "list", "--json").out)
    listed = order["runs"][0]["overdue"]
    assert listed
    assert all(one["by"] == 2000 - one["due"] for one in listed)
    plant.run("build")
    page = html.unescape((plant.root / "site" / "wo-1" / "history.html").read_text("utf-8"))
    for one in listed:
        assert f"<b>{one['what']}</b> <small>due {one['due']}, not done by 2000</small>" in page
