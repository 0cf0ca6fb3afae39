"""The page of what the plant measures and calculates with, and what `check` says of it."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets import __version__

Run = Callable[..., Any]
TABLE = """\
table: instruments
kind: instruments
title: Instruments
source: Calibration register
revision: A
approved: {by: quality lead, date: 2026-11-01}
entries:
  - {id: G-12, what: force gauge, calibrated: 2025-12-03, calibration due: 2026-11-30, document: CAL-1}
  - {id: G-13, what: calliper, calibrated: 2025-12-03, calibration due: 2026-12-01}
  - {id: G-14, what: flow meter, calibrated: 2026-12-02, calibration due: 2027-12-01}
  - {id: V-1, what: current and voltage, of: PS-C1A, calibrated: 2026-05-18, calibration due: 2027-05-17, document: V}
"""


@pytest.fixture
def table(workshop: Path) -> Path:
    path = workshop / "tables" / "instruments.yaml"
    path.write_text(TABLE, "utf-8")
    return path


def lines(workshop: Path, heading: str) -> dict[str, str]:
    """Return the lines of a table of the page by their first words, from its heading to the next."""
    page = (workshop / "site" / "instruments.html").read_text("utf-8")
    section = page.partition(f'<h2 id="{heading}"')[2].partition("<h2")[0]
    found: dict[str, str] = {}
    for cells in re.findall(r'<tr class="order">(.*?)</tr>', section, re.DOTALL):
        first, *others = (
            html.unescape(re.sub(r"<[^>]+>", "", cell)) for cell in re.findall(r"<td.*?>(.*?)</td>", cells)
        )
        found[f"{first} {others[0]}" if heading == "machines" else first] = ", ".join(others)
    return found


def test_every_instrument_is_listed_with_the_day_until_which_its_calibration_holds(
    workshop: Path, table: Path, run: Run
) -> None:
    assert table.exists()
    assert run("build").status == 0
    assert lines(workshop, "instruments") == {
        "G-12": "force gauge, 2025-12-03, 2026-11-30 ended, CAL-1",
        "G-13": "calliper, 2025-12-03, 2026-12-01, not stated",
        "G-14": "flow meter, 2026-12-02, 2027-12-01 not begun, not stated",
    }


def test_each_power_source_and_spot_gun_is_listed_also_where_nothing_is_stated(
    workshop: Path, table: Path, run: Run
) -> None:
    assert table.exists()
    run("build")
    found = lines(workshop, "machines")
    assert found["C1 C1A"] == "C1A, PS-C1A: V-1, current and voltage, 2026-05-18, 2027-05-17, V"
    assert found["C1 C1B"] == "C1B, PS-C1B, not stated"
    assert found["C5 C5A"] == "C5A, G-C5A, not stated"


def test_a_plant_without_the_table_says_that_nothing_is_stated(workshop: Path, run: Run) -> None:
    (workshop / "tables" / "instruments.yaml").unlink()
    run("build")
    assert "no calibration is stated" in (workshop / "site" / "instruments.html").read_text("utf-8")
    assert all(line.endswith("not stated") for line in lines(workshop, "machines").values())


def test_a_calibration_that_is_renewed_is_on_the_page_after_the_next_build(
    workshop: Path, table: Path, run: Run
) -> None:
    run("build")
    table.write_text(TABLE.replace("2026-11-30, document", "2027-11-30, document"), "utf-8")
    run("build")
    assert lines(workshop, "instruments")["G-12"] == "force gauge, 2025-12-03, 2027-11-30, CAL-1"


def test_tables_that_cannot_be_read_are_named_as_such(workshop: Path, table: Path, run: Run) -> None:
    run("build")
    table.write_text("kind: instruments\nentries: 3\n", "utf-8")
    from weld_packets.commands.shared.sites.all_orders import instruments_kept  # noqa: PLC0415 - slow to load

    assert instruments_kept(workshop).unread is True


def test_each_version_that_made_a_record_is_listed_with_its_validation(
    workshop: Path, table: Path, run: Run, first_issue: tuple[str, ...]
) -> None:
    assert run("release", "wo-1", *first_issue).status == 0
    run("build")
    assert lines(workshop, "program") == {__version__: "1 record of orders, these pages, not stated"}
    stated = f"validations: [{{version: {__version__}, date: 2026-11-30, by: quality lead, document: VR-1}}]\n"
    table.write_text(TABLE + stated, "utf-8")
    run("build")
    said = "1 record of orders, these pages, 2026-11-30, quality lead, VR-1"
    assert lines(workshop, "program") == {__version__: said}
    assert "among the validations" not in run("check").out


def test_check_names_a_version_that_is_not_validated_where_others_are(workshop: Path, table: Path, run: Run) -> None:
    assert workshop.exists()
    assert "among the validations" not in run("check").out
    table.write_text(TABLE + "validations: [{version: 0.0.1, date: 2026-11-30, by: quality lead}]\n", "utf-8")
    said = f"plant: version {__version__} of this program is not among the validations of table instruments"
    assert said in run("check").out.splitlines()


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("of: PS-C1A", "of: PS-C11", "there is no power source or spot gun of a robot of this name"),
        ("calibration due: 2026-12-01", "calibration due: 2025-12-02", "is before the calibration, 2025-12-03"),
    ],
)
def test_an_instrument_of_no_machine_or_due_before_its_calibration_is_refused(
    table: Path, run: Run, old: str, new: str, message: str
) -> None:
    table.write_text(TABLE.replace(old, new), "utf-8")
    answer = run("check")
    assert answer.status == 1
    assert message in answer.errors
    assert "tables/instruments.yaml" in answer.errors
