"""Which schedule a group of seams is set from."""

from typing import Any

import pytest

from generator.errors import OutOfRangeError
from generator.process.arc.schedule import schedule_for


def test_the_only_fitting_schedule_is_found(bench: Any) -> None:
    tables = (bench.schedule("spray", positions=["PA"]), bench.schedule("short"))
    shop = bench.shop(schedules=tables)
    assert schedule_for(bench.ask(bench.row(), shop), None, shop).table == "short"


def test_of_several_that_fit_the_one_whose_rows_reach_the_thickness_is_meant(bench: Any) -> None:
    tables = (
        bench.schedule("thin", row={"over": "0.5 mm", "up to": "2 mm"}),
        bench.schedule("thick", row={"over": "2 mm", "up to": "12 mm"}),
    )
    shop = bench.shop(schedules=tables)
    assert schedule_for(bench.ask(bench.row(parts=bench.sheets("3 mm")), shop), None, shop).table == "thick"


@pytest.mark.parametrize("thickness", ["3 mm", "20 mm"])
def test_several_that_fit_alike_are_refused_by_name(bench: Any, thickness: str) -> None:
    shop = bench.shop(schedules=(bench.schedule("first"), bench.schedule("second")))
    with pytest.raises(OutOfRangeError, match="2 schedules fit: first, second"):
        schedule_for(bench.ask(bench.row(parts=bench.sheets(thickness)), shop), None, shop)


def test_where_none_fits_each_says_why(bench: Any) -> None:
    tables = (
        bench.schedule("cored", process="136"),
        bench.schedule("carbonic", gas="CO2"),
        bench.schedule("thick-wire", **{"wire diameter": "1.2 mm"}),
        bench.schedule("stainless", bases=["austenitic stainless"]),
        bench.schedule("butts", joints=["square butt"]),
        bench.schedule("flat", positions=["PA", "PC"]),
    )
    shop = bench.shop(schedules=tables)
    with pytest.raises(OutOfRangeError) as refused:
        schedule_for(bench.ask(bench.row(), shop), None, shop)
    told = refused.value.problems[0].message.replace("\N{NO-BREAK SPACE}", " ")
    for reason in (
        "cored: is for process 136",
        "carbonic: is for gas CO2",
        "thick-wire: is for wire 1.2 mm",
        "stainless: is not for structural steel",
        "butts: is for square butt",
        "flat: is for position PA or PC",
    ):
        assert reason in told


def test_a_named_schedule_is_used_although_another_fits_too(bench: Any) -> None:
    shop = bench.shop(schedules=(bench.schedule("first"), bench.schedule("second")))
    assert schedule_for(bench.ask(bench.row(), shop), "second", shop).table == "second"


def test_a_named_schedule_that_does_not_fit_is_refused_with_all_reasons(bench: Any) -> None:
    shop = bench.shop(schedules=(bench.schedule("first", gas="CO2", positions=["PA"]),))
    with pytest.raises(OutOfRangeError, match="first does not fit: is for gas CO2, is for position PA"):
        schedule_for(bench.ask(bench.row(), shop), "first", shop)
