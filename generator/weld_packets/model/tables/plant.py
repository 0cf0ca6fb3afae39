"""What a plant says of itself: people to call, times, limits, what a release requires."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import (
    Day,
    Distance,
    Duration,
    Flag,
    Mark,
    Name,
    Number,
    Record,
    Share,
    Size,
    Text,
    Time,
    TimeZone,
    TravelSpeed,
    Whole,
)
from weld_packets.model.table import Table
from weld_packets.model.trade import Reliability, TransferMode
from weld_packets.units import SystemOfUnits, quantity


class Supervisor(Record):
    """Who is called when work stops: the role, and how to reach it, such as an extension or a radio channel."""

    role: Name
    call: Name


class EmergencyStopTest(Record):
    """How often the emergency stop of a cell is tested besides at each set-up, and who says so."""

    every: Literal["shift", "day", "week", "month", "year"]
    source: Text


class UnequalThickness(Record):
    """Ratio of the thicker to the thinner component up to which arc joints are set, by mode of transfer.

    ``beyond`` it a joint is refused, or set with a warning that its fusion must be proved.
    """

    ratio: Number
    transfers: Annotated[tuple[TransferMode, ...], Field(min_length=1)]
    beyond: Literal["refuse", "warn"]
    source: Text


class RootGap(Record):
    """Maximum root gap of a fillet, as a share of the wire's diameter; over ``added_over`` it is added to the leg."""

    of_wire: Number
    of_wire_source: Text
    added_over: Size | None = None
    added_source: Text = "not stated"


Requirement = Literal["forbid release", "warn", "not used"]
"""What follows where an order is not inside a qualification record."""


class RiskAssessment(Record):
    """The plant's risk assessment, by its number and the day of its issue, and who holds it."""

    number: Name
    date: Day
    holder: Name | None = None


class Plant(Table):
    """Settings of the plant that no single table owns.

    ``approvals`` says where the approval of a table counts: in its own file, or in the register alone.
    A record made more than ``clock_allowance`` after the last one, 400 days where it is left out, is refused.
    Days are those of ``time_zone``, by its name in the IANA database, and UTC days where it is left out.
    Pages built more than ``copies_good_for_days`` ago, 31 where it is left out, do not say that anything is in force.
    ``emergency_stop_test`` is asked for where a shift starts a cell again; at every shift where it is left out.
    A set-up older than ``shift_length`` is confirmed or begun anew. A contact tip is changed after an arc-on time;
    electrode caps as ``cap_change_after`` says. ``size_margin`` is the share by which the throat that settings aim at
    is above the one required. ``set_up_weld_diameter`` is the factor on the root of the thickness in mm that coupons of
    a set-up must reach, where the chart's target is not smaller;
    ``cap_face_at_most`` the share of the chart's cap face up to which a worn face is good; ``squeeze_servo`` and
    ``squeeze_pneumatic`` the squeeze time by the drive of the gun; ``visible_indentation`` the share of a sheet to
    which its visible side may be indented. ``fire_watch`` is
    kept after the last weld; combustibles stay ``fire_distance`` away from where sparks can leave a cell.
    A seam lies on an edge of its components within ``seam_tolerance``, beyond which it warns; it is refused beyond
    ``seam_refused_over``. Seams are not compared where either is left out. ``flare_bevel_throat`` is the share of the
    outer corner radius that counts as the throat of a flush flare-bevel weld.
    The change times are for how long a cell stands still for one change; left out where no time is known.
    ``coupon_seam`` and ``coupon_spots`` are what is welded on one test coupon, ``purge_time`` is for how long gas flows
    before the flow is set; what is left out is not counted in what a prove-out takes.
    ``qualification`` says what follows where an order is not inside a qualification record; it is not used for the
    orders of ``qualification_not_used_for``, by their numbers.
    Keys of ``NEEDED_BY`` may be left out by a plant without such cells; what they are then is never used.
    """

    kind: Literal["plant"]
    name: Name
    show_first: SystemOfUnits
    one_person_may_release: Flag = False
    qualification: Requirement = "warn"
    qualification_not_used_for: tuple[Mark, ...] = ()
    approvals: Literal["in the file", "in the register"] = "in the file"
    releases: Annotated[
        Literal["in one step", "in two steps"],
        Field(
            description="in two steps: the author proposes a release, another person approves exactly that; "
            "in one step: one command names both"
        ),
    ] = "in one step"
    signatures: Annotated[
        Literal["optional", "required"],
        Field(
            description="whether proposals, releases, approvals of tables and nonconformities must be signed with a "
            "key, and what takes a proposal back or sets a record aside"
        ),
    ] = "optional"
    clock_allowance: Duration | None = None
    supervisor: Supervisor
    shift_length: Duration | None = None
    time_zone: TimeZone | None = None
    copies_good_for_days: Annotated[Whole, Field(ge=1, le=366)] | None = None
    risk_assessment: RiskAssessment | None = None
    emergency_stop_test: EmergencyStopTest | None = None
    reduced_speed: TravelSpeed
    reduced_speed_source: Text
    fire_watch: Duration
    fire_watch_source: Text
    fire_distance: Distance
    fire_distance_source: Text
    oxygen_alarm: Share | None = None
    oxygen_alarm_source: Text = "not stated"
    duty_planning_share: Share = Field(default_factory=lambda: quantity(100.0, "%"))
    spot_pitch_three_sheets_more: Share = Field(default_factory=lambda: quantity(100.0, "%"))
    spot_pitch_source: Text = "not stated"
    set_up_weld_diameter: Number | None = None
    set_up_weld_diameter_source: Text = "not stated"
    set_up_weld_diameter_reliability: Reliability = "published"
    cap_face_at_most: Share | None = None
    cap_face_source: Text = "not stated"
    cap_face_reliability: Reliability = "published"
    squeeze_servo: Time | None = None
    squeeze_pneumatic: Time | None = None
    squeeze_source: Text = "not stated"
    squeeze_reliability: Reliability = "published"
    visible_indentation: Share | None = None
    visible_indentation_source: Text = "not stated"
    visible_indentation_reliability: Reliability = "published"
    reinforcement: Number = Decimal(1)
    reinforcement_source: Text = "not stated"
    seam_tolerance: Size | None = None
    seam_refused_over: Size | None = None
    seam_source: Text = "not stated"
    flare_bevel_throat: Number | None = None
    flare_bevel_source: Text = "not stated"
    size_margin: Share | None = None
    size_margin_source: Text = "not stated"
    cap_change_after: Text = "not stated"
    contact_tip_after: Duration = Field(default_factory=lambda: quantity(1.0, "h"))
    contact_tip_source: Text = "not stated"
    unequal_thickness: UnequalThickness | None = None
    root_gap: RootGap | None = None
    closed_seam_overlap: Size | None = None
    closed_seam_source: Text = "not stated"
    contact_distance_tolerance: Size | None = None
    contact_distance_source: Text = "not stated"
    wire_change_time: Duration | None = None
    contact_tip_change_time: Duration | None = None
    cylinder_change_time: Duration | None = None
    change_times_source: Text | None = None
    coupon_seam: Size | None = None
    coupon_spots: Annotated[Whole, Field(ge=1, le=1000)] | None = None
    purge_time: Duration | None = None
    prove_out_source: Text = "not stated"
    cautions: Annotated[tuple[Text, ...], Field(min_length=1)]
    start_checks: tuple[Text, ...] = ()
    emergency_stop_when: Annotated[tuple[Text, ...], Field(min_length=1)]
    stop_when: Annotated[tuple[Text, ...], Field(min_length=1)]


NEEDED_BY: Mapping[str, tuple[str, ...]] = {
    "arc": (
        "duty_planning_share",
        "reinforcement",
        "reinforcement_source",
        "contact_tip_after",
        "contact_tip_source",
    ),
    "spot": ("spot_pitch_three_sheets_more", "spot_pitch_source", "cap_change_after"),
}
"""Keys of the plant that its arc cells and its spot cells need; a plant that has none of them may leave them out."""
