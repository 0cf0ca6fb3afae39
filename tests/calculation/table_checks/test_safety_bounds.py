"""Safety figures of tables: each bound on both its sides, and what the writer of a slipped digit reads."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from weld_packets.calculation.table_checks.safety_bounds import FIGURES, safety_problems
from weld_packets.errors import SourceError
from weld_packets.model.table import Table
from weld_packets.model.tables.safety import Condition
from weld_packets.plant.orders import open_workspace
from weld_packets.sources.tables.tables import load_workspace
from weld_packets.units import quantity

ROOT = Path(__file__).parents[3]
Spoil = Callable[[Any], Any]


@pytest.fixture(scope="module")
def tables() -> dict[str, Table]:
    return dict(load_workspace(ROOT).approved.tables)


def whole(**changes: Any) -> Spoil:
    return lambda table: table.model_copy(update=changes)


def first(name: str, **changes: Any) -> Spoil:
    """Change the first entry of a list; a dotted field cannot be changed here."""

    def spoil(table: Any) -> Any:
        entries = getattr(table, name)
        return table.model_copy(update={name: (entries[0].model_copy(update=changes), *entries[1:])})

    return spoil


def when(**conditions: Any) -> Spoil:
    return first("entries", when=Condition.model_construct(**(Condition().model_dump() | conditions)))


def faults(tables: dict[str, Table], name: str, spoil: Spoil) -> list[tuple[str, str, str]]:
    return [(each.key, each.value, each.message) for each in safety_problems(spoil(tables[name]))]


# table, change of one figure to a value of a unit, key, smallest admitted, refused below it, largest admitted, refused
# above it; None where that side is open or another check holds it
ENDS: list[tuple[str, Callable[[Any], Spoil], str, str, Any, Any, Any, Any]] = [
    ("plant", lambda v: whole(reduced_speed=v), "reduced speed", "mm/s", 10, 9.9, 250, 250.1),
    ("plant", lambda v: whole(fire_watch=v), "fire watch", "min", 30, 29, 240, 241),
    ("plant", lambda v: whole(fire_distance=v), "fire distance", "ft", 35, 34, 330, 331),
    ("plant", lambda v: whole(oxygen_alarm=v), "oxygen alarm", "%", 19.5, 19.4, 20.9, 21),
    ("machines", lambda v: first("cells", noise=v), "cells[0].noise", "dB(A)", 50, 49, 130, 131),
    ("machines", lambda v: first("guns", force_to=v), "guns[0].force to", "kN", None, None, 15, 15.1),
    ("machines", lambda v: first("cells", margin=v), "cells[0].margin", "mm", 1, 0.9, 300, 301),
    ("machines", lambda v: first("robots", keep_out_radius=v), "robots[0].keep out radius", "mm", 20, 19, 600, 601),
    ("machines", lambda v: first("guns", dressing_time=v), "guns[0].dressing time", "s", 2, 1.9, 7200, 7201),
    ("machines", lambda v: first("guns", cap_change_time=v), "guns[0].cap change time", "s", 2, 1.9, 7200, 7201),
    ("plant", lambda v: whole(wire_change_time=v), "wire change time", "s", 2, 1.9, 7200, 7201),
    ("plant", lambda v: whole(contact_tip_change_time=v), "contact tip change time", "s", 2, 1.9, 7200, 7201),
    ("plant", lambda v: whole(cylinder_change_time=v), "cylinder change time", "s", 2, 1.9, 7200, 7201),
    ("inspections", lambda v: first("entries", stops_cell_for=v), "entries[0].stops cell for", "s", 2, 1.9, 7200, 7201),
    ("machines", lambda v: first("guns", cooling_flow=v), "guns[0].cooling flow", "l/min", 2, 1.9, 30, 31),
    ("caps", lambda v: first("entries", maximum_force=v), "entries[0].maximum force", "kN", None, None, 15, 15.1),
    ("gases", lambda v: first("entries", carbon_dioxide=v), "entries[0].carbon dioxide", "%", 0, None, 100, 101),
    ("wires", lambda v: first("entries", chromium=v), "entries[0].chromium", "", 0, -1, 35, 36),
    ("shades", lambda v: first("rows", minimum_shade=int(v)), "rows[0].minimum shade", "", 7, 6, None, None),
    ("hazards", lambda v: when(force_over=v), "entries[0].when.force over", "kN", None, None, 15, 30),
    ("hazards", lambda v: when(noise_from=v), "entries[0].when.noise from", "dB(A)", 50, 49, 130, 131),
    ("hazards", lambda v: when(noise_below=v), "entries[0].when.noise below", "dB(A)", 50, 49, 130, 131),
    ("hazards", lambda v: when(carbon_dioxide_over=v), "entries[0].when.carbon dioxide over", "%", 0, None, 100, 101),
    ("hazards", lambda v: when(chromium_from=v), "entries[0].when.chromium from", "", 0, -1, 35, 105),
    ("hazards", lambda v: when(current_over=v), "entries[0].when.current over", "kA", None, None, 30, 31),
    (
        "hazards", lambda v: when(current_over=v, processes=("135",)), "entries[0].when.current over", "A",
        None, None, 500, 501,
    ),
    (
        "hazards", lambda v: when(current_up_to=v, processes=("135", "21")), "entries[0].when.current up to", "kA",
        None, None, 30, 31,
    ),
]  # fmt: skip


def _value(number: float, unit: str) -> Any:
    return quantity(number, unit) if unit else Decimal(number)


@pytest.mark.parametrize(
    ("name", "change", "key", "unit", "lowest", "below", "highest", "above"),
    ENDS,
    ids=[f"{case[0]} {case[2]} {case[3]}" for case in ENDS],
)
def test_a_bound_admits_both_its_ends_and_refuses_what_lies_beyond(  # noqa: PLR0917 - one case is one line
    tables: dict[str, Table], name: str, change: Callable[[Any], Spoil], key: str, unit: str,
    lowest: float | None, below: float | None, highest: float | None, above: float | None,
) -> None:  # fmt: skip
    for inside in (lowest, highest):
        assert inside is None or faults(tables, name, change(_value(inside, unit))) == []
    for outside in (below, above):
        if outside is not None:
            ((found, _, message),) = faults(tables, name, change(_value(outside, unit)))
            assert found == key
            assert message.endswith(")"), "the message ends with its source"


def test_every_bound_names_its_source() -> None:
    bounds = [bound for lists in FIGURES.values() for fields in lists.values() for bound in fields.values()]
    assert all(len(bound.source) > 10 for bound in bounds)


def test_the_shipped_tables_lie_inside_all_bounds(tables: dict[str, Table]) -> None:
    assert [problem for table in tables.values() for problem in safety_problems(table)] == []


# ---- as the writer of a table meets them: a slip of a digit in the shipped file
SLIPS = [
    ("plant.yaml", "reduced speed: 250 mm/s", "reduced speed: 2500 mm/s", "reduced speed = '2500 mm/s'",
     "at most 250 mm/s (OSHA Technical Manual"),
    ("plant.yaml", "fire watch: 60 min", "fire watch: 6 min", "fire watch = '6 min'",
     "at least 30 min and at most 240 min (29 CFR 1910.252"),
    ("plant.yaml", "fire distance: 35 ft", "fire distance: 3.5 ft", "fire distance = '3.5 ft'", "29 CFR 1910.252"),
    ("plant.yaml", "oxygen alarm: 19.5 %", "oxygen alarm: 9.5 %", "oxygen alarm = '9.5 %'", "29 CFR 1910.146"),
    ("shades.yaml", '["135",  60, 160, 10, 11]', '["135",  60, 160, 100, 11]', "rows[5].minimum shade = '100'",
     "at least 7 and at most 16 (29 CFR 1910.133"),
    ("shades.yaml", '["135", 250, 500, 10, 14]', '["135", 250, 500, 10, 140]', "rows[7].suggested shade = '140'",
     "at most 16 (29 CFR 1910.133"),
    ("shades.yaml", '["135", 160, 250, 10, 12]', '["135", 160, 250, 8, 12]', "rows[6].minimum shade = '8'",
     "the row for less current gives 10"),
    ("shades.yaml", '["135", 160, 250, 10, 12]', '["135", 160, 250, 10, 10]', "rows[6].suggested shade = '10'",
     "the row for less current gives 11"),
    ("shades.yaml", '["135", 250, 500, 10, 14]', '["135", 250, 50, 10, 14]', "rows[7].up to = '50 A'",
     "the range ends at its beginning 250"),
    ("shades.yaml", '["135", 250, 500, 10, 14]', '["135", 250, 250, 10, 14]', "rows[7].up to = '250 A'",
     "the range ends at its beginning 250"),
    ("shades.yaml", '["135", 250, 500, 10, 14]', '["135", 250, 501, 10, 14]', "rows[7].up to = '501 A'",
     "ends at 500 A"),
    ("shades.yaml", '["135",  60, 160, 10, 11]', '["135",  60, 161, 10, 11]', "rows[5].up to = '161 A'",
     "the range of the next row begins at 160"),
    ("plant.yaml", "reduced speed: 250 mm/s", "reduced speed: 0.25 mm/s", "reduced speed = '0.25 mm/s'",
     "at least 10 mm/s"),
    ("machines.yaml", "noise: 96 dB(A)", "noise: 9.6 dB(A)", "cells[0].noise = '9.6 dB(A)'", "HSE"),
    ("machines.yaml", "cooling flow: 5.7 l/min", "cooling flow: 57 l/min", "guns[0].cooling flow = '57 l/min'", "RWMA"),
    ("machines.yaml", "force to: 4.5 kN", "force to: 45 kN", "guns[0].force to = '45 kN'", "14.7 kN"),
    ("caps.yaml", "maximum force: 2.5 kN", "maximum force: 25 kN", "entries[0].maximum force = '25 kN'", "14.7 kN"),
    ("limits.yaml", "highest: 8.0 kN", "highest: 80 kN", "entries[0].highest = '80 kN'", "14.7 kN"),
    ("gases.yaml", "carbon dioxide: 18 %", "carbon dioxide: 180 %", "entries[1].carbon dioxide = '180 %'",
     "at most 100 %"),
    ("materials.yaml", "Cr: 18.1", "Cr: 105", "entries[8].composition.Cr = '105'", "at most 100 %"),
    ("materials.yaml", "Cr: 18.1", "Cr: 1.81", "entries[8].composition.Cr = '1.81'", "EN 10088-1"),
    ("materials.yaml", "Cr: 18.1, ", "", "entries[8].composition.Cr", "a stainless steel states its chromium"),
    ("materials.yaml", "Mn: 1.20, Cr: 18.1, Ni: 8.1", "Mn: 81.2, Cr: 18.1, Ni: 8.1", "entries[8].composition",
     "the elements add up to 107.84 %, more than the whole"),
    ("materials.yaml", "Cr: 0.05, Mo: 0.01, V: 0.002", "Cr: 5, Mo: 0.01, V: 0.002", "entries[5].composition.Cr = '5'",
     "EN 10025-5"),
    ("materials.yaml", "{C: 0.12, Mn: 0.60}", "{C: -0.12, Mn: 0.60}", "entries[0].composition.C = '-0.12'",
     "at least 0 %"),
    ("wires.yaml", "chromium: 20", "chromium: 2", "entries[3].chromium = '2'", "EN 10088-1"),
    ("wires.yaml", "chromium: 20", "chromium: 200", "entries[3].chromium = '200'", "at most 35 %"),
    ("wires.yaml", "    chromium: 20\n", "", "entries[3].chromium", "a stainless steel states its chromium"),
    ("hazards.yaml", "force over: 3 kN", "force over: 30 kN", "when.force over = '30 kN'", "14.7 kN"),
    ("hazards.yaml", "current over: 250 A", "current over: 2500 A", "when.current over = '2500 A'", "ends at 500 A"),
    ("hazards.yaml", "current over: 10 kA", "current over: 100 kA", "when.current over = '100 kA'", "30 kA"),
    ("hazards.yaml", "chromium from: 10.5", "chromium from: 105", "when.chromium from = '105'", "at most 35 %"),
    ("hazards.yaml", "noise from: 85 dB(A)", "noise from: 8.5 dB(A)", "when.noise from = '8.5 dB(A)'", "HSE"),
    ("hazards.yaml", "    facts: [filter shade]\n", "", "facts", "gives no filter shade"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "old", "new", "place", "words"), SLIPS, ids=[f"{case[0]} {case[2]}" for case in SLIPS]
)
def test_a_slip_of_a_digit_is_refused_once_with_its_line_and_source(  # noqa: PLR0917 - one case is one line
    tmp_path: Path, name: str, old: str, new: str, place: str, words: str
) -> None:
    shutil.copytree(ROOT / "tables", tmp_path / "tables")
    path = tmp_path / "tables" / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(SourceError) as refused:
        open_workspace(tmp_path)
    (problem,) = refused.value.problems
    message = str(problem)
    line = text[: text.index(old)].count("\n") + 1
    if new:  # a value that was taken out leaves its line to the entry that holds it
        assert (problem.file, problem.line) == (f"tables/{name}", line)
    assert place in message
    assert words in message
    assert problem.remedy


@pytest.mark.parametrize(("shade", "refused"), [(16, False), (17, True)])
@pytest.mark.parametrize("field", ["minimum_shade", "suggested_shade"])
def test_the_darkest_shade_is_16(tables: dict[str, Table], field: str, shade: int, *, refused: bool) -> None:
    shades: Any = tables["shades"]
    changes = {"suggested_shade": 16} | {field: shade}
    last = shades.rows[-1].model_copy(update=changes)
    found = list(safety_problems(shades.model_copy(update={"rows": (*shades.rows[:-1], last)})))
    assert bool(found) is refused


@pytest.mark.parametrize(
    ("base", "chromium", "refused"),
    [
        ("austenitic stainless", "10.5", False), ("austenitic stainless", "10.4", True),
        ("austenitic stainless", "30", False), ("austenitic stainless", "30.1", True),
        ("low-carbon steel", "1", False), ("low-carbon steel", "1.01", True),
        ("structural steel", "0", False), ("structural steel", "1.1", True), ("low-carbon steel", "-0.1", True),
    ],
)  # fmt: skip
def test_chromium_of_a_sheet_fits_its_base_metal(
    tables: dict[str, Table], base: str, chromium: str, *, refused: bool
) -> None:
    found = faults(tables, "materials", first("entries", base=base, composition={"Cr": Decimal(chromium)}))
    assert [key for key, _, _ in found] == (["entries[0].composition.Cr"] if refused else [])


@pytest.mark.parametrize(("carbon", "refused"), [("99.5", False), ("99.6", True)])
def test_the_elements_of_a_sheet_are_no_more_than_the_whole(
    tables: dict[str, Table], carbon: str, *, refused: bool
) -> None:
    composition = {"C": Decimal(carbon), "Mn": Decimal("0.5")}
    found = faults(tables, "materials", first("entries", composition=composition))
    assert [key for key, _, _ in found] == (["entries[0].composition"] if refused else [])


@pytest.mark.parametrize(("chromium", "refused"), [("10.5", False), ("10.4", True), ("35", False), ("35.1", True)])
def test_a_wire_for_stainless_steel_holds_its_chromium(
    tables: dict[str, Table], chromium: str, *, refused: bool
) -> None:
    stainless = {"bases": ("austenitic stainless",), "chromium": Decimal(chromium)}
    found = faults(tables, "wires", first("entries", **stainless))
    assert [key for key, _, _ in found] == (["entries[0].chromium"] if refused else [])


def test_a_bound_that_cannot_be_read_is_left_to_the_check_of_limits(tables: dict[str, Table]) -> None:
    assert faults(tables, "limits", first("entries", highest="a lot")) == []


def test_suggested_shade_is_never_lighter_than_the_minimum(tables: dict[str, Table]) -> None:
    ((key, value, message),) = faults(tables, "shades", first("rows", minimum_shade=9, suggested_shade=8))
    assert (key, value) == ("rows[0].suggested shade", "8")
    assert message == "the suggested shade is lighter than the minimum of its row, 9"


def test_shades_of_one_process_are_not_compared_with_those_of_another(tables: dict[str, Table]) -> None:
    shades: Any = tables["shades"]
    darker = [row.model_copy(update={"minimum_shade": 12, "suggested_shade": 15}) for row in shades.rows[:4]]
    assert list(safety_problems(shades.model_copy(update={"rows": (*darker, *shades.rows[4:])}))) == []


def test_operations_of_shades_may_stand_in_any_order(tables: dict[str, Table]) -> None:
    shades: Any = tables["shades"]
    assert list(safety_problems(shades.model_copy(update={"rows": shades.rows[::-1]}))) == []
