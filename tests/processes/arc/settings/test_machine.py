"""What the power source and the wire stand."""

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.calculation.countermeasures import KEEP_CURRENT, POLARITY
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc.melting import conventional_load_voltage
from weld_packets.processes.arc.settings.machine import duty, load_voltage, polarity, wire_current
from weld_packets.units import magnitude, quantity


def amperes(value: float) -> Any:
    return quantity(value, "A")


@pytest.mark.parametrize(("current", "share"), [(100, 100), (250, 100), (280, 62.5), (350, 40)])
def test_the_rating_point_next_above_decides_the_duty(bench: Any, current: float, share: float) -> None:
    figure, verdict = duty(bench.source(), amperes(current), bench.plant(**{"duty planning share": "40 %"}))
    assert figure.value is not None
    assert magnitude(figure.value, "%") == pytest.approx(share)
    assert verdict.passed is True


@pytest.mark.parametrize(
    ("current", "shown"),
    [(250.5, "79"), (251, "79"), (223.7, "99"), (223.6, "100")],  # 79.68, 79.37, 99.91, 100.004 %
)
def test_a_permissible_duty_is_never_rounded_up(bench: Any, current: float, shown: str) -> None:
    plate = [{"share": "40 %", "current": "353.6 A"}]
    source = bench.source(duty=plate, **{"current to": "353.6 A"})
    figure, verdict = duty(source, amperes(current), bench.plant(**{"duty planning share": "40 %"}))
    assert str(figure.text) == shown
    assert str(verdict.said).startswith(f"{shown}\N{NO-BREAK SPACE}% allowed at")


@pytest.mark.parametrize(("planned", "refused"), [("48.9 %", False), ("49 %", False), ("49.1 %", True)])
def test_a_share_is_planned_up_to_what_the_source_is_rated_for(bench: Any, planned: str, *, refused: bool) -> None:
    """25 % at 140 A are 25 x (140 / 100)^2 = 49 % at 100 A, which a float makes a little less."""
    source, plan = bench.source(duty=[{"share": "25 %", "current": "140 A"}]), {"duty planning share": planned}
    if refused:
        with pytest.raises(OutOfRangeError, match=r"for 49\.0.% of ten minutes, 49\.1"):
            duty(source, amperes(100), bench.plant(**plan))
    else:
        assert duty(source, amperes(100), bench.plant(**plan))[1].passed is True


@pytest.mark.parametrize(("current", "share"), [(250, 100), (250 * (1 + 1e-12), 100), (250.001, 78.4)])
def test_a_current_that_only_float_noise_lifts_above_a_rating_is_at_that_rating(
    bench: Any, current: float, share: float
) -> None:
    figure, _ = duty(bench.source(), amperes(current), bench.plant(**{"duty planning share": "40 %"}))
    assert magnitude(figure.value, "%") == pytest.approx(share, abs=0.01)


@pytest.mark.parametrize("shares", [("60 %", "100 %"), ("100 %", "60 %")])
def test_of_two_ratings_at_one_current_the_larger_share_counts(bench: Any, shares: tuple[str, str]) -> None:
    plate = [{"current": "350 A", "share": share} for share in shares]
    figure, _ = duty(bench.source(duty=plate), amperes(300), bench.plant(**{"duty planning share": "40 %"}))
    assert magnitude(figure.value, "%") == pytest.approx(100)


def test_more_share_planned_than_the_source_is_rated_for_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match="of ten minutes"):
        duty(bench.source(), amperes(350), bench.plant(**{"duty planning share": "60 %"}))


def test_a_current_above_the_rating_plate_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match="is rated to 350"):
        duty(bench.source(**{"current to": "400 A"}), amperes(351), bench.plant())


# the plate: 350 A at 40 %, 250 A at 100 %


@pytest.mark.parametrize(
    ("highest", "share", "passed"),
    [
        (280, 62.5, True),
        (285.77, 60.0, True),
        (285.78, 60.0, None),
        (350, 40, None),
        (240, 66.3, True),
        (271.8, 66.3, True),
    ],
)
def test_the_duty_is_that_of_the_upper_end_of_the_allowed_range(
    bench: Any, highest: float, share: float, *, passed: bool | None
) -> None:
    """40 · (350 / 285.77)² = 60 %; an end below the set 271.8 A counts as none."""
    figure, verdict = duty(bench.source(), amperes(271.8), bench.plant(), amperes(highest))
    assert magnitude(figure.value, "%") == pytest.approx(share, abs=0.06)
    assert verdict.passed is passed
    assert ("the upper end of its allowed range" in verdict.text) is (highest > 271.8)


def test_where_the_upper_end_is_too_much_the_warning_says_up_to_which_current_it_is_not(bench: Any) -> None:
    """40 · (350 / 285)² = 60.3 %, and at 286 A 59.9 %."""
    _, verdict = duty(bench.source(), amperes(271), bench.plant(), amperes(300))
    plain = verdict.text.replace("\N{NO-BREAK SPACE}", " ")
    assert plain == (
        "rated for 54 % of ten minutes at 300 A, the upper end of its allowed range, 60 % planned; enough up to 285 A"
    )
    assert (verdict.passed, verdict.warns, verdict.countermeasure) == (None, True, KEEP_CURRENT)


def test_an_upper_end_above_the_rating_plate_warns_and_keeps_the_duty_of_the_set_current(bench: Any) -> None:
    figure, verdict = duty(bench.source(), amperes(250), bench.plant(), amperes(351))
    assert magnitude(figure.value, "%") == pytest.approx(100)
    assert verdict.text.startswith("rated not at all at 351")
    assert verdict.text.endswith("enough up to 285\N{NO-BREAK SPACE}A")


def test_what_a_warning_allows_is_never_less_than_what_is_set(bench: Any) -> None:
    _, verdict = duty(bench.source(), amperes(285.7), bench.plant(), amperes(351))
    assert verdict.text.endswith("enough up to 286\N{NO-BREAK SPACE}A")  # 285.7 A, as a display shows it


@pytest.mark.parametrize("current", [29, 351])
def test_a_current_outside_the_sources_range_is_refused(bench: Any, current: float) -> None:
    with pytest.raises(OutOfRangeError, match="gives 30"):
        duty(bench.source(), amperes(current), bench.plant())


@pytest.mark.parametrize(("current", "passed"), [(60, True), (250, True), (59, None), (251, None)])
def test_a_current_outside_the_wires_range_warns_and_never_blocks(
    bench: Any, current: float, *, passed: bool | None
) -> None:
    assert wire_current(bench.group(bench.operation(), bench.approved()), amperes(current)).passed is passed


@pytest.mark.parametrize(
    ("voltage", "warned"), [(21.5, False), (26.5, False), (26.6, True), (16.5, False), (16.4, True)]
)
def test_a_voltage_far_from_the_test_load_warns(bench: Any, voltage: float, *, warned: bool) -> None:
    figure = load_voltage(conventional_load_voltage, amperes(150), quantity(voltage, "V"))
    assert bool(bench.warnings(figure)) is warned


@pytest.mark.parametrize(
    ("process", "stated", "warns"),
    [
        ("135", "DC+", False),
        ("135", "DC-", True),
        ("135", "AC", True),
        ("131", "DC-", True),
        ("136", "DC-", False),  # flux-cored wires have polarities of their own
        ("138", "DC-", False),
        ("135", None, False),
    ],
)
def test_solid_wire_on_another_pole_than_the_positive_one_warns(
    bench: Any, process: str, stated: str | None, *, warns: bool
) -> None:
    group = bench.group(bench.operation(), bench.approved())
    wired = replace(group, filler=group.wire.model_copy(update={"polarity": stated}), process=process)
    assert [verdict.countermeasure for verdict in polarity(wired)] == [POLARITY] * warns
