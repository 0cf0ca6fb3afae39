"""What is filed is listed as it was given, whatever it says."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.calculation.judgement import judge
from weld_packets.packet.records.forms import RequiredValue
from weld_packets.revisions.queries.set_ups import set_ups_of
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.set_ups.entered import range_of
from weld_packets.revisions.set_ups.record import set_up_bytes
from weld_packets.revisions.store.files import open_archive
from weld_packets.revisions.store.set_ups import file_from_cell

FILED = datetime(2026, 12, 20, 12, tzinfo=UTC)
CODE = Code(version="0", commit="unknown")
TURNING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
WORDS = st.text(st.characters(codec="utf-8", exclude_characters=f"\r{TURNING}"), max_size=40)
NUMBERS = st.decimals(0, 99_999, places=2, allow_nan=False).map(str)


def _read(value: RequiredValue, robot: str, number: str, comma: bool) -> dict[str, Any]:
    return {
        "value": value.key, "robot": robot, "entered": number.replace(".", ",") if comma else number, "number": number,
        "unit": value.unit, "verdict": judge(Decimal(number), range_of(value)).verdict, "hidden": comma,
        "at": "2026-12-02T07:30:00+00:00", "by": "", "repeat": 0,
    }  # fmt: skip


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_filing_and_listing_give_back_what_was_given(plant: Any, data: st.DataObject) -> None:
    instructions = Path(plant.root, "instructions")
    form = plant.set_up(accepted=[], finished="")
    identity = uuid4().hex[:16]  # of its own: the examples share a folder, and a set-up is filed once
    pairs = [(value, robot) for value in plant.set_up_form(2).values for robot in value.robots]
    chosen = data.draw(st.lists(st.sampled_from(pairs), unique_by=lambda pair: (pair[0].key, pair[1])))
    form |= {
        "id": identity,
        "setter": data.draw(WORDS),
        "readings": [_read(*pair, data.draw(NUMBERS), data.draw(st.booleans())) for pair in chosen],
        "lots": data.draw(st.lists(st.fixed_dictionaries({"what": WORDS, "lot": WORDS}), max_size=4)),
        "deviations": [
            {"what": data.draw(WORDS), "reason": data.draw(WORDS), "at": "2026-12-02T09:00:00+02:00", "by": ""}
            for _ in range(data.draw(st.integers(0, 2)))
        ],
        "serials": {"from": data.draw(WORDS), "to": data.draw(WORDS)},
    }
    form = plant.judged(form)
    given_bytes = json.dumps(form, ensure_ascii=data.draw(st.booleans()), indent=data.draw(st.integers(0, 2))).encode()
    filed = file_from_cell(instructions, given_bytes, "set-up.json", at=FILED, code=CODE)
    listed = {each.entry.id: each for each in set_ups_of(open_archive(instructions), "wo-1").filed}
    one = listed[form["id"]]
    assert one.set_up == filed.kept
    assert json.loads(set_up_bytes(one.set_up)) == form
    again = file_from_cell(instructions, given_bytes, "set-up.json", at=FILED, code=CODE)
    assert again.already


def test_a_lone_surrogate_is_refused(plant: Any) -> None:
    form = plant.set_up(setter="\ud800")
    file = plant.root / "file.json"
    file.write_bytes(json.dumps(form).encode())
    answer = plant.run("records", "add", str(file))
    assert answer.status == 1
    assert answer.errors.count("internal error") == 0


@pytest.mark.parametrize("text", ["<script>alert(1)</script>", "a\nb", "\N{NO-BREAK SPACE}", "Ünïcode 漢字"])
def test_any_text_passes_to_the_page_escaped(plant: Any, text: str) -> None:
    form = plant.set_up(setter=text)
    assert plant.add(form).status == 0
    assert plant.run("build").status == 0
    page = (plant.root / "site" / "wo-1" / "history.html").read_text("utf-8")
    assert "<script>alert(1)" not in page
    assert plant.run("verify").status == 0
