from pathlib import Path

from generator.model.charts import SpotSchedule
from generator.model.tables import Limits
from generator.process.table_faults import table_problems
from generator.sources.tables import load_workspace

ROOT = Path(__file__).parents[2]


def test_a_fault_of_a_chart_and_one_of_the_limits_carry_the_name_of_their_table() -> None:
    shop = load_workspace(ROOT).shop
    assert list(table_problems(shop)) == []
    chart, limits = shop.tables["spot-uncoated"], shop.tables["limits"]
    assert isinstance(chart, SpotSchedule)
    assert isinstance(limits, Limits)
    unread = limits.entries[0].model_copy(update={"lowest": "a little"})
    spoilt = [
        chart.model_copy(update={"rows": chart.rows[::-1]}),
        limits.model_copy(update={"entries": (unread,)}),
    ]
    shop.tables.update({table.table: table for table in spoilt})  # type: ignore[attr-defined]
    found = [(mark, problem.key) for mark, problem in table_problems(shop)]
    assert found[-1] == ("spot-uncoated", "rows[7].over")
    assert ("limits", "entries[0].lowest") in found
