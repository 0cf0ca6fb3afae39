"""One variable against one record: when it is inside, outside, or not to be decided."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.calculation.qualification.groups import Groups
from weld_packets.calculation.qualification.judging import Answer, Miss, judged
from weld_packets.calculation.qualification.ordered import together
from weld_packets.calculation.qualification.proved import proved_by
from weld_packets.calculation.qualification.rules import Line, line_of, lines_for
from weld_packets.calculation.qualification.values import RANKS, Case, Extent, Range, Ranges, Sizes, Terms, Value
from weld_packets.calculation.qualification.verdict import compared
from weld_packets.model.tables.qualification import QualificationRecord, QualificationRules, Variable
from weld_packets.units import magnitude

HEAD = {"title": "t", "source": "test", "revision": "A"}


def line(variable: Variable, form: str, certainty: str = "read", **more: Any) -> Line:
    """Return one line of rules."""
    rule = {"id": variable.replace(" ", "-"), "variable": variable, "form": form, "clause": "1", "source": "test"}
    table = {
        **HEAD, "table": "rules", "kind": "qualification rules", "standard": "S", "editions": ["1"],
        "entries": [{**rule, "certainty": certainty, **more}],
    }  # fmt: skip
    rules = QualificationRules.model_validate(table)
    return Line(rules.entries[0], rules)


def record(**more: Any) -> QualificationRecord:
    """Return a record of a fillet in steel of 8 mm, with what a test says besides."""
    sheet = {"material": "S355J2", "group": "1.2", "thickness": "8 mm"}
    whole = {
        **HEAD, "table": "R-1", "kind": "qualification record", "standard": "S", "edition": "1", "examiner": "role",
        "date": "2025-01-01", "process": "135", "weld type": "fillet", "sheets": [sheet, sheet],
        "results": [{"test": "macro", "found": "good", "document": "D"}], **more,
    }  # fmt: skip
    return QualificationRecord.model_validate(whole)


def case(variable: Variable, has: Value | None, **more: Any) -> Case:
    """Return a weld of which one variable is known."""
    return Case(("W1",), more.pop("weld_type", "fillet"), {variable: has}, **more)


def answer_of(variable: Variable, has: Value | None, was: Value | None, *lines: Line) -> Answer:
    """Return the answer on one variable."""
    return judged(variable, case(variable, has), {} if was is None else {variable: was}, lines)


def mm(*sizes: str) -> Sizes:
    """Return sizes."""
    return Sizes(tuple(sorted(Decimal(size) for size in sizes)))


def between(low: str, high: str) -> Extent:
    """Return everything from one size to another."""
    return Extent(Decimal(low), Decimal(high))


def words(*terms: str) -> Terms:
    """Return words."""
    return Terms(tuple(sorted(terms)))


def ends(answer: Answer) -> tuple[str | None, str | None]:
    """Return both ends of what is covered, as text."""
    if not isinstance(answer.covered, Ranges):
        raise TypeError(answer.covered)
    found = answer.covered.each[0]
    return tuple(None if end is None else str(end.normalize()) for end in (found.low, found.high))  # type: ignore[return-value]


THROAT = line("throat", "factor", low="0.75", high="1.5")
UNSURE = ("from memory", "in dispute", "unread")


def test_what_was_tested_is_inside_whatever_is_known_of_the_rules() -> None:
    for certainty in ("read", "plant", "strict", *UNSURE):
        found = answer_of("throat", mm("5"), mm("5"), line("throat", "factor", certainty, low="0.75", high="1.5"))
        assert (found.outcome, found.reason) == ("inside", "as tested")
    assert answer_of("throat", mm("5"), mm("5")).outcome == "inside"


def test_a_change_is_inside_by_a_rule_that_was_read_and_both_ends_belong_to_it() -> None:
    for size, outcome in (("3.75", "inside"), ("7.5", "inside"), ("3.749", "outside"), ("7.501", "outside")):
        found = answer_of("throat", mm(size), mm("5"), THROAT)
        assert (found.outcome, found.reason) == (outcome, "by the rule")


def test_what_is_missing_is_the_size_and_the_bound_that_it_passes() -> None:
    assert answer_of("throat", mm("2.2"), mm("5"), THROAT).miss == Miss(Decimal("2.2"), Decimal("3.75"), below=True)
    assert answer_of("throat", mm("8"), mm("5"), THROAT).miss == Miss(Decimal(8), Decimal("7.5"), below=False)


@pytest.mark.parametrize("certainty", UNSURE)
def test_a_rule_that_is_not_sure_decides_no_change_and_says_what_it_would(certainty: str) -> None:
    rule = line("throat", "factor", certainty, low="0.75", high="1.5")
    covered, past = (answer_of("throat", mm(size), mm("5"), rule) for size in ("4", "2"))
    assert (covered.outcome, covered.miss) == ("cannot decide", None)
    assert (past.outcome, past.miss) == ("cannot decide", Miss(Decimal(2), Decimal("3.75"), below=True))


def test_a_strict_line_says_that_a_change_is_outside() -> None:
    assert answer_of("cap", words("B"), words("A"), line("cap", "as tested", "strict")).outcome == "outside"


def test_a_change_that_no_rule_covers_is_outside_and_without_any_rules_undecided() -> None:
    assert answer_of("throat", mm("4"), mm("5"), line("cap", "as tested")).outcome == "outside"
    assert answer_of("throat", mm("4"), mm("5")).outcome == "cannot decide"


def test_what_nobody_states_is_never_inside_but_where_nothing_limits_it() -> None:
    assert answer_of("throat", None, mm("5"), THROAT).reason == "not in the order"
    assert answer_of("throat", mm("5"), None, THROAT).reason == "not in the record"
    assert answer_of("throat", None, None, line("throat", "free")).outcome == "inside"
    assert answer_of("throat", mm("5"), None, line("throat", "free", "from memory")).outcome == "cannot decide"


def test_a_difference_is_open_at_the_end_that_it_leaves_out() -> None:
    down, up = line("preheat", "difference", down="50"), line("interpass temperature", "difference", up="50")
    assert ends(answer_of("preheat", mm("150"), mm("200"), down)) == ("1.5E+2", None)
    assert answer_of("preheat", mm("149.9"), mm("200"), down).outcome == "outside"
    assert answer_of("preheat", mm("900"), mm("200"), down).outcome == "inside"
    assert ends(answer_of("interpass temperature", mm("250"), mm("200"), up)) == (None, "2.5E+2")
    assert answer_of("interpass temperature", mm("250.1"), mm("200"), up).outcome == "outside"


def test_a_range_of_an_order_must_lie_wholly_in_what_is_covered() -> None:
    rule = line("current", "factor", low="0.9", high="1.1")
    was = between("200", "220")
    for low, high, outcome in (("189", "231", "inside"), ("188.9", "200", "outside"), ("200", "231.1", "outside")):
        assert answer_of("current", between(low, high), was, rule).outcome == outcome
    assert answer_of("current", between("200", "220"), was, rule).reason == "as tested"


def test_each_component_has_to_lie_in_the_range_of_its_own() -> None:
    rule = line("thickness", "factor", low="0.5", high="2")
    assert answer_of("thickness", mm("2", "8"), mm("2", "8"), rule).reason == "as tested"
    assert answer_of("thickness", mm("4", "16"), mm("2", "8"), rule).outcome == "inside"
    assert answer_of("thickness", mm("1", "3"), mm("2", "8"), rule).outcome == "outside"  # 3 is below half of 8
    assert answer_of("thickness", mm("5", "8"), mm("2", "8"), rule).outcome == "outside"  # 5 is above twice 2


def test_each_component_of_a_test_has_the_line_of_its_own_band() -> None:
    thin = line("thickness", "factor", low="0.7", high="2", **{"up to": "3 mm"})
    thick = line("thickness", "factor", low="0.5", high="1.2", over="3 mm")
    was = mm("3", "4")
    for has, outcome in (
        (("3", "4.8"), "inside"),
        (("6", "6"), "outside"),  # twice 3 mm, but more than 1.2 times 4 mm
        (("3", "4.9"), "outside"),
        (("2.1", "2"), "outside"),
        (("2.1", "2.1"), "inside"),
        (("2.1", "4", "4"), "inside"),  # more components than the test: each in every range
        (("2.1", "4", "4.9"), "outside"),
        (("6", "6", "6"), "outside"),
    ):
        assert answer_of("thickness", mm(*has), was, thin, thick).outcome == outcome, has
    found = answer_of("thickness", mm("3", "4.9"), was, thin, thick)
    assert isinstance(found.covered, Ranges)
    assert [(each.low, each.high) for each in found.covered.each] == [
        (Decimal("2.1"), Decimal(6)),
        (Decimal(2), Decimal("4.8")),
    ]
    assert (found.line, found.has, found.proved) == (thick, mm("3", "4.9"), was)
    assert found.miss == Miss(Decimal("4.9"), Decimal("4.8"))


def test_sheets_of_a_spot_have_bands_too() -> None:
    thin = line("sheet thickness", "factor", low="0.9", high="1.1", **{"up to": "1 mm"})
    assert answer_of("sheet thickness", mm("1.1", "1.1"), mm("1", "1"), thin).outcome == "inside"
    assert answer_of("sheet thickness", mm("1", "1.3"), mm("1", "1.2"), thin).outcome == "outside"  # no line for 1.2 mm
    assert answer_of("sheet thickness", mm("1.1", "1.2"), mm("1", "1.2"), thin).outcome == "inside"


def test_a_component_whose_band_has_no_sure_line_keeps_the_others_undecided() -> None:
    thin = line("thickness", "factor", low="0.7", high="2", **{"up to": "3 mm"})
    thick = line("thickness", "factor", "from memory", low="0.5", high="1.2", over="3 mm")
    assert answer_of("thickness", mm("2.1", "4"), mm("3", "4"), thin, thick).outcome == "inside"  # 4 mm is as tested
    assert answer_of("thickness", mm("2.1", "4.1"), mm("3", "4"), thin, thick).outcome == "cannot decide"
    assert (
        answer_of("thickness", mm("2.1", "4.1"), mm("3", "4"), thin).outcome == "outside"
    )  # no rule for the thick one
    free = line("thickness", "free", over="3 mm")
    open_ended = answer_of("thickness", mm("2.1", "40"), mm("3", "4"), thin, free)
    assert open_ended.outcome == "inside"
    assert isinstance(open_ended.covered, Ranges)
    assert open_ended.covered.each[1] == Range(None, None)


def test_sheets_between_those_of_a_test_are_not_those_of_the_test() -> None:
    rule = line("sheet thickness", "as tested", "strict")
    assert answer_of("sheet thickness", mm("1", "1"), mm("1", "2"), rule).outcome == "outside"


def test_a_bound_that_a_factor_may_not_fall_below() -> None:
    rule = line("thickness", "factor", low="0.5", high="1.3", **{"at least": "3 mm"})
    assert ends(answer_of("thickness", mm("3.5"), mm("3.1"), rule)) == ("3", "4.03")
    assert ends(answer_of("thickness", mm("7"), mm("12"), rule)) == ("6", "15.6")


@pytest.mark.parametrize(
    ("has", "outcome"), [("0.85", "inside"), ("0.86", "outside"), ("0.87", "inside"), ("1.36", "inside")]
)
def test_between_a_test_and_a_smallest_size_above_it_nothing_is_covered(has: str, outcome: str) -> None:
    rule = line("throat", "factor", low="0", high="1.6", **{"at least": "0.87 mm"})
    assert answer_of("throat", mm(has), mm("0.85"), rule).outcome == outcome


def test_the_combination_of_two_materials_counts_and_not_each_by_itself() -> None:
    rule = line("material group", "covers", covers={"1": ["1"], "2": ["1", "2"]})
    assert answer_of("material group", words("1", "2"), words("1", "2"), rule).reason == "as tested"
    assert answer_of("material group", words("1", "1"), words("1", "2"), rule).outcome == "inside"
    assert answer_of("material group", words("2", "2"), words("1", "2"), rule).outcome == "outside"
    assert answer_of("coating", words("none", "zinc"), words("none", "none"), line("coating", "as tested")).outcome == (
        "outside"
    )


def test_any_word_covers_what_the_line_says_and_a_word_of_its_own_goes_before() -> None:
    rule = line("position", "covers", covers={"PG": ["PG"], "any": ["PA", "PB"]})
    assert answer_of("position", words("PA"), words("PB"), rule).outcome == "inside"
    assert answer_of("position", words("PG"), words("PB"), rule).miss == Miss(term="PG")
    assert answer_of("position", words("PA"), words("PG"), rule).outcome == "outside"


def test_the_first_line_whose_conditions_hold_is_taken() -> None:
    thin = line("thickness", "factor", low="0.7", high="2", **{"up to": "3 mm"})
    thick = line("thickness", "factor", low="0.5", high="1.2", over="3 mm", **{"up to": "30 mm"})
    for size, found in (("3", thin), ("3.01", thick), ("30", thick), ("30.01", None)):
        assert line_of("thickness", (thin, thick), {"thickness": mm(size)}, case("thickness", mm("3"))) is found


def test_conditions_of_passes_weld_types_groups_and_required_tests() -> None:
    passes = line("throat", "free", passes="several")
    proved = {"passes": words("one"), "material subgroup": words("8.1", "1.1")}
    assert line_of("throat", (passes,), proved, case("throat", mm("3"))) is None
    butt = line("throat", "free", **{"weld types": ["butt"]})
    assert line_of("throat", (butt,), proved, case("throat", mm("3"))) is None
    assert line_of("throat", (butt,), proved, case("throat", mm("3"), weld_type="butt")) is butt
    stainless = line("throat", "free", groups=["8"])
    assert line_of("throat", (stainless,), proved, case("throat", mm("3"))) is stainless
    assert line_of("throat", (stainless,), {}, case("throat", mm("3"))) is None
    free, impact = line("throat", "free", required=["none"]), line("throat", "free", required=["impact"])
    assert line_of("throat", (impact, free), {}, case("throat", mm("3"))) is free
    assert line_of("throat", (free, impact), {}, case("throat", mm("3"), required=("impact",))) is impact
    both = case("throat", mm("3"), required=("impact", "hardness"))
    assert line_of("throat", (free, impact), {}, both) is None


SIZE = st.decimals("0.5", "40", places=2)
FACTORS = st.tuples(st.decimals("0", "1", places=2), st.decimals("1", "3", places=2))
CERTAINTY = st.sampled_from(("read", "plant", "from memory", "in dispute", "unread"))


@st.composite
def extents(draw: st.DrawFn) -> Extent:
    one, other = draw(SIZE), draw(SIZE)
    return Extent(min(one, other), max(one, other))


@given(extents(), extents(), extents(), FACTORS, st.one_of(st.none(), CERTAINTY))
def test_widening_an_order_never_brings_it_nearer_to_inside(
    narrow: Extent, more: Extent, was: Extent, factors: tuple[Decimal, Decimal], certainty: str | None
) -> None:
    low, high = (str(factor) for factor in factors)
    lines = () if certainty is None else (line("current", "factor", certainty, low=low, high=high),)
    wide = Extent(narrow.low - more.low, narrow.high + more.high)
    one, other = (answer_of("current", has, was, *lines) for has in (narrow, wide))
    assert RANKS[one.outcome] <= RANKS[other.outcome]


@given(st.lists(SIZE, min_size=2, max_size=2), SIZE, st.lists(SIZE, min_size=2, max_size=2), FACTORS, CERTAINTY)
def test_sizes_that_move_away_from_what_is_covered_never_come_inside(
    has: list[Decimal], more: Decimal, was: list[Decimal], factors: tuple[Decimal, Decimal], certainty: str
) -> None:
    rule = line("thickness", "factor", certainty, low=str(factors[0]), high=str(factors[1]))
    proved = Sizes(tuple(sorted(was)))
    one = answer_of("thickness", Sizes(tuple(sorted(has))), proved, rule)
    thicker = answer_of("thickness", Sizes(tuple(sorted(size + more for size in has))), proved, rule)
    if one.miss and not one.miss.below:
        assert thicker.outcome != "inside"
        assert RANKS[thicker.outcome] >= RANKS[one.outcome]


EVERY = st.sampled_from(("read", "plant", "strict", *UNSURE))
ENDS = st.one_of(st.none(), st.decimals("0", "60", places=2))
WORDS = st.lists(st.sampled_from("ABCD"), min_size=1, max_size=3)
COVERS = st.dictionaries(st.sampled_from(("A", "B", "C", "any")), WORDS, min_size=1)


@st.composite
def number_lines(draw: st.DrawFn, variable: Variable) -> tuple[Line, ...]:
    """Any line that a number may have: none, as tested, free, a factor or a difference with any end left open."""
    form = draw(st.sampled_from(("none", "as tested", "free", "factor", "difference")))
    if form == "none":
        return draw(st.sampled_from(((), (line("cap", "as tested"),))))
    more: dict[str, str] = {}
    if form == "factor":
        low, high = draw(FACTORS)
        more = {"low": str(low), "high": str(high)}
        if draw(st.booleans()):
            more["at least"] = f"{draw(SIZE)} mm"
    elif form == "difference":
        ends = {"down": draw(ENDS), "up": draw(ENDS)}
        more = {key: str(end) for key, end in ends.items() if end is not None}
    return (line(variable, form, draw(EVERY), **more),)


@st.composite
def word_lines(draw: st.DrawFn, variable: Variable) -> tuple[Line, ...]:
    """Any line that a word may have."""
    form = draw(st.sampled_from(("none", "as tested", "free", "covers")))
    if form == "none":
        return draw(st.sampled_from(((), (line("cap face", "free"),))))
    more = {"covers": draw(COVERS)} if form == "covers" else {}
    return (line(variable, form, draw(EVERY), **more),)


def never_nearer(variable: Variable, narrow: Value, wide: Value, was: Value, lines: tuple[Line, ...]) -> None:
    one, other = (answer_of(variable, has, was, *lines) for has in (narrow, wide))
    assert RANKS[one.outcome] <= RANKS[other.outcome], (one, other)


@given(extents(), extents(), extents(), number_lines("current"))
def test_a_wider_range_is_never_nearer_to_inside_by_any_line(
    narrow: Extent, more: Extent, was: Extent, lines: tuple[Line, ...]
) -> None:
    never_nearer("current", narrow, Extent(narrow.low - more.low, narrow.high + more.high), was, lines)


@given(SIZE, SIZE, SIZE, number_lines("throat"))
def test_a_size_further_from_the_test_on_its_side_is_never_nearer_to_inside_by_any_line(
    was: Decimal, near: Decimal, more: Decimal, lines: tuple[Line, ...]
) -> None:
    if any(each.rule.at_least is not None and magnitude(each.rule.at_least, "mm") > was for each in lines):
        return  # what lies between the test and the smallest size of such a rule is outside, and what is beyond inside
    far = near + more if near >= was else max(near - more, Decimal(0))
    never_nearer("throat", Sizes((near,)), Sizes((far,)), Sizes((was,)), lines)


@given(st.lists(SIZE, min_size=2, max_size=3), SIZE, st.lists(SIZE, min_size=2, max_size=3), number_lines("thickness"))
def test_one_more_component_is_never_nearer_to_inside_by_any_line(
    has: list[Decimal], more: Decimal, was: list[Decimal], lines: tuple[Line, ...]
) -> None:
    if len(has) < len(was):  # with fewer components than the test each has to lie in every range
        return
    narrow, wide = (Sizes(tuple(sorted(sizes))) for sizes in (has, [*has, more]))
    never_nearer("thickness", narrow, wide, Sizes(tuple(sorted(was))), lines)


@given(WORDS, st.sampled_from("ABCD"), WORDS, word_lines("position"))
def test_one_more_word_is_never_nearer_to_inside_by_any_line(
    has: list[str], more: str, was: list[str], lines: tuple[Line, ...]
) -> None:
    never_nearer("position", words(*has), words(*has, more), words(*was), lines)


@given(WORDS, st.sampled_from("ABCD"), WORDS, word_lines("material group"))
def test_one_more_material_is_never_nearer_to_inside_by_any_line(
    has: list[str], more: str, was: list[str], lines: tuple[Line, ...]
) -> None:
    if len(has) < len(was):  # the combination of the test is a whole: fewer components are another one
        return
    never_nearer("material group", words(*has), words(*has, more), words(*was), lines)


def test_more_components_than_the_test_had_are_not_covered_though_each_would_be() -> None:
    rule = line("material group", "covers", covers={"1": ["1"], "2": ["1", "2"]})
    assert answer_of("material group", words("1", "2", "2"), words("1", "2"), rule).miss == Miss(term="1 + 2 + 2")
    assert answer_of("material group", words("1", "1"), words("1", "1", "2"), rule).outcome == "inside"
    assert answer_of("material group", words("2", "2"), words("1", "1", "2"), rule).outcome == "outside"


def test_an_order_that_requires_a_test_is_not_proved_by_a_record_without_it() -> None:
    (has,) = together([("W1", "fillet", {"throat": mm("5")})], ("impact", "hardness"))
    (plain,) = together([("W1", "fillet", {"throat": mm("5")})], ())
    assert "required tests" not in plain.has
    flags = ({}, {"hardness tested": "yes"}, {"hardness tested": "yes", "impact tested": "yes"})
    for tested, outcome in zip(flags, ("outside", "outside", "inside"), strict=True):
        found = judged("required tests", has, proved_by(record(**tested), Groups(())), (THROAT,))
        assert found.outcome == outcome
    lacks = judged("required tests", has, proved_by(record(**flags[1]), Groups(())), (THROAT,))
    assert lacks.miss == Miss(term="impact")


@given(SIZE, SIZE, FACTORS, st.sampled_from(UNSURE))
def test_a_rule_that_is_not_sure_never_brings_a_change_inside(
    has: Decimal, was: Decimal, factors: tuple[Decimal, Decimal], certainty: str
) -> None:
    rule = line("throat", "factor", certainty, low=str(factors[0]), high=str(factors[1]))
    found = judged("throat", case("throat", Sizes((has,))), {"throat": Sizes((was,))}, (rule,))
    assert (found.outcome == "inside") == (has == was)


def test_a_record_says_what_it_states_and_nothing_else() -> None:
    found = proved_by(record(throat="5 mm", **{"current from": "200 A", "current to": "220 A"}), Groups(()))
    assert found["throat"] == mm("5")
    assert found["current"] == between("200", "220")
    assert found["material subgroup"] == words("1.2", "1.2")
    assert "voltage" not in found
    assert "position" not in found


PLATES, SLEEVE = words("plate", "plate"), words("plate", "tube")
OVER = line("product", "covers", covers={"plate": ["plate", "tube"]}, **{"outside diameter over": "150 mm"})
IN_PA = line("product", "covers", covers={"plate": ["plate", "tube"]}, positions=["PA", "PC"])


@pytest.mark.parametrize(
    ("rule", "diameter", "position", "outcome"),
    [
        (OVER, "150.1", "PB", "inside"), (OVER, "150", "PB", "outside"),
        (IN_PA, "20", "PA", "inside"), (IN_PA, "20", "PB", "outside"),
    ],
)  # fmt: skip
def test_a_plate_covers_a_tube_over_a_diameter_and_in_positions_that_a_line_names(
    rule: Line, diameter: str, position: str, outcome: str
) -> None:
    of = Case(("W",), "fillet", {"product": SLEEVE, "outside diameter": mm(diameter), "position": words(position)})
    assert judged("product", of, {"product": PLATES}, (rule, line("product", "as tested"))).outcome == outcome
    silent = Case(("W",), "fillet", {"product": SLEEVE})
    assert judged("product", silent, {"product": PLATES}, (rule, line("product", "as tested"))).outcome == "outside"


def test_the_bands_of_an_outside_diameter_are_of_diameters_and_each_tube_has_its_own() -> None:
    small = line("outside diameter", "factor", low="0.5", high="2", **{"up to": "25 mm"})
    large = line("outside diameter", "factor", low="0.5", **{"over": "25 mm", "at least": "25 mm", "id": "large"})
    for was, has, outcome in (
        (("25",), ("50",), "inside"), (("25",), ("50.1",), "outside"), (("25.1",), ("900",), "inside"),
        (("25.1",), ("24.9",), "outside"), (("25", "60"), ("50", "900"), "inside"),
        (("25", "60"), ("51", "900"), "outside"), (("25", "60"), ("50", "29"), "inside"),
    ):  # fmt: skip
        found = answer_of("outside diameter", mm(*has), mm(*was), small, large)
        assert found.outcome == outcome, (was, has)


def test_a_line_for_one_edition_is_for_no_other() -> None:
    rule = line("preheat", "difference", down="50")
    table = rule.table.model_copy(
        update={
            "editions": ("1", "2"),
            "entries": (rule.rule.model_copy(update={"editions": ("2",)}),),
        }
    )
    assert lines_for(record(edition="2"), (table,)) == (Line(table.entries[0], table),)
    assert lines_for(record(edition="1"), (table,)) == ()


def test_plates_are_not_compared_by_a_diameter_and_what_states_no_product_is() -> None:
    of = Case(("W",), "fillet", {"product": SLEEVE, "outside diameter": mm("30")})
    assert compared(of, {"product": PLATES}, ()) == ("product",)
    assert compared(of, {"product": SLEEVE}, ()) == ("product", "outside diameter")
    assert compared(of, {}, ()) == ("product", "outside diameter")


def test_materials_are_compared_by_name_where_one_of_the_lines_names_them_and_by_group_where_none_does() -> None:
    welded, tested = Terms(("S355J2", "S355J2")), Terms(("S235JR", "S235JR"))
    of = case("material", welded)
    of = Case(of.welds, of.weld_type, {**of.has, "material group": Terms(("1.2", "1.2"))})
    named, other = line("material", "as tested"), line("thickness", "as tested")
    assert compared(of, {"material": tested}, (named, other)) == ("material",)
    assert compared(of, {"material": tested}, (other,)) == ("material group",)
    assert compared(of, {"material": welded}, (other,)) == ("material",)


def test_a_record_states_the_diameters_of_its_tubes_alone() -> None:
    plate = {"material": "S355J2", "thickness": "8 mm", "product": "plate"}
    tube = {**plate, "product": "tube", "outside diameter": "60 mm"}
    groups = Groups([])
    found = proved_by(record(sheets=[plate, tube]), groups)
    assert (found["product"], found["outside diameter"]) == (SLEEVE, mm("60"))
    assert proved_by(record(sheets=[plate, plate]), groups).keys() & {"product", "outside diameter"} == {"product"}
    unsaid = {key: value for key, value in plate.items() if key != "product"}
    assert not proved_by(record(sheets=[unsaid, tube]), groups).keys() & {"product"}
    assert "outside diameter" not in proved_by(record(sheets=[plate, {**plate, "product": "tube"}]), groups)
