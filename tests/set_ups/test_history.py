"""The history page of an order shows its set-ups, with charts and what drifts."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
from weld_packets.commands.shared.sites.worker import Worker
from weld_packets.errors import PacketError

CURRENT, FORCE = "left-c5a/weld_current", "left-c5a/electrode_force"


def words(markup: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", markup))).replace("\N{NO-BREAK SPACE}", " ")


def section(plant: Any) -> str:
    page = (plant.root / "site" / "wo-1" / "history.html").read_text("utf-8")
    return page[page.index('id="set-ups"') : page.index('id="settled"')]


def series(plant: Any, currents: tuple[str, ...]) -> Iterator[dict[str, Any]]:
    for day, current in enumerate(currents):
        form = plant.set_up(begun=datetime(2026, 12, 2 + day, 7, tzinfo=UTC))
        reading = next(each for each in form["readings"] if (each["value"], each["robot"]) == (CURRENT, "C5A"))
        reading |= {"entered": current, "number": current, "verdict": "equal" if current == "7.0" else "in range"}
        yield form


def test_an_order_without_set_ups_says_so(plant: Any) -> None:
    assert plant.run("build").status == 0
    assert "No set-up record is filed." in words(section(plant))


def test_a_filed_set_up_is_on_the_page_after_the_next_build(plant: Any) -> None:
    plant.run("build")
    form = plant.set_up(
        lots=[{"what": "electrode caps", "lot": "<b>L-7</b>"}],
    )
    names = ("cap face", "Weld current, C5B", "Weld time, C5B, beside weld current")
    form = plant.excused(form, *names, reason="new caps late")
    low = next(each for each in form["readings"] if (each["value"], each["robot"]) == (CURRENT, "C5B"))
    low |= {"entered": "5.9", "number": "5.9", "verdict": "low"}
    assert plant.add(plant.judged(form)).status == 0
    built = plant.run("build")
    assert "built 1, unchanged 0" in built.out
    said = words(section(plant))
    for text in (
        "2026-12-02 07:00", "2 Door", "Rev A", "first-off accepted", "first-off: I. Inspector, 2026-12-02 08:00",
        "J. Setter",
        "low Weld current, C5B: 5.9 kA setting 7.0, allowed 6.2 to 8.0 kA",
        "low Weld time, C5B: 200 ms beside weld current 5.9 kA", "cap face: new caps late",
        "electrode caps: <b>L-7</b>",
    ):  # fmt: skip
        assert text in said, text
    assert "built 0, unchanged 1" in plant.run("build").out
    assert plant.run("verify").status == 0


def test_the_page_lists_what_failed_and_was_replaced(plant: Any) -> None:
    form = plant.set_up()
    reading = next(each for each in form["readings"] if (each["value"], each["robot"]) == (CURRENT, "C5B"))
    earlier = {"at": "2026-12-02T07:20:00+00:00", "entered": "5.9", "number": "5.9", "verdict": "low"}
    form["replaced"] = {"readings": [{**reading, **earlier}], "numbers": [], "results": []}
    plant.add(form, plant.set_up(operation=1))
    plant.run("build")
    said = words(section(plant))
    assert "low Weld current, C5B: 5.9 kA 2026-12-02 07:20, J. Setter" in said
    assert said.count("not kept") == 1  # the record of operation 1 is from before such entries were kept


def test_a_value_that_was_read_at_several_set_ups_has_a_chart_with_both_robots(plant: Any) -> None:
    assert plant.add(*series(plant, ("7.0", "7.2", "6.9"))).status == 0
    assert plant.run("build").status == 0
    said = section(plant)
    assert said.count("<svg") == 1
    assert 'id="read-door-left-c5a-weld-current-chart"' in said
    assert "Circles: C5A; squares: C5B." in words(said)
    assert "Equal to the setting at every set-up: Electrode force" in words(said)
    assert "Drifts:" not in words(said)


def test_a_drift_is_reported_above_the_set_ups_with_its_rule(plant: Any) -> None:
    assert plant.add(*series(plant, ("7.1", "7.1", "7.3", "7.1", "7.2"))).status == 0
    assert plant.run("build").status == 0
    said = words(section(plant))
    assert "Drifts: Door, Weld current of C5A" in said
    assert "the last 5 readings are above the setting." in said
    assert "(common practice, no source)" in said
    assert plant.run("verify").status == 0


def test_set_ups_of_two_revisions_stand_with_their_own(plant: Any) -> None:
    order = plant.root / "instructions" / "wo-1" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("quantity: 20", "quantity: 30"), "utf-8")
    plant.release(datetime(2026, 12, 10, 6, tzinfo=UTC), "more parts")
    second = plant.set_up(revision="B", begun=datetime(2026, 12, 11, 7, tzinfo=UTC))
    assert plant.add(plant.set_up(), second).status == 0
    assert plant.run("build").status == 0
    rows = re.findall(r'href="#rev-([ab])"', section(plant))
    assert rows == ["b", "a"]


def test_the_register_page_lists_set_ups_with_their_place_in_the_register(plant: Any) -> None:
    plant.add(plant.set_up())
    assert plant.run("build").status == 0
    page = (plant.root / "site" / "register.html").read_text("utf-8")
    assert ", 2 records." in words(page)
    row = words(page[page.index('id="set-ups"') :])
    assert "2 T-1 set-up of operation 2 Rev A 2026-12-20 12:00 Europe/London" in row
    assert plant.run("verify").status == 0


def test_a_record_that_is_filed_while_a_build_is_under_way_does_not_refuse_it(plant: Any) -> None:
    worker = Worker(plant.root)
    assert plant.add(plant.set_up()).status == 0
    assert (worker.build("wo-1") / "history.html").is_file()
    (plant.root / "instructions" / "wo-1" / "set-ups" / "stray.json").write_text("{}", "utf-8")
    with pytest.raises(PacketError, match="is not in the register"):
        worker.build("wo-1")
