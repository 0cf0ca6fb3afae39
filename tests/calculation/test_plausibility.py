import pytest
from pydantic import ValidationError
from weld_packets.calculation.plausibility import check_plausible, limit_problems
from weld_packets.calculation.sentences import sentence
from weld_packets.errors import OutOfRangeError
from weld_packets.model.processes import bounded_kinds
from weld_packets.model.tables.charts import Limit, Limits
from weld_packets.units import Quantity, quantity

PLAIN = {
    "quantity": "weld_current",
    "processes": ["21"],
    "bases": ["low-carbon steel"],
    "coatings": ["none"],
    "lowest": "3 kA",
    "highest": "20 kA",
    "source": "source one",
}
ZINC = PLAIN | {"coatings": ["hot-dip zinc"], "lowest": "6 kA", "highest": "30 kA", "source": "source two"}
LIMITS = (Limit.model_validate(PLAIN), Limit.model_validate(ZINC))


def refused(key: str, value: Quantity, process: str, limits: tuple[Limit, ...], coatings: tuple[str, ...]) -> str:
    with pytest.raises(OutOfRangeError) as caught:
        check_plausible(key, value, process, "low-carbon steel", coatings, limits)
    return caught.value.problems[0].message.replace("\N{NO-BREAK SPACE}", " ")


def test_a_spot_current_of_200_a_is_refused_with_the_bound_and_its_source() -> None:
    message = refused("weld_current", quantity(200, "A"), "21", LIMITS, ("none",))
    assert message.startswith("weld current 200 A is not plausible for resistance spot welding of low-carbon steel: ")
    assert message.endswith(": 3 kA to 20 kA (source one)")


@pytest.mark.parametrize(
    ("key", "value", "lowest", "highest"),
    [
        ("welding_current", quantity(3, "kA"), "20 A", "500 A"),
        ("travel_speed", quantity(2, "m/s"), "3 mm/s", "50 mm/s"),
    ],
)
def test_an_arc_of_thousands_of_amperes_or_metres_a_second_is_refused(
    key: str, value: Quantity, lowest: str, highest: str
) -> None:
    entry = Limit.model_validate(PLAIN | {"quantity": key, "processes": ["135"], "lowest": lowest, "highest": highest})
    assert f"{lowest} to {highest} (source one)" in refused(key, value, "135", (entry,), ("none",))


@pytest.mark.parametrize(
    ("found", "printed"), [(1234.0, "1234 A"), (1234.5, "1200 A"), (2999.5, "2999.5 A"), (20000.5, "20000.5 A")]
)
def test_a_refused_value_is_printed_with_four_digits_and_more_only_beside_a_bound(found: float, printed: str) -> None:
    message = refused("weld_current", quantity(found, "A"), "21", LIMITS, ("none",))
    assert message.partition(" is not")[0] == f"weld current {printed}"


@pytest.mark.parametrize("at", [quantity(3, "kA"), quantity(20000, "A"), quantity(3000 * (1 - 1e-13), "A")])
def test_a_value_on_a_bound_is_plausible(at: Quantity) -> None:
    verdict = check_plausible("weld_current", at, "21", "low-carbon steel", ("none",), LIMITS)
    assert (verdict.passed, verdict.source) == (True, "source one")


def test_the_verdict_shows_the_value_also_in_the_unit_of_the_bounds() -> None:
    def verdict_text(value: Quantity) -> str:
        verdict = check_plausible("weld_current", value, "21", "low-carbon steel", ("none",), LIMITS)
        return verdict.text.replace("\N{NO-BREAK SPACE}", " ")

    assert verdict_text(quantity(8.4, "kA")) == "8.4 kA lies within 3 kA to 20 kA"
    assert verdict_text(quantity(8450, "A")) == "8450 A (8.45 kA) lies within 3 kA to 20 kA"


def test_a_limit_for_a_coating_holds_for_that_coating_only() -> None:
    value = quantity(25, "kA")
    assert check_plausible("weld_current", value, "21", "low-carbon steel", ("hot-dip zinc",), LIMITS).passed is True
    assert "source two" not in refused("weld_current", value, "21", LIMITS, ("none",))


def test_of_several_fitting_limits_one_that_admits_the_value_is_enough_and_all_are_named_if_none_does() -> None:
    coatings = ("none", "hot-dip zinc")
    verdict = check_plausible("weld_current", quantity(25, "kA"), "21", "low-carbon steel", coatings, LIMITS)
    assert verdict.source == "source two"
    message = refused("weld_current", quantity(40, "kA"), "21", LIMITS, coatings)
    assert message.endswith("3 kA to 20 kA (source one); 6 kA to 30 kA (source two)")


def test_a_limit_without_coatings_holds_for_all() -> None:
    entry = Limit.model_validate(PLAIN | {"coatings": []})
    verdict = check_plausible("weld_current", quantity(9, "kA"), "21", "low-carbon steel", ("iron-zinc",), (entry,))
    assert verdict.passed is True


@pytest.mark.parametrize(
    ("key", "process", "base"),
    [
        ("weld_time", "21", "low-carbon steel"),
        ("weld_current", "135", "low-carbon steel"),
        ("weld_current", "21", "brass"),
    ],
)
def test_what_no_limit_bounds_is_stated_as_not_checked(key: str, process: str, base: str) -> None:
    verdict = check_plausible(key, quantity(9, "kA"), process, base, ("none",), LIMITS)
    assert verdict.passed is None
    assert verdict.text.startswith("no limit for ")


def table(*entries: dict[str, object]) -> Limits:
    head = {"table": "limits", "kind": "limits", "title": "t", "source": "s", "revision": "1", "entries": entries}
    return Limits.model_validate(head)


def test_a_bound_that_cannot_be_read_is_stated_at_loading() -> None:
    found = limit_problems(table(PLAIN, PLAIN | {"lowest": "3 kg"}, PLAIN | {"highest": "2 kA"}))
    assert [problem.key for problem in found] == ["entries[1].lowest", "entries[2].highest"]


@pytest.mark.parametrize("quantity", ["none", "die_force"])
def test_what_no_family_sets_has_no_bounds(quantity: str) -> None:
    with pytest.raises(ValidationError, match=r"'weld_current', .*'heat_input', 'thickness'"):
        Limit.model_validate(PLAIN | {"quantity": quantity})


def test_every_quantity_of_the_limits_table_has_a_kind_that_reads_it() -> None:
    known = {"weld_current", "travel_speed", "heat_input", "thickness", "contact_distance", "gas_flow"}
    assert known < set(bounded_kinds())
    assert limit_problems(table(PLAIN | {"quantity": "thickness", "lowest": "0.1 mm", "highest": "0.2 in"})) == ()


SPEED = Limit.model_validate(
    PLAIN | {"quantity": "travel_speed", "processes": ["135"], "lowest": "3 mm/s", "highest": "50 mm/s"}
)


def test_a_bound_is_said_in_us_units_first_where_these_come_first() -> None:
    def read(value: Quantity) -> str:
        verdict = check_plausible("travel_speed", value, "135", "low-carbon steel", ("none",), (SPEED,))
        return sentence(verdict.said, "US customary").replace("\N{NO-BREAK SPACE}", " ")

    assert read(quantity(21.4, "in/min")) == "21.4 in/min (9.06 mm/s) lies within 7.09 to 118 in/min (3 to 50 mm/s)"
    assert read(quantity(9, "mm/s")) == "21 in/min (9 mm/s) lies within 7.09 to 118 in/min (3 to 50 mm/s)"


def test_a_refusal_says_value_and_bounds_in_us_units_first_where_these_come_first() -> None:
    with pytest.raises(OutOfRangeError) as caught:
        check_plausible("travel_speed", quantity(60, "mm/s"), "135", "low-carbon steel", ("none",), (SPEED,))
    (problem,) = caught.value.problems
    message = problem.shown_first("US customary").message.replace("\N{NO-BREAK SPACE}", " ")
    assert message.startswith("travel speed 140 in/min (60 mm/s) is not plausible for ")
    assert message.endswith(": 7.09 to 118 in/min (3 to 50 mm/s) (source one)")
