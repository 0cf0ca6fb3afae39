"""The next order starts from what was done in the run of the order before it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.forms import due_of_run, run_form
from weld_packets.packet.records.order import Packet
from weld_packets.packet.run.run import left_by_packet
from weld_packets.plant.drafts import draft
from weld_packets.plant.fitted.counted import as_counted
from weld_packets.plant.orders import open_workspace
from weld_packets.revisions.queries.archive import released_packet
from weld_packets.revisions.store.files import open_archive

Form = dict[str, Any]
RUN = datetime(2026, 12, 3, 6, tzinfo=UTC)
BY = {"at": "2026-12-03T09:00:00+00:00", "by": "J. Setter"}
PARTS = 9000
CAPS, WIRE, GAS = "Electrode caps", "Wire", "Gas"


@pytest.fixture(scope="module")
def released(released: Path, copied: Callable[[Path, Path], Any], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workspace with a revision of so many parts that wire and caps are changed, and an order that follows it."""
    plant = copied(released, tmp_path_factory.mktemp("carried") / "workshop")
    first = plant.root / "instructions" / "wo-1"
    text = (first / "order.yaml").read_text("utf-8").replace("quantity: 20", f"quantity: {PARTS}")
    (first / "order.yaml").write_text(text, "utf-8")
    plant.release(datetime(2026, 12, 1, 7, tzinfo=UTC), "more parts")
    second = plant.root / "instructions" / "wo-2"
    second.mkdir()
    (second / "points.csv").write_bytes((first / "points.csv").read_bytes())
    text = text.replace("order: T-1", "order: T-2\nprevious order: wo-1", 1)
    for number in ("P1", "P2", "P3", "P4"):
        text = text.replace(number, f"Q{number[1]}")
    (second / "order.yaml").write_text(text, "utf-8")
    return first.parents[1]


def counts(*shown: int) -> list[Form]:
    return [{"count": str(count), **BY} for count in shown]


def events(plant: Any, *done: tuple[str, int]) -> list[Form]:
    """Return what was done at which part count: each the first that is due of a rule or event with such words."""
    form = run_form(released_packet(open_archive(plant.root / "instructions"), "wo-1", "B"))
    due = [(one.key, one.at, one.what) for one in form.events]
    due += [(rule.key, turn, rule.what) for rule in form.rules for turn in rule.turns]
    taken: list[Form] = []
    for words, at in done:
        used = {(one["key"], one["due"]) for one in taken}
        key, part, what = next(one for one in due if words in one[2] and one[:2] not in used)
        taken.append({"key": key, "due": part, "what": what, "at_count": str(at), "passed_over": False, **BY})
    return taken


def after(plant: Any, *forms: Form) -> dict[tuple[str, str], tuple[str, str]]:
    """Return how much of each consumable the next order starts with, and on what that rests, once forms are filed."""
    if forms:
        answer = plant.add(*forms)
        assert answer.status == 0, answer.errors
    packet: Packet = draft(open_workspace(plant.root), "wo-2")
    plain = ((line, line.start.replace("\N{NO-BREAK SPACE}", " ")) for line in packet.run.consumables)
    return {
        (line.what, place): (start.split(" used ")[0], start.split("; ")[-1])
        for line, start in plain
        for place in line.robots or (line.cell,)
    }


def wear(plant: Any, what: str, place: str) -> Fraction:
    packet = released_packet(open_archive(plant.root / "instructions"), "wo-1", "B")
    return next(Fraction(left.wear) for left in packet.run.fitted_at_end if (left.what, left.place) == (what, place))


def test_every_event_of_a_run_says_which_consumables_it_is_for(plant: Any) -> None:
    due = due_of_run(released_packet(open_archive(plant.root / "instructions"), "wo-1", "B"))
    assert {each.supply for each in due.values()} == {WIRE, GAS, CAPS, "Contact tip"}


def test_what_was_changed_and_dressed_in_the_run_counts_in_place_of_the_plan(plant: Any) -> None:
    caps = [("change both caps", 6100), ("dress both", 6300), ("dress both", 6450)]
    done = events(plant, *caps, ("change the wire", 8700))
    found = after(plant, plant.ran("B", RUN, counts=counts(900, PARTS), events=done))
    done_to = "changed at 6100, 2 dressings since, last at 6450"
    assert found[CAPS, "C5A"] == found[CAPS, "C5B"]
    # more welds than one dressing is good for: due before the first part of the next order
    assert found[CAPS, "C5A"][0] == "2 of 30 dressings done, 100 % of the welds to the next one"
    assert found[CAPS, "C5A"][1] == f"from the record of its run of 2026-12-03 ({PARTS} parts: {done_to})"
    assert found[WIRE, "C2A"][1].endswith("changed at 8700)")
    assert found[GAS, "C2"][1].endswith("not changed)")


def test_a_dressing_before_the_last_change_is_not_counted_again(plant: Any) -> None:
    done = events(plant, ("dress both", 100), ("change both caps", 200))
    found = after(plant, plant.ran("B", RUN, counts=counts(300), events=done))
    used = float(100 * (300 - 200) * wear(plant, CAPS, "C5A"))
    assert found[CAPS, "C5A"][0].startswith(f"0 of 30 dressings done, {used:g} %")
    assert found[CAPS, "C5A"][1] == f"from the record of its run of 2026-12-03 (300 of {PARTS} parts: changed at 200)"


def test_a_turn_that_was_passed_over_was_not_done(plant: Any) -> None:
    (passed,) = events(plant, ("dress both", 300))
    found = after(plant, plant.ran("B", RUN, counts=counts(300), events=[passed | {"passed_over": True}]))
    assert found[CAPS, "C5A"][0].startswith("0 of 30 dressings done, 100")
    assert found[CAPS, "C5A"][1].endswith("parts: not changed)")


def test_the_run_goes_on_from_what_the_set_up_counted(plant: Any) -> None:
    caps = [{"what": "C5A/welds since dressing", "count": "100"}, {"what": "C5A/dressings", "count": "3"}]
    found = after(
        plant,
        plant.set_up(operation=2, revision="B", counters=caps),
        plant.ran("B", RUN, counts=counts(300), events=events(plant, ("dress both", 250))),
    )
    assert found[CAPS, "C5A"][0].startswith("4 of 30 dressings done, 25 %")
    assert found[CAPS, "C5B"][0].startswith("1 of 30 dressings done, 25 %")
    assert "from what its set-up of 2026-12-02 counted and from the record of its run" in found[CAPS, "C5A"][1]


def test_each_cell_is_carried_from_its_own_part_count(plant: Any) -> None:
    shown = [{"count": "300", "cell": "C5", **BY}, {"count": "8000", "cell": "C2", **BY}]
    found = after(plant, plant.ran("B", RUN, counts=shown, events=events(plant, ("dress both", 300))))
    assert found[CAPS, "C5A"][1].endswith(f"(300 of {PARTS} parts: not changed, 1 dressing, last at 300)")
    assert found[WIRE, "C2A"][1].endswith(f"(8000 of {PARTS} parts: not changed)")


def test_a_cell_without_a_part_count_stays_as_planned(plant: Any) -> None:
    plain = after(plant)
    shown = [{"count": "300", "cell": "C5", **BY}]
    found = after(plant, plant.ran("B", RUN, counts=shown, events=[]))
    assert found[CAPS, "C5A"][1].endswith(f"(300 of {PARTS} parts: not changed)")
    assert found[WIRE, "C2A"][0] == plain[WIRE, "C2A"][0]
    assert found[WIRE, "C2A"][1].startswith("as planned: the record of its run holds no part count")


@pytest.mark.parametrize(("cells", "decides"), [(("C5", "C5"), False), (("C5", "C2"), True), (("", "C5"), False)])
def test_counts_fall_where_those_of_one_cell_do(plant: Any, cells: tuple[str, str], decides: bool) -> None:
    shown = [{"count": str(count), "cell": cell, **BY} for count, cell in zip((900, 800), cells, strict=True)]
    shown = [{key: text for key, text in one.items() if text or key != "cell"} for one in shown]
    found = after(plant, plant.ran("B", RUN, counts=shown, events=[]))
    assert ("counts in the record of its run do not rise" in found[CAPS, "C5A"][1]) is not decides


UNDECIDED = {
    "no part count": ([], [], "the record of its run holds no part count"),
    "counts that fall": ([900, 800], [], "the part counts in the record of its run do not rise"),
    "something done after the last count": ([900], [("dress both", 901)], "the part counts in the record of its run"),
}


@pytest.mark.parametrize("name", UNDECIDED)
def test_a_run_that_cannot_say_it_leaves_the_plan_and_says_why(plant: Any, name: str) -> None:
    shown, done, reason = UNDECIDED[name]
    plain = after(plant)
    found = after(plant, plant.ran("B", RUN, counts=counts(*shown), events=events(plant, *done)))
    assert {place: amount for place, (amount, _) in found.items()} == {
        place: amount for place, (amount, _) in plain.items()
    }
    assert found[WIRE, "C2A"][1].startswith(f"as planned: {reason}")


def test_two_runs_cannot_decide_and_say_so(plant: Any) -> None:
    later = plant.ran("B", datetime(2026, 12, 5, 6, tzinfo=UTC), id="cd" * 8, counts=[])
    found = after(plant, plant.ran("B", RUN, counts=counts(300)), later)
    said = "as planned: runs of 2026-12-03 and 2026-12-05 are recorded, and whether the part count went on between them"
    assert found[WIRE, "C2A"][1].startswith(said)


def test_a_record_saved_during_the_run_leaves_the_plan_until_that_of_its_end_is_filed(plant: Any) -> None:
    at = RUN.replace(hour=10).isoformat()
    during = [
        plant.ran(
            "B",
            RUN,
            id=f"{letter}d" * 8,
            saved_during="ab" * 8,
            counts=[{**counts(count)[0], "at": f"2026-12-03T{hour}:00:00+00:00"}],
        )
        for letter, count, hour in (("c", 300, "09"), ("d", 200, "08"))
    ]
    plain = after(plant)
    found = after(plant, *during)
    assert {place: amount for place, (amount, _) in found.items()} == {
        place: amount for place, (amount, _) in plain.items()
    }
    said = "as planned: the record of its run of 2026-12-03 was saved during the run, at part count 300"
    assert found[WIRE, "C2A"][1] == said
    found = after(plant, plant.ran("B", RUN, counts=counts(400), ended={"at": at, "by": ""}))
    assert found[WIRE, "C2A"][1] == f"from the record of its run of 2026-12-03 (400 of {PARTS} parts: not changed)"
    late = plant.ran("B", RUN, id="ed" * 8, saved_during="ab" * 8, counts=counts(399))
    assert after(plant, late) == found


def test_a_count_at_a_set_up_during_the_run_cannot_decide(plant: Any) -> None:
    wire = [{"what": "C2A/wire left", "count": "2.5"}]
    again = plant.set_up(operation=1, revision="B", counters=wire, begun=datetime(2026, 12, 3, 10, tzinfo=UTC))
    found = after(plant, plant.ran("B", RUN, counts=counts(300)), again)
    assert "its set-up of 2026-12-03 counted it after the run had begun" in found[WIRE, "C2A"][1]
    assert found["Contact tip", "C2A"][1].startswith("from the record of its run of 2026-12-03")


def test_filing_a_run_builds_the_next_order_anew(plant: Any) -> None:
    plant.run("build")
    assert plant.add(plant.ran("B", RUN, counts=counts(PARTS))).status == 0
    assert "built 2, unchanged 0" in plant.run("build").out
    page = (plant.root / "site" / "wo-2" / "run.html").read_text("utf-8")
    assert f"from the record of its run of 2026-12-03 ({PARTS} parts: not changed)" in page


def test_what_several_operations_of_a_cell_used_stays_as_planned_and_says_why(plant: Any) -> None:
    """Which of them took how much, no record of the cell says."""
    assert plant.add(plant.ran("B", RUN, counts=counts(PARTS))).status == 0
    archive = open_archive(plant.root / "instructions")
    packet = released_packet(archive, "wo-1", "B")
    arc = next(each for each in packet.operations if each.cell == "C2")
    again = arc.model_copy(update={"key": "operation-9", "number": 9})
    shared = packet.model_copy(update={"operations": (*packet.operations, again)})
    planned = left_by_packet(packet, "B")
    found = as_counted(planned, shared, archive, "wo-1")
    for before, after_it in zip(planned, found, strict=True):
        said = "as planned: several operations of the order used it, one after the other"
        assert (after_it.counted == said) is (before.place in {"C2", "C2A", "C2B"})
        assert after_it.place not in {"C2", "C2A", "C2B"} or after_it.used == before.used


def test_a_spool_that_was_changed_in_the_run_brought_a_contact_tip(plant: Any) -> None:
    """8000 of 9000 parts were made when the spool was changed: the contact tip is as old as the spool."""
    found = after(plant, plant.ran("B", RUN, counts=counts(PARTS), events=events(plant, ("wire spool", 8000))))
    packet = released_packet(open_archive(plant.root / "instructions"), "wo-1", "B")
    spool = next(event for event in packet.run.events if "wire spool" in event.what)
    assert "changed at 8000" in found["Contact tip", spool.places[0]][1]
    assert wear(plant, "Contact tip", spool.places[0]) > 0
