"""The instruments of a set-up are looked up in the plant's table: whether their calibration held on that day."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from weld_packets.model.tables.inspection import Instruments
from weld_packets.plant.instruments import due_lines

TABLE = """\
table: instruments
kind: instruments
title: Instruments of the plant
source: Calibration register of the plant
revision: A
approved: {by: quality lead, date: 2026-11-01}
entries:
  - {id: G-12, what: force gauge 0 to 8 kN, calibrated: 2025-12-03, calibration due: DUE, document: certificate 26-118}
"""


def listed(plant: Any, due: str = "2026-12-02", number: str = "G-12", calibrated: str = "2025-12-03") -> None:
    text = TABLE.replace("DUE", due).replace("G-12", number).replace("2025-12-03", calibrated)
    (plant.root / "tables" / "instruments.yaml").write_text(text, "utf-8")


def reported(answer: Any) -> list[str]:
    return [line.partition("instrument ")[2] for line in answer.out.splitlines() if "instrument " in line]


def test_a_plant_without_the_table_says_nothing(plant: Any) -> None:
    assert reported(plant.add(plant.set_up())) == []


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({}, []),
        ({"number": "g-12"}, []),
        (
            {"due": "2026-12-01"},
            ["G-12, force gauge 0 to 8 kN: its calibration was due on 2026-12-01, before the set-up of 2026-12-02"],
        ),
        ({"number": "G-13"}, ["G-12, force gauge: is not in table instruments"]),
        ({"calibrated": "2026-12-02"}, []),
        (
            {"calibrated": "2026-12-03", "due": "2027-12-03"},
            ["G-12, force gauge 0 to 8 kN: its calibration is of 2026-12-03, after the set-up of 2026-12-02"],
        ),
    ],
)
def test_an_instrument_whose_calibration_did_not_hold_is_reported_and_the_record_is_filed(
    plant: Any, given: dict[str, str], said: list[str]
) -> None:
    """The set-up was begun on 2026-12-02; the last day of a calibration is included."""
    listed(plant, **given)
    answer = plant.add(plant.set_up())
    assert answer.status == 0, answer.errors
    assert reported(answer) == said
    assert reported(plant.run("records", "list", "wo-1")) == said


def test_a_broken_table_does_not_keep_a_record_out(plant: Any) -> None:
    (plant.root / "tables" / "instruments.yaml").write_text("kind: instruments\n", "utf-8")
    answer = plant.add(plant.set_up())
    assert (answer.status, reported(answer)) == (0, [])


def test_check_lists_the_instruments_of_the_plant_that_are_due(plant: Any) -> None:
    listed(plant)
    late = "plant: instrument G-12, force gauge 0 to 8 kN: its calibration was due on 2026-12-02"
    assert late in plant.run("check").out.splitlines()
    listed(plant, due="2199-12-02")
    assert "its calibration was due" not in plant.run("check").out


def test_records_are_listed_by_the_number_of_the_order_too(plant: Any) -> None:
    plant.add(plant.set_up())
    assert plant.run("records", "list", "T-1").out == plant.run("records", "list", "wo-1").out


def instruments(**more: Any) -> Instruments:
    entry = {"id": "G-12", "what": "force gauge", "calibrated": "2025-12-03", "calibration due": "2026-12-02",
             "document": "certificate 26-118"}  # fmt: skip
    head = {"table": "instruments", "kind": "instruments", "title": "t", "source": "s", "revision": "A"}
    return Instruments.model_validate({**head, "entries": [entry], **more})


VALIDATED = {"validations": [{"version": "0.3.0", "document": "V-7", "date": "2026-11-30", "by": "quality lead"}]}


def test_an_instrument_is_due_the_day_after_the_last_of_its_calibration() -> None:
    assert list(due_lines(instruments(), date(2026, 12, 2), "0.3.0")) == []
    late = "plant: instrument G-12, force gauge: its calibration was due on 2026-12-02"
    assert list(due_lines(instruments(), date(2026, 12, 3), "0.3.0")) == [late]


def test_a_calibration_that_is_dated_ahead_is_reported_until_its_day() -> None:
    made = instruments().entries[0].calibrated
    ahead = f"plant: instrument G-12, force gauge: its calibration is of {made}, a day to come; check the year"
    assert list(due_lines(instruments(), made - timedelta(days=1), "0.3.0")) == [ahead]
    assert list(due_lines(instruments(), made, "0.3.0")) == []


def test_a_version_of_the_program_is_reported_only_where_the_plant_has_validated_others() -> None:
    day = date(2026, 12, 2)
    other = "plant: version 0.4.0 of this program is not among the validations of table instruments"

    assert list(due_lines(None, day, "0.4.0")) == []
    assert list(due_lines(instruments(), day, "0.4.0")) == []
    assert list(due_lines(instruments(**VALIDATED), day, "0.3.0")) == []
    assert list(due_lines(instruments(**VALIDATED), day, "0.4.0")) == [other]
