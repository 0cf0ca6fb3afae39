"""An order that asks for more of one variable is never nearer to inside: by every line that the program brings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Literal, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.calculation.qualification import judging
from weld_packets.calculation.qualification.judging import Miss, judged
from weld_packets.calculation.qualification.rules import Line
from weld_packets.calculation.qualification.values import KINDS, PAIRED, RANKS, Case, Extent, Range, Sizes, Terms, Value
from weld_packets.model.tables.qualification import Variable, WeldType
from weld_packets.sources.tables.tables import brought_rules

RANGED: frozenset[str] = frozenset({
    "current", "voltage", "travel speed", "wire feed speed", "heat input", "electrode force", "weld time",
    "weld current",
})  # fmt: skip
"""Variables of which an order has everything from one value to another."""
EACH: frozenset[str] = frozenset({"thickness", "sheet thickness", "outside diameter"})
"""Variables of which each component has a size of its own."""
VARIABLES: tuple[Variable, ...] = get_args(Variable)
TABLES = [tuple(Line(rule, table) for rule in table.entries) for table in brought_rules()]
OWN = [
    tuple(Line(line.rule.model_copy(update={"certainty": "plant"}), line.table) for line in lines) for lines in TABLES
]
"""The same lines as a plant's own, so that all of them decide."""
VOCABULARY: Mapping[str, set[str]] = {
    variable: {"A", "B"}.union(*(
        {term, *words}
        for lines in TABLES for line in lines if line.rule.variable == variable
        for term, words in line.rule.covers.items()
    )) - {"any"}
    for variable in VARIABLES
}  # fmt: skip
SIZE = st.one_of(st.decimals("0.5", "20", places=1), st.decimals("0.5", "160", places=2))
REQUIRED: st.SearchStrategy[tuple[Literal["impact", "hardness"], ...]] = st.sampled_from(
    ((), (), (), ("impact",), ("hardness",), ("impact", "hardness"))
)
WELD: st.SearchStrategy[WeldType] = st.sampled_from(get_args(WeldType))


@st.composite
def of_test(draw: st.DrawFn) -> dict[Variable, Value]:
    """What a test says of the variables by which lines are chosen."""
    return {
        "thickness": Sizes(tuple(sorted(draw(st.lists(SIZE, min_size=1, max_size=3))))),
        "passes": Terms((draw(st.sampled_from(("one", "several"))),)),
        "material subgroup": Terms((draw(st.sampled_from(("1.2", "8.1", "10.1"))),)),
    }


@st.composite
def of_order(draw: st.DrawFn) -> Case:
    """What an order says besides, by which lines are chosen: position, tubes among its components, required tests."""
    found: dict[Variable, Value] = {"position": Terms((draw(st.sampled_from(("PA", "PB", "PC", "PF"))),))}
    tubes = draw(st.lists(st.sampled_from((25, 150, 151, 500, 501)), max_size=2))
    if tubes:
        found["outside diameter"] = Sizes(tuple(map(Decimal, sorted(tubes))))
    return Case(("W",), "fillet", found, draw(REQUIRED))


@st.composite
def widened(draw: st.DrawFn, variable: Variable) -> tuple[Value, Value, Value]:
    """What was tested of a variable, what an order has of it, and what an order has that asks for more."""
    if variable in RANGED:
        was, has = (Extent(*sorted((draw(SIZE), draw(SIZE)))) for _ in range(2))
        return was, has, Extent(has.low - draw(SIZE), has.high + draw(SIZE))
    if variable in KINDS:
        count = draw(st.integers(1, 3)) if variable in EACH else 1
        sizes = sorted(draw(SIZE) for _ in range(count))
        side = draw(st.sampled_from((1, -1)))
        near = [max(size + side * draw(SIZE), Decimal(0)) for size in sizes]
        if near != sorted(near):  # thickness of component and test would be paired in another order
            near = [max(size + side * (near[0] - sizes[0]).copy_abs(), Decimal(0)) for size in sizes]
        more = draw(SIZE)
        far = [max(size + side * more, Decimal(0)) for size in near]
        return Sizes(tuple(sizes)), Sizes(tuple(near)), Sizes(tuple(far))
    words = st.sampled_from(sorted(VOCABULARY[variable]))
    was_words, has_words = (draw(st.lists(words, min_size=1, max_size=3)) for _ in range(2))
    if variable in PAIRED:  # with fewer components than the test it is another combination, and not a smaller one
        has_words = (has_words * 3)[: max(len(has_words), len(was_words))]
    return tuple(Terms(tuple(sorted(each))) for each in (was_words, has_words, [*has_words, draw(words)]))  # type: ignore[return-value]


def nearer(variable: Variable, values: tuple[Value, Value, Value], proved: dict[Variable, Value], case: Case,
           lines: tuple[Line, ...]) -> bool:  # fmt: skip
    """Return whether the order that asks for more is nearer to inside than the other one."""
    was, *orders = values
    one, other = (
        judged(variable, replace(case, has={**case.has, variable: has}), {**proved, variable: was}, lines)
        for has in orders
    )
    return RANKS[other.outcome] < RANKS[one.outcome]


def names(lines: tuple[Line, ...], variable: Variable) -> bool:
    """Return whether a line of a table is for a variable."""
    return any(line.rule.variable == variable for line in lines)


def test_every_variable_is_of_one_of_the_forms_that_are_widened() -> None:
    assert set(KINDS) >= RANGED | EACH
    assert len(VARIABLES) > 30
    assert {line.rule.variable for lines in TABLES for line in lines} <= set(VARIABLES)


@pytest.mark.parametrize("variable", VARIABLES)
@given(data=st.data(), proved=of_test(), weld=WELD, case=of_order())
def test_an_order_that_asks_for_more_is_never_nearer_to_inside(
    variable: Variable, data: st.DataObject, proved: dict[Variable, Value], weld: WeldType,
    case: Case,
) -> None:  # fmt: skip
    values = data.draw(widened(variable))
    lines = data.draw(
        st.sampled_from([*(lines for lines in (*OWN, *TABLES) if names(lines, variable)), *TABLES[:1], ()])
    )
    assert not nearer(variable, values, proved, replace(case, weld_type=weld), lines)


def test_the_property_fails_where_a_bound_is_taken_for_the_other(monkeypatch: pytest.MonkeyPatch) -> None:
    """A property that nothing can break proves nothing: here the upper bound of a read rule is looked at from below."""

    def wrong(size: Decimal, found: Range) -> Miss | None:
        return Miss(size, found.high) if found.high is not None and size < found.high else None

    (lines,) = (
        lines for lines in TABLES if lines[0].table.standard == "AWS D1.1" and "2015" in lines[0].table.editions
    )
    was, has, more = (Extent(Decimal(low), Decimal(high)) for low, high in ((200, 200), (190, 210), (100, 300)))
    case = Case(("W",), "fillet", {})
    assert not nearer("current", (was, has, more), {}, case, lines)
    monkeypatch.setattr(judging, "_past", wrong)
    assert nearer(
        "current", (was, Extent(Decimal(190), Decimal(219)), Extent(Decimal(230), Decimal(300))), {}, case, lines
    )
