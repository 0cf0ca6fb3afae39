"""Current and weld time tied by I²t: bounds from the chart's row, ranges of one at the other, aims inside both."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.spot.operation import spot_operation
from weld_packets.units import SPELLINGS, exact


def welded(build: Any, operation: dict[str, str] | None = None, gun: dict[str, str] | None = None) -> WeldSettings:
    chart = build.chart(row=operation or {})
    guns = {"G1": build.gun(**(gun or {})), "G2": build.gun(id="G2", **(gun or {}))}
    first: WeldSettings = spot_operation(
        build.operation(), build.approved(spot_charts={"plain-bands": chart}, guns=guns)
    ).settings[0]
    return first


def span(figure: Figure) -> tuple[Decimal, Decimal]:
    assert figure.allowed_range is not None
    assert figure.allowed_range.low is not None
    assert figure.allowed_range.high is not None
    return exact(figure.allowed_range.low, figure.unit), exact(figure.allowed_range.high, figure.unit)


def heat(amperes: Decimal, milliseconds: Decimal) -> float:
    return float(amperes) ** 2 * float(milliseconds) / 1000


def test_i2t_runs_from_the_weakest_to_the_strongest_pairing_with_one_of_the_two_at_its_middle(build: Any) -> None:
    """8 to 10 kA and 10 to 14 cycles: 8² · 0.24 = 15.36 is below 9² · 0.2; 10² · 0.24 = 24 is above 9² · 0.28."""
    found = welded(build)
    figure = found.figure("joule_integral")
    assert str(figure.text) == "19.4"  # 9² · 0.24 = 19.44
    assert [float(end) for end in span(figure)] == pytest.approx([15.36, 24.0])


def test_where_the_range_of_time_is_the_wider_one_it_gives_the_bounds(build: Any) -> None:
    """8.9 to 9.1 kA and 10 to 14 cycles: 9² · 0.2 = 16.2 and 9² · 0.28 = 22.68."""
    found = welded(build, {"current from": "8.9 kA", "current to": "9.1 kA"})
    assert [float(end) for end in span(found.figure("joule_integral"))] == pytest.approx([16.2, 22.68])


def test_the_cold_and_the_expelling_corner_are_not_allowed(build: Any) -> None:
    together = welded(build).together
    assert together is not None
    assert (together.times, together.currents) == ((10, 14), (8, 10))
    found = [(str(each.time), str(each.low), str(each.high)) for each in together.at]
    # at 200 ms √(15.36 / 0.2) = 8.76 kA, at 280 ms √(24 / 0.28) = 9.26 kA
    assert found == [("10", "8.8", "10.0"), ("12", "8.0", "10.0"), ("14", "8.0", "9.2")]


def test_what_is_known_of_the_bounds_is_said(build: Any) -> None:
    together = welded(build).together
    assert together is not None
    assert together.basis.startswith("the chart's weakest and strongest pairing")
    assert "prints no weldability lobe" in together.standing


def test_the_range_of_the_current_is_that_at_the_set_weld_time(build: Any) -> None:
    """A step of 50 ms sets 250 ms, where √(24 / 0.25) = 9.80 kA; a control of the mains' cycles sets 240 ms."""
    current = welded(build, gun={"time step": "50 ms"}).figure("weld_current")
    assert span(current) == (8, Decimal("9.7"))
    assert current.allowed_range is not None
    assert current.allowed_range.origin.endswith("upper end: I²t at this weld time")
    assert span(welded(build).figure("weld_current")) == (8, 10)


def test_the_range_of_the_weld_time_is_that_at_the_set_current(build: Any) -> None:
    """9 to 15 cycles, steps of 0.7 kA: at 9.1 kA 9² · 0.3 / 9.1² = 293 ms is the longest, 9² · 0.18 / 9.1² = 176 ms."""
    operation = {"weld time from": "9 cycles@50Hz", "weld time to": "15 cycles@50Hz"}
    found = welded(build, operation, {"current step": "0.7 kA"})
    assert found.figure("weld_current").text == Decimal("9.1")
    time = found.figure("weld_time")
    assert span(time) == (9, 14)
    assert time.allowed_range is not None
    assert time.allowed_range.origin.endswith("upper end: I²t at this current")


def test_every_pulse_counts_into_i2t_and_the_currents_stay(build: Any) -> None:
    more = {"maximum duty": "60 %", "permanent current": "12 kA"}
    found = welded(build, {"pulses": "3", "cool": "2 cycles@50Hz"}, more)
    assert str(found.figure("joule_integral").text) == "58.3"  # three times 19.44
    assert found.together is not None
    assert [str(each.low) for each in found.together.at] == ["8.8", "8.0", "8.0"]


def test_the_trace_of_i2t_holds_both_bounds_before_the_value(build: Any) -> None:
    symbols = [step.formula.symbol for step in welded(build).figure("joule_integral").trace]  # type: ignore[union-attr]
    assert symbols == ["J_min", "J_max", "J"]


Ends = tuple[str, str]


def _range(low: int, high: int, unit: str, share: int, *, whole: bool = False) -> st.SearchStrategy[Ends]:
    """Return ranges that begin at ``low`` to ``high`` tenths, and are up to 40 tenths over ``share`` wide."""

    def ends(pair: tuple[int, int]) -> Ends:
        first = Decimal(pair[0]) / 10
        last = first + Decimal(pair[1]) / 10 / share
        return (f"{int(first)} {unit}", f"{int(last)} {unit}") if whole else (f"{first} {unit}", f"{last} {unit}")

    return st.tuples(st.integers(low, high), st.integers(0, 120 if whole else 40)).map(ends)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=120)
@given(
    force=_range(15, 25, "kN", 4),
    time=_range(80, 200, "cycles@50Hz", 1, whole=True),
    current=_range(60, 90, "kA", 1),
    gun=st.fixed_dictionaries(
        {
            "force step": st.sampled_from(["0.01 kN", "0.05 kN", "0.1 kN", "10 lbf"]),
            "current step": st.sampled_from(["0.05 kA", "0.1 kA", "0.25 kA", "100 A"]),
            "time step": st.sampled_from(["1 ms", "10 ms", "20 ms", "1 cycles@50Hz"]),
            "force repeatability": st.sampled_from([None, "3 %", "8 %"]),
        }
    ),
)
def test_every_setting_lies_inside_its_range_and_never_at_its_end(
    build: Any, force: Ends, time: Ends, current: Ends, gun: dict[str, str | None]
) -> None:
    columns = {"force": force, "weld time": time, "current": current}
    operation = {
        f"{name} {side}": end for name, ends in columns.items() for side, end in zip(("from", "to"), ends, strict=True)
    }
    generous = {"permanent current": "14 kA", "maximum duty": "90 %", "force to": "9 kN"}
    chart = build.chart(row=operation)
    guns = {mark: build.gun(id=mark, **gun, **generous) for mark in ("G1", "G2")}
    caps = {"cap-6": build.cap(**{"maximum force": "9 kN"})}
    try:
        found = spot_operation(
            build.operation(), build.approved(spot_charts={"plain-bands": chart}, guns=guns, caps=caps)
        )
    except OutOfRangeError as error:
        assert {"use a machine with finer steps"} == {each.remedy.partition(",")[0] for each in error.problems}  # noqa: PT017
        return
    group = found.settings[0]
    for key in ("electrode_force", "weld_current", "weld_time"):
        _inside(group.figure(key))
    assert group.together is not None
    low, high = (float(end.m_as(SPELLINGS["kA²·s"])) for end in (group.together.minimum, group.together.maximum))
    values = [group.figure(key).value for key in ("weld_current", "weld_time")]
    assert values[0] is not None
    assert values[1] is not None
    set_heat = heat(exact(values[0], "kA"), exact(values[1], "ms"))
    assert low * (1 - 1e-9) <= set_heat <= high * (1 + 1e-9)


def _inside(figure: Figure) -> None:
    """Check a setting against the steps of its range as printed, by the rule and not by the code."""
    low, high = span(figure)
    assert figure.text is not None
    assert figure.step is not None
    room = min(figure.text - low, high - figure.text) / figure.step
    width = (high - low) / figure.step
    assert room >= 2 if width >= 4 else room >= (1 if width >= 2 else 0)


def test_a_weld_time_at_which_one_current_alone_is_allowed_is_listed(build: Any) -> None:
    """8.1 to 10 kA in steps of 0.9 kA, 8 to 16 cycles: 9.05² · 0.16 = 13.1 kA²·s, at 160 ms 9.05 kA and more."""
    row = {"current from": "8.1 kA", "weld time from": "8 cycles@50Hz", "weld time to": "16 cycles@50Hz"}
    together = welded(build, row, {"current step": "0.9 kA"}).together
    assert together is not None
    found = [(str(each.time), str(each.low), str(each.high)) for each in together.at]
    assert found[0] == ("8", "9.9", "9.9")


# ---------------------------------------------------------------- how hard the gun works at the ends of the ranges


def _warned(build: Any, **gun: str) -> dict[str, str]:
    found = welded(build, {"weld time from": "9 cycles@50Hz", "weld time to": "15 cycles@50Hz"}, gun)
    return {verdict.key: verdict.text.replace("\N{NO-BREAK SPACE}", " ") for verdict in found.verdicts if verdict.warns}


def test_duty_is_held_to_the_gun_at_the_longest_weld_time_too(build: Any) -> None:
    """12 cycles are 240 of 1700 ms, 14.12 %; 15 cycles 300 of 1760 ms, 17.05 %."""
    assert _warned(build, **{"maximum duty": "17.1 %"}) == {}
    assert _warned(build, **{"maximum duty": "17 %"}) == {
        "duty_cycle": "14.2 %, at most 17 %; 17.05 % where current and weld time are raised as far as their "
        "allowed ranges go"
    }


def test_heating_is_held_to_the_gun_where_the_largest_current_flows_for_the_longest_time(build: Any) -> None:
    """J is 24.3 at most: 10 kA for 243 ms, of 1703 ms. 10 · √(243 / 1703) = 3.777 kA; at 9 kA for 300 ms 3.716 kA."""
    assert _warned(build, **{"permanent current": "3.78 kA"}) == {}
    assert _warned(build, **{"permanent current": "3.77 kA"}) == {
        "equivalent_permanent_current": "3.39 kA, at most 3.77 kA; 3.78 kA where current and weld time are "
        "raised as far as their allowed ranges go"
    }
