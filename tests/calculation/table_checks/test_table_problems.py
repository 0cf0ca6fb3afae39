from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from weld_packets.calculation.table_checks.number_problems import number_problems
from weld_packets.calculation.table_checks.table_problems import table_problems
from weld_packets.model.table import Handled
from weld_packets.model.tables.charts import Limits, SpotChart
from weld_packets.model.tables.materials import MeltingLaw, MeltingPoint
from weld_packets.sources.tables.tables import load_workspace
from weld_packets.units import quantity

ROOT = Path(__file__).parents[3]


def test_a_fault_of_a_chart_and_one_of_the_limits_carry_the_name_of_their_table() -> None:
    approved = load_workspace(ROOT).approved
    assert list(table_problems(approved)) == []
    chart, limits = approved.tables["spot-uncoated"], approved.tables["limits"]
    assert isinstance(chart, SpotChart)
    assert isinstance(limits, Limits)
    unread = limits.entries[0].model_copy(update={"lowest": "a little"})
    spoilt = [
        chart.model_copy(update={"rows": chart.rows[::-1]}),
        limits.model_copy(update={"entries": (unread,)}),
    ]
    approved.tables.update({table.table: table for table in spoilt})  # type: ignore[attr-defined]
    found = [(mark, problem.key) for mark, problem in table_problems(approved)]
    assert found[-1] == ("spot-uncoated", "rows[7].over")
    assert ("limits", "entries[0].lowest") in found


def spoilt(table: str, spoil: Callable[[Any], Any]) -> list[tuple[str, str]]:
    """Return key and message of every fault of a shipped table after ``spoil`` has changed a copy of it."""
    approved = load_workspace(ROOT).approved
    changed = spoil(approved.tables[table])
    return [(problem.key, problem.message) for problem in number_problems(changed)]


PERSON = "R. Ilm"


@pytest.mark.parametrize(
    ("wrote", "checked", "key"),
    [
        (("P. Ode", 1), (PERSON, 1), None), (("P. Ode", 1), (PERSON, 2), None), ((PERSON, 1), None, None),
        ((PERSON, 1), ("r.  ILM", 2), "checked.by"), (("P. Ode", 2), (PERSON, 1), "checked.date"),
        (None, (PERSON, 1), "checked"),
    ],
)  # fmt: skip
def test_values_are_checked_by_a_second_person_after_they_were_transcribed(
    wrote: tuple[str, int] | None, checked: tuple[str, int] | None, key: str | None
) -> None:
    approved = load_workspace(ROOT).approved
    handled = [Handled(by=each[0], date=date(2026, 11, each[1])) if each else None for each in (wrote, checked)]  # type: ignore[arg-type]
    table = approved.tables["caps"].model_copy(update={"transcribed": handled[0], "checked": handled[1]})
    approved.tables.update({"caps": table})  # type: ignore[attr-defined]
    assert [(mark, problem.key) for mark, problem in table_problems(approved)] == ([("caps", key)] if key else [])


def first(name: str, **changes: Any) -> Callable[[Any], Any]:
    def spoil(table: Any) -> Any:
        entries = getattr(table, name)
        return table.model_copy(update={name: (entries[0].model_copy(update=changes), *entries[1:])})

    return spoil


def whole(**changes: Any) -> Callable[[Any], Any]:
    return lambda table: table.model_copy(update=changes)


@pytest.mark.parametrize(
    ("table", "spoil", "key"),
    [
        ("machines", first("robots", travel_speed_step=quantity(0.0, "mm/s")), "robots[0].travel speed step"),
        ("machines", first("guns", force_step=quantity(0.0, "kN")), "guns[0].force step"),
        ("machines", first("power_sources", voltage_to=quantity(10.0, "V")), "power sources[0].voltage to"),
        ("wires", first("entries", spool=quantity(0.0, "kg")), "entries[0].spool"),
        ("wires", first("entries", efficiency=quantity(950.0, "%")), "entries[0].efficiency"),
        ("gases", first("entries", flow_to=quantity(2.0, "l/min")), "entries[0].flow to"),
        ("plant", whole(reinforcement=Decimal(0)), "reinforcement"),
        ("plant", whole(contact_tip_after=quantity(0.0, "h")), "contact tip after"),
        ("plant", whole(duty_planning_share=quantity(120.0, "%")), "duty planning share"),
        ("plant", whole(visible_indentation=quantity(101.0, "%")), "visible indentation"),
        ("plant", whole(cap_face_at_most=quantity(99.0, "%")), "cap face at most"),
        ("spot-uncoated", whole(cap_face_at_most=quantity(99.0, "%")), "cap face at most"),
        ("machines", first("guns", force_repeatability=quantity(0.0, "%")), "guns[0].force repeatability"),
        ("plant", whole(size_margin=quantity(15.1, "%")), "size margin"),
        ("plant", whole(squeeze_servo=quantity(2001.0, "ms")), "squeeze servo"),
        ("plant", whole(squeeze_pneumatic=quantity(2001.0, "ms")), "squeeze pneumatic"),
        ("machines", first("guns", force_repeatability=quantity(15.1, "%")), "guns[0].force repeatability"),
        ("caps", first("entries", face=quantity(16.5, "mm")), "entries[0].face"),
        ("plant", whole(size_margin=quantity(0.0, "%")), "size margin"),
        ("spot-uncoated-points", whole(tolerance={"force": quantity(200.0, "%")}), "tolerance.force"),
    ],
)
def test_a_number_with_which_nothing_can_be_computed_is_reported(table: str, spoil: Any, key: str) -> None:
    assert [found for found, _ in spoilt(table, spoil)] == [key]


def melting(**changes: Any) -> Callable[[Any], Any]:
    """Spoil the melting data of the metal-cored wire, which has points."""

    def spoil(table: Any) -> Any:
        place = next(number for number, wire in enumerate(table.entries) if wire.melting[0].points)
        wire = table.entries[place]
        data = wire.melting[0].model_copy(update=changes)
        kept = wire.model_copy(update={"melting": (data,)})
        return table.model_copy(update={"entries": (kept,)})

    return spoil


LAW = MeltingLaw.model_validate({"arc": "0.3", "resistance": "0.00005", "arc length": {"spray": "4 mm"}})
POINTS = tuple(
    MeltingPoint.model_validate({"wire feed": f"{feed} m/min", "current": f"{amperes} A"})
    for feed, amperes in ((3, 90), (5, 150), (5, 160), (6, 160))
)


@pytest.mark.parametrize(
    ("changes", "keys"),
    [
        ({"points": ()}, ["entries[0].melting[0]"]),
        ({"law": LAW}, ["entries[0].melting[0]"]),
        ({"law": LAW.model_copy(update={"arc": Decimal(0)}), "points": ()}, ["entries[0].melting[0].law"]),
        ({"law": LAW.model_copy(update={"resistance": Decimal(0)}), "points": ()}, ["entries[0].melting[0].law"]),
        ({"points": POINTS[:1]}, ["entries[0].melting[0].points"]),
        ({"points": POINTS[1:3]}, ["entries[0].melting[0].points[1]"]),
        ({"points": POINTS[2:]}, ["entries[0].melting[0].points[1]"]),
        ({"points": POINTS[:2]}, []),
        ({"contact_distance_to": None}, ["entries[0].melting[0]"]),
        ({"contact_distance_to": quantity(5.0, "mm")}, ["entries[0].melting[0].contact distance to"]),
        ({"scatter": quantity(0.0, "%")}, ["entries[0].melting[0].scatter"]),
        ({"scatter": quantity(51.0, "%")}, ["entries[0].melting[0].scatter"]),
    ],
)
def test_melting_data_that_tie_nothing_are_reported(changes: dict[str, Any], keys: list[str]) -> None:
    assert [key for key, _ in spoilt("wires", melting(**changes))] == keys


def test_a_law_that_is_stated_twice_for_a_gas_and_a_mode_is_reported_once() -> None:
    def spoil(table: Any) -> Any:
        return first("entries", melting=table.entries[0].melting * 2)(table)

    found = spoilt("wires", spoil)
    assert {key for key, _ in found} == {"entries[0].melting"}
    assert len(found) == 6  # CO2 and M21, each in short arc, globular and spray


def test_two_plans_for_one_number_of_passes_are_reported() -> None:
    def spoil(table: Any) -> Any:
        return whole(pass_plans=(*table.pass_plans, table.pass_plans[0]))(table)

    assert [key for key, _ in spoilt("arc-co2-fillet-1.2", spoil)] == ["pass plans[2]"]


def test_a_cap_that_lasts_no_weld_is_reported() -> None:
    def spoil(table: Any) -> Any:
        cap = table.entries[0]
        life = (cap.life[0].model_copy(update={"welds_between_dressings": 0}), *cap.life[1:])
        return first("entries", life=life)(table)

    ((key, message),) = spoilt("caps", spoil)
    assert key == "entries[0].life[0].welds between dressings"
    assert message == "a cap welds at least once between dressings"


@pytest.mark.parametrize(("minimum", "target"), [("-3", "4"), ("0", "4"), ("5", "4"), ("3.5", "50")])
def test_weld_diameters_that_do_not_rise_from_above_nothing_are_reported(minimum: str, target: str) -> None:
    def spoil(table: Any) -> Any:
        factors = {"minimum": Decimal(minimum), "target": Decimal(target)}
        return whole(weld_diameter=table.weld_diameter.model_copy(update=factors))(table)

    assert [key for key, _ in spoilt("spot-uncoated", spoil)] == ["weld diameter.target"]


def test_a_limit_of_stacks_that_allows_none_is_reported() -> None:
    def spoil(table: Any) -> Any:
        return whole(stack_limits=table.stack_limits.model_copy(update={"thickness_ratio": Decimal(0)}))(table)

    assert [key for key, _ in spoilt("spot-uncoated", spoil)] == ["stack limits.thickness ratio"]


@pytest.mark.parametrize(
    ("unit", "found"),
    [("cycles@50Hz", []), ("ms", []), ("cycles@60Hz", ["guns[0].time step"])],
)
def test_a_gun_whose_times_are_cycles_of_other_mains_than_its_cell_is_reported(unit: str, found: list[str]) -> None:
    faults = spoilt("machines", first("guns", time_step=quantity(1.0, unit)))
    assert [key for key, _ in faults] == found
    assert [message for _, message in faults] == [
        "the mains of cell C5 have 50 Hz: their cycles are of another length" for _ in found
    ]


# ---------------------------------------------------------------- ratings and temperatures that contradict themselves


@pytest.mark.parametrize(("amperes", "refused"), [(14_000, False), (14_001, True)])
def test_a_gun_carries_no_more_continuously_than_it_gives_at_all(amperes: float, *, refused: bool) -> None:
    def spoil(table: Any) -> Any:
        gun = table.guns[0].model_copy(update={"permanent_current": quantity(amperes, "A")})
        return table.model_copy(update={"guns": (gun, *table.guns[1:])})

    assert [key for key, _ in spoilt("machines", spoil)] == ["guns[0].permanent current"] * refused


@pytest.mark.parametrize(("share", "refused"), [(60.0, False), (59.9, True), (100.0, False)])
def test_a_power_source_is_rated_for_no_less_time_at_less_current(share: float, *, refused: bool) -> None:
    """The plate of the first one: 60 % at 400 A."""

    def spoil(table: Any) -> Any:
        source = table.power_sources[0]
        lower = source.duty[1].model_copy(update={"share": quantity(share, "%")})
        changed = source.model_copy(update={"duty": (source.duty[0], lower)})
        return table.model_copy(update={"power_sources": (changed, *table.power_sources[1:])})

    assert [key for key, _ in spoilt("machines", spoil)] == ["power sources[0].duty[1].share"] * refused


@pytest.mark.parametrize(("gases", "refused"), [(("CO2", "M21"), True), (("M12",), False)])
def test_ratings_of_a_torch_are_compared_for_each_gas(gases: tuple[str, ...], *, refused: bool) -> None:
    def spoil(table: Any) -> Any:
        source = table.power_sources[0]
        first = source.torch.ratings[0]
        ratings = (
            first.model_copy(update={"gases": ("CO2",), "share": quantity(60.0, "%"), "current": quantity(300.0, "A")}),
            first.model_copy(update={"gases": gases, "share": quantity(40.0, "%"), "current": quantity(200.0, "A")}),
        )
        torch = source.torch.model_copy(update={"ratings": ratings})
        changed = source.model_copy(update={"torch": torch})
        return table.model_copy(update={"power_sources": (changed, *table.power_sources[1:])})

    assert [key for key, _ in spoilt("machines", spoil)] == ["power sources[0].torch.ratings[1].share"] * refused


@pytest.mark.parametrize(("celsius", "refused"), [(50.0, True), (50.1, False)])
def test_a_material_is_no_cooler_between_passes_than_before_them(celsius: float, *, refused: bool) -> None:
    def spoil(table: Any) -> Any:
        warm = {"working_temperature_minimum": quantity(50.0, "°C"), "interpass_maximum": quantity(celsius, "°C")}
        return table.model_copy(update={"entries": (table.entries[0].model_copy(update=warm), *table.entries[1:])})

    assert [key for key, _ in spoilt("materials", spoil)] == ["entries[0].interpass maximum"] * refused
