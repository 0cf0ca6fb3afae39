"""What every approved table says of itself, and the tables that are not charts or machines."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import (
    Angle,
    CoatingMass,
    Current,
    Day,
    Density,
    Distance,
    Duration,
    Flag,
    Force,
    GasFlow,
    Hydrogen,
    Mark,
    Mass,
    Name,
    Number,
    Record,
    Share,
    Size,
    SoundLevel,
    Stress,
    Temperature,
    Text,
    Thickness,
    Time,
    TimeZone,
    TravelSpeed,
    Volume,
    Whole,
    WireFeed,
)
from weld_packets.model.processes import ArcNumber, ProcessNumber
from weld_packets.model.trade import (
    BaseMetal,
    Coating,
    Joint,
    Polarity,
    QualityLevel,
    Reliability,
    SignalWord,
    TransferMode,
)
from weld_packets.units import Quantity, SystemOfUnits, in_mm, quantity, same


class Approval(Record):
    """Who approved the table and when; ``plant`` is the plant for which, where it says so."""

    by: Name
    date: Day
    plant: Name | None = None


class SourceDocument(Record):
    """The issue of the document that a table was taken from: which one, of what date, and where a copy is kept."""

    issue: Name
    date: Name
    copy_at: Annotated[Name | None, Field(alias="copy")] = None


class Handled(Record):
    """Who did something with the values of a table, and on which day."""

    by: Name
    date: Day


class Table(Record):
    """The head that every table carries; ``reliability`` is that of its source as a whole.

    ``document`` is the issue of the source; ``transcribed`` and ``checked`` are by two people.
    """

    table: Mark
    title: Name
    source: Text
    reliability: Reliability = "published"
    revision: Mark
    approved: Approval | None = None
    document: SourceDocument | None = None
    transcribed: Handled | None = None
    checked: Handled | None = None
    notes: tuple[Text, ...] = ()


_HOLLOW = re.compile(r"S[0-9]{3}[A-Z0-9]*H\b")
"""Designations of EN 10219 and EN 10210, such as S235JRH; the last letter is for hollow sections."""


class Material(Record):
    """One sheet or plate material with its coating.

    ``working_temperature_minimum`` is what a component has before it is welded without preheat;
    ``interpass_maximum`` what it may have where another pass begins. ``tensile_strength`` is the minimum of its
    standard; spots of a material without one have no strengths.
    """

    id: Mark
    designation: Name
    standard: Name
    base: BaseMetal
    coating: Coating = "none"
    coating_mass: CoatingMass | None = None
    density: Density
    yield_strength: Stress | None = None
    tensile_strength: Stress | None = None
    composition: dict[Literal["C", "Si", "Mn", "Cr", "Mo", "V", "Ni", "Cu", "Nb", "B"], Number] = {}
    composition_basis: Text = "not stated"
    thickness_from: Thickness
    thickness_to: Thickness
    working_temperature_minimum: Temperature | None = None
    working_temperature_source: Text = "not stated"
    interpass_maximum: Temperature | None = None
    interpass_source: Text = "not stated"

    @property
    def is_hollow_section(self) -> bool:
        """Whether its designation is that of a hollow section, of which every component is a tube."""
        return _HOLLOW.search(self.designation) is not None

    def is_supplied_in(self, thickness: Quantity) -> bool:
        """Return whether a thickness lies in the range of stock, both ends included."""
        at, low, high = (in_mm(value) for value in (thickness, self.thickness_from, self.thickness_to))
        return low < at < high or same(at, low) or same(at, high)


class Materials(Table):
    """Table of materials; composition in mass per cent."""

    kind: Literal["materials"]
    entries: Annotated[tuple[Material, ...], Field(min_length=1)]


class MeltingLaw(Record):
    """Constants of A·v = a·I + b·L·I²/A, which ties wire feed and current.

    A is the section of the wire (mm²), v its speed (mm/s), I the current (A), L the length that carries it (mm).
    ``arc`` is a in mm³/(A·s), ``resistance`` is b in mm⁴/(A²·s). ``arc_length`` is what the arc takes of the contact
    distance, by mode of transfer; the law is not used in a mode that is left out.
    """

    arc: Number
    resistance: Number
    arc_length: dict[TransferMode, Size]


class MeltingPoint(Record):
    """One wire feed with the current that it drew."""

    wire_feed: WireFeed
    current: Current


class Melting(Record):
    """How fast a wire melts under some gases: a law, or points measured over a range of contact distances.

    ``scatter`` is the share by which the wire feed of other machines differs at the same current.
    """

    gases: Annotated[tuple[Mark, ...], Field(min_length=1)]
    law: MeltingLaw | None = None
    points: tuple[MeltingPoint, ...] = ()
    contact_distance_from: Size | None = None
    contact_distance_to: Size | None = None
    scatter: Share
    source: Text
    from_memory: Flag = False


class Wire(Record):
    """One welding wire; without ``melting`` a chart must state its wire feed, and nothing is compared.

    ``classification`` is that of its standard without the diameter, by which qualification records name it; without it
    they name the identifier.
    """

    id: Mark
    designation: Name
    classification: Name | None = None
    standard: Name
    process: ArcNumber
    bases: tuple[BaseMetal, ...]
    diameter: Size
    density: Density
    efficiency: Share
    efficiency_source: Text
    hydrogen: Hydrogen | None = None
    hydrogen_source: Text = "not stated"
    current_from: Current
    current_to: Current
    current_source: Text
    spool: Mass
    chromium: Number | None = None
    polarity: Polarity | None = None
    polarity_source: Text = "not stated"
    melting: tuple[Melting, ...] = ()


class Wires(Table):
    """Table of wires."""

    kind: Literal["wires"]
    entries: Annotated[tuple[Wire, ...], Field(min_length=1)]


class Gas(Record):
    """One shielding gas by its ISO 14175 group; without ``carbon_dioxide`` its share of it is taken as unknown."""

    id: Mark
    group: Name
    content: Text
    flow_from: GasFlow
    flow_to: GasFlow
    cylinder: Volume
    cylinder_name: Name
    asphyxiant: Flag = True
    carbon_dioxide: Share | None = None


class Gases(Table):
    """Table of shielding gases."""

    kind: Literal["gases"]
    entries: Annotated[tuple[Gas, ...], Field(min_length=1)]


class CapLife(Record):
    """Welds between dressings on one coating."""

    coating: Coating
    welds_between_dressings: Whole
    basis: Text


class Cap(Record):
    """One electrode cap."""

    id: Mark
    designation: Name
    standard: Name
    body: Size
    face: Size
    maximum_force: Force
    dressings: Whole
    life: tuple[CapLife, ...]
    basis: Text


class Caps(Table):
    """Table of electrode caps."""

    kind: Literal["caps"]
    entries: Annotated[tuple[Cap, ...], Field(min_length=1)]


class Condition(Record):
    """When a hazard applies: every field that is given must hold; none given means always.

    ``coatings``, ``bases`` match any part of a row; currents and forces compare with the largest value that the
    settings of a row allow; ``chromium_from`` is the chromium share in per cent of any part or wire of a row.
    ``noise_from`` (included) and ``noise_below`` compare with the noise of the cell and do not hold where it has not
    been measured; ``carbon_dioxide_over`` holds too where the gas does not state its share.
    """

    processes: tuple[ProcessNumber, ...] = ()
    coatings: tuple[Coating, ...] = ()
    bases: tuple[BaseMetal, ...] = ()
    current_over: Current | None = None
    current_up_to: Current | None = None
    force_over: Force | None = None
    chromium_from: Number | None = None
    asphyxiant_gas: Flag | None = None
    shielding_gas: Flag | None = None
    carbon_dioxide_over: Share | None = None
    noise_from: SoundLevel | None = None
    noise_below: SoundLevel | None = None
    noise_measured: Flag | None = None


FactName = Literal[
    "filter shade",
    "noise",
    "magnetic field",
    "extraction",
    "electrode force",
    "reduced speed",
    "fire precautions",
    "oxygen alarm",
    "cooling water",
    "dressing",
    "supervisor",
]
"""What a message adds for each row from the order, the cell, its machines and the plant."""


class Hazard(Record):
    """One safety message: what threatens, what follows, how to avoid it, when it applies, where it is shown.

    The safety page shows every message that applies; ``stages`` are the stages of work at which it is repeated, none
    for what holds at all times. ``facts`` are the row's own figures that it adds. ``at_head`` is for what may kill or
    maim: it is a box at the head of its stage, every other message as a sentence of the task that it is about.
    """

    id: Mark
    word: SignalWord
    signs: tuple[Mark, ...] = ()
    hazard: Text
    consequence: Text
    avoid: Text
    when: Condition = Condition()
    stages: tuple[Literal["confirm", "set up", "prove", "start", "run", "changeover"], ...]
    facts: tuple[FactName, ...] = ()
    at_head: Flag = False
    source: Text


class Hazards(Table):
    """Table of safety messages."""

    kind: Literal["hazards"]
    entries: Annotated[tuple[Hazard, ...], Field(min_length=1)]


SettingKey = Literal[
    "weld_current",
    "weld_time",
    "electrode_force",
    "squeeze_time",
    "hold_time",
    "welding_current",
    "arc_voltage",
    "wire_feed_speed",
    "travel_speed",
    "gas_flow",
    "contact_distance",
    "none",
]


class Remedy(Record):
    """One thing to try for a fault, at most to the edge of the window of a setting."""

    check: Text
    setting: SettingKey = "none"
    direction: Literal["up", "down", "none"] = "none"


class Fault(Record):
    """One fault sign, its remedies in order, and when to stop and call the supervisor.

    ``limits`` names the imperfections of which the work stops outside their limits.
    """

    id: Mark
    processes: tuple[ProcessNumber, ...]
    sign: Text
    remedies: Annotated[tuple[Remedy, ...], Field(min_length=1)]
    stop_when: Text
    source: Text
    limits: tuple[Mark, ...] = ()


class Faults(Table):
    """Table of faults and remedies."""

    kind: Literal["faults"]
    entries: Annotated[tuple[Fault, ...], Field(min_length=1)]


class ShadeRow(Record):
    """Filter shade for a range of current; a shared end belongs to the darker row."""

    process: ArcNumber
    over: Current
    up_to: Current
    minimum_shade: Whole
    suggested_shade: Whole | None = None


class Shades(Table):
    """Chart of filter shades by process and current."""

    kind: Literal["shades"]
    columns: dict[str, str] = {}
    rows: Annotated[tuple[ShadeRow, ...], Field(min_length=1)]


class Limit(Record):
    """A plausibility bound of one quantity, per process and base metal, with its source."""

    quantity: SettingKey | Literal["heat_input", "thickness"]
    processes: tuple[ProcessNumber, ...]
    bases: tuple[BaseMetal, ...]
    coatings: tuple[Coating, ...] = ()
    lowest: Text
    highest: Text
    source: Text


class Limits(Table):
    """Table of physical bounds: values are text with a unit, read by the kind of their quantity."""

    kind: Literal["limits"]
    entries: Annotated[tuple[Limit, ...], Field(min_length=1)]


Occasion = Literal["shift start", "tip dress", "wire change", "contact-tip change", "cylinder change"]
"""What brings a check in process besides its frequency: the list of steps for it asks for the check."""


class Inspection(Record):
    """One check of the plan: what, how, how often, what is accepted, to which standard.

    ``joints`` are those that it looks at, none for all. ``limits`` names imperfections that it holds to their limits.
    ``weld_diameter`` says which minimum of the operation's weld diameters it holds to, where it measures them.
    ``stops_cell_for`` is for how long the cell stands still for one of them in process, ``after_parts`` or at an
    ``interval`` how often; left out where no time is known. ``occasions`` bring it besides. ``failure_types`` is
    whether it is said of each coupon how its weld failed.
    """

    id: Mark
    processes: tuple[ProcessNumber, ...]
    stage: Literal["coupon", "first-off", "in process", "last-off"]
    what: Text
    how: Text
    accept: Text
    every: Text
    levels: tuple[QualityLevel, ...] = ()
    source: Text
    joints: tuple[Joint, ...] = ()
    limits: tuple[Mark, ...] = ()
    weld_diameter: Literal["set-up", "production"] | None = None
    stops_cell_for: Duration | None = None
    stops_cell_source: Text | None = None
    after_parts: Whole | None = None
    interval: Duration | None = None
    occasions: tuple[Occasion, ...] = ()
    failure_types: Flag = False


class Inspections(Table):
    """Table of inspections."""

    kind: Literal["inspections"]
    entries: Annotated[tuple[Inspection, ...], Field(min_length=1)]


class ImperfectionLimit(Record):
    """What a quality level allows of an imperfection over one thickness and up to and including another.

    One of four forms: permitted or not; a size, ``plus`` and a ``share`` of what the imperfection is measured by, at
    most ``at_most``; an ``area`` of the weld; an ``angle`` from which on it is good. ``short``: only over a short
    length. ``passes`` where the number of passes decides. ``from_memory``: not read in any copy of the standard.
    """

    level: QualityLevel
    over: Thickness
    up_to: Thickness | None = None
    passes: Literal["one", "several"] | None = None
    permitted: Flag | None = None
    plus: Size | None = None
    share: Number | None = None
    at_most: Size | None = None
    area: Share | None = None
    angle: Angle | None = None
    short: Flag = False
    from_memory: Flag = False


MeasuredBy = Literal["thickness", "throat", "weld thickness", "face width", "root width"]
"""What a limit is a share of; the weld thickness is the throat of a fillet and the thickness of a butt."""


class Imperfection(Record):
    """One imperfection of arc welds by its ISO 6520-1 numbers, what of it is measured, and its limits."""

    id: Mark
    numbers: Annotated[tuple[Mark, ...], Field(min_length=1)]
    name: Name
    measure: Name = "size"
    share_of: MeasuredBy = "thickness"
    joints: tuple[Joint, ...] = ()
    limits: Annotated[tuple[ImperfectionLimit, ...], Field(min_length=1)]
    source: Text


class Imperfections(Table):
    """Limits of imperfections by quality level; ``short_length`` says in words how long a short imperfection may be."""

    kind: Literal["imperfections"]
    short_length: Text
    entries: Annotated[tuple[Imperfection, ...], Field(min_length=1)]


class Supervisor(Record):
    """Who is called when work stops: the role, and how to reach it, such as an extension or a radio channel."""

    role: Name
    call: Name


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


class Plant(Table):
    """Settings of the plant that no single table owns.

    ``approvals`` says where the approval of a table counts: in its own file, or in the register alone.
    A record made more than ``clock_allowance`` after the last one, 400 days where it is left out, is refused.
    Days are those of ``time_zone``, by its name in the IANA database, and UTC days where it is left out.
    Pages built more than ``copies_good_for_days`` ago, 31 where it is left out, do not say that anything is in force.
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
    cautions: Annotated[tuple[Text, ...], Field(min_length=1)]
    start_checks: tuple[Text, ...] = ()
    emergency_stop_when: Annotated[tuple[Text, ...], Field(min_length=1)]
    stop_when: Annotated[tuple[Text, ...], Field(min_length=1)]
