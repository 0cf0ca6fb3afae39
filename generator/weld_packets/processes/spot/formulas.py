"""Formulas of resistance spot welding, each with its printed form and its source."""

from __future__ import annotations

from weld_packets.calculation.formula import (
    SUMMED,
    Duration,
    Force,
    JouleIntegral,
    Length,
    Number,
    Rate,
    Share,
    Source,
    SpotCurrent,
    Standing,
    Stress,
    Time,
    formula,
)

_THINNER = Source("AWS D8.1M:2013", "governing metal thickness; likewise BS 1140:1993")
_MEDIAN = Source("AWS D8.1M:2013", "governing metal thickness of three sheets; BS 1140:1993 calls it second thinnest")
_OUTSIDE = Source("RWMA-type table, notes", "thickness of the thinnest outside sheet")
_ROOT = Source("BS 1140:1993", "weld diameter as a multiple of the root of the sheet thickness")
_THREE = Source("RWMA-type table, notes", "three sheets need more pitch")
_MIDDLE = Source("a spot in the middle of the minimum overlap", standing=Standing.COMMON_PRACTICE)
_SUM = Source("sum of the times of one spot", standing=Standing.GEOMETRY)
_FACE = Source("force over the area of the face", standing=Standing.GEOMETRY)
_DUTY = Source("NEC 630.31", "note on duty cycle: current-on time over all time, taken over one minute")
_HEAT = Source("heat of a current in a resistance, I² t", standing=Standing.GEOMETRY)
_PAIRING = Source(
    "range of current and range of weld time of the chart's row, each end with the other at its middle",
    "own reading of the chart; it prints no weldability lobe",
    Standing.COMMON_PRACTICE,
)
_EN_1993 = Source("EN 1993-1-3", "8.4, diameter of a resistance weld", Standing.FROM_MEMORY)
_SHARE_OF_SHEET = Source("share of the thickness of the sheet", standing=Standing.GEOMETRY)
_GROWN = Source("share of the chart's cap face", "the table that states the share cites its own source")
_HEATING = Source(
    "NEC 630.11(A)", "arc welders: multipliers follow the square root of the duty; 630.31 likewise, from memory"
)


_AS_STATED = "a sheet of the order is returned as the order states it, in its own unit"


@formula(
    "min(t_1, t_2)",
    symbol="t",
    source=_THINNER,
    body=_AS_STATED,
    t_1="first_sheet",
    t_2="second_sheet",
)
def thinner_sheet(*, first_sheet: Length, second_sheet: Length) -> Length:
    """Return the governing thickness of two sheets."""
    return min(first_sheet, second_sheet)


@formula(
    "min(t_1, t_3)",
    symbol="t",
    source=_OUTSIDE,
    body=_AS_STATED,
    t_1="first_sheet",
    t_3="last_sheet",
)
def thinnest_outside_sheet(*, first_sheet: Length, last_sheet: Length) -> Length:
    """Return the thickness of the thinner of the two sheets that touch a cap."""
    return min(first_sheet, last_sheet)


@formula(
    "max(min(t_1, t_2), min(max(t_1, t_2), t_3))",
    symbol="t",
    source=_MEDIAN,
    body=_AS_STATED,
    t_1="first_sheet",
    t_2="middle_sheet",
    t_3="last_sheet",
)
def second_thickest_sheet(*, first_sheet: Length, middle_sheet: Length, last_sheet: Length) -> Length:
    """Return the governing thickness of three sheets: neither the thickest nor the thinnest."""
    return sorted((first_sheet, middle_sheet, last_sheet))[1]


@formula(
    "f * sqrt(t)",
    symbol="d",
    source=_ROOT,
    validity="t and d in mm; the factor is the chart's and cites its own source",
    f="factor",
    t="governing_thickness",
)
def weld_diameter(*, factor: Number, governing_thickness: Length) -> Length:
    """Return the weld diameter that a factor of 3.5, 4 or 5 requires of a thickness."""


@formula("p * (1 + m / 100)", symbol="p_3", source=_THREE, p="pitch_of_two_sheets", m="more_for_three")
def pitch_of_three_sheets(*, pitch_of_two_sheets: Length, more_for_three: Share) -> Length:
    """Return the minimum pitch of spots through three sheets, whose third sheet is another path for the current."""


@formula("o / 2", symbol="e", source=_MIDDLE, o="minimum_overlap")
def edge_distance(*, minimum_overlap: Length) -> Length:
    """Return the minimum distance of a spot's centre from the edge of a sheet."""


@formula("1000 * F / (pi * d**2 / 4)", symbol="p_F", source=_FACE, F="electrode_force", d="cap_face")
def electrode_pressure(*, electrode_force: Force, cap_face: Length) -> Stress:
    """Return the mean pressure under a flat cap face; a worn or domed face presses otherwise."""


@formula("n * I**2 * t_w / 1000", symbol="J", source=_HEAT, n="pulses", I="weld_current", t_w="weld_time")
def joule_integral(*, pulses: Number, weld_current: SpotCurrent, weld_time: Time) -> JouleIntegral:
    """Return the square of the current times the time for which it flows, on which the heat of a spot depends."""


@formula(
    "n * min(I_1**2 * t_m, I_m**2 * t_1) / 1000",
    symbol="J_min",
    source=_PAIRING,
    n="pulses",
    I_1="minimum_current",
    I_m="middle_current",
    t_1="shortest_time",
    t_m="middle_time",
)
def weakest_pairing(
    *, pulses: Number, minimum_current: SpotCurrent, middle_current: SpotCurrent, shortest_time: Time, middle_time: Time
) -> JouleIntegral:
    """Return the smallest Joule integral of a chart's row when only one of current and time is at its end."""


@formula(
    "n * max(I_2**2 * t_m, I_m**2 * t_2) / 1000",
    symbol="J_max",
    source=_PAIRING,
    n="pulses",
    I_2="maximum_current",
    I_m="middle_current",
    t_2="longest_time",
    t_m="middle_time",
)
def strongest_pairing(
    *, pulses: Number, maximum_current: SpotCurrent, middle_current: SpotCurrent, longest_time: Time, middle_time: Time
) -> JouleIntegral:
    """Return the largest Joule integral of a chart's row when only one of current and time is at its end."""


@formula("sqrt(1000 * J / (n * t_w))", symbol="I", source=_HEAT, J="joule_integral", n="pulses", t_w="weld_time")
def current_of_joule_integral(*, joule_integral: JouleIntegral, pulses: Number, weld_time: Time) -> SpotCurrent:
    """Return the current that makes a Joule integral in a weld time."""


@formula("1000 * J / (n * I**2)", symbol="t_w", source=_HEAT, J="joule_integral", n="pulses", I="weld_current")
def time_of_joule_integral(*, joule_integral: JouleIntegral, pulses: Number, weld_current: SpotCurrent) -> Time:
    """Return the time of one pulse in which a current makes a Joule integral."""


@formula(
    "5 * sqrt(t)", symbol="d_s", source=_EN_1993, validity="t and d_s in mm; t up to 3 mm", t="governing_thickness"
)
def design_weld_diameter(*, governing_thickness: Length) -> Length:
    """Return the weld diameter by which EN 1993-1-3 states its distances for resistance welds."""


@formula("t * m / 100", symbol="h", source=_SHARE_OF_SHEET, t="thickness", m="share_of_sheet")
def indentation(*, thickness: Length, share_of_sheet: Share) -> Length:
    """Return how deep an electrode mark is that takes a share of the sheet."""


@formula("d_f * m / 100", symbol="d_f2", source=_GROWN, d_f="chart_face", m="share_of_face")
def maximum_face(*, chart_face: Length, share_of_face: Share) -> Length:
    """Return the diameter up to which a worn cap face is good."""


@formula("t_u + n * t_w", symbol="t_on", source=_SUM, t_u="upslope_time", n="pulses", t_w="weld_time")
def current_on_time(*, upslope_time: Time, pulses: Number, weld_time: Time) -> Time:
    """Return how long the current flows for one spot; the weld time is that of one pulse, cooling does not count."""


@formula(
    "t_s + t_u + n * t_w + (n - 1) * t_c + t_h",
    symbol="t_F",
    source=_SUM,
    t_s="squeeze_time",
    t_u="upslope_time",
    n="pulses",
    t_w="weld_time",
    t_c="cool_time",
    t_h="hold_time",
)
def time_under_force(
    *, squeeze_time: Time, upslope_time: Time, pulses: Number, weld_time: Time, cool_time: Time, hold_time: Time
) -> Time:
    """Return how long the gun presses for one spot."""


@formula(
    "60 / (t_F / 1000 + t_g + t_m)",
    symbol="r",
    source=_SUM,
    validity="without travel between spots: the true rate is lower, so the duty found from it errs to the safe side",
    t_F="time_under_force",
    t_g="gun_time",
    t_m="move_time",
)
def fastest_spot_rate(*, time_under_force: Time, gun_time: Duration, move_time: Duration) -> Rate:
    """Return the spots of one minute when the robot goes from spot to spot at once."""


@formula("100 * t_on / 1000 * r / 60", symbol="X", source=_DUTY, t_on="current_on_time", r="spot_rate")
def duty_cycle(*, current_on_time: Time, spot_rate: Rate) -> Share:
    """Return the share of the time for which the current flows; squeeze, cooling and hold do not count."""


@formula("I * sqrt(X / 100)", symbol="I_p", source=_HEATING, I="weld_current", X="duty_cycle")
def equivalent_permanent_current(*, weld_current: SpotCurrent, duty_cycle: Share) -> SpotCurrent:
    """Return the continuous current that would heat the gun equally; compared with its permanent current."""


@formula(
    "60 * (I_max / I)**2 / (t_on / 1000)",
    symbol="r_max",
    source=_HEATING,
    I_max="permanent_current",
    I="weld_current",
    t_on="current_on_time",
)
def maximum_spot_rate(*, permanent_current: SpotCurrent, weld_current: SpotCurrent, current_on_time: Time) -> Rate:
    """Return the spots of one minute at which the gun's permanent current is just reached."""


@formula("N * (t_F / 1000 + t_o)", symbol="t_w", source=SUMMED, N="spots", t_F="time_under_force", t_o="overhead")
def spot_weld_time(*, spots: Number, time_under_force: Time, overhead: Duration) -> Duration:
    """Return the time of some spots: the gun's sequence under force, and its closing and opening."""
