"""The face of an electrode cap: that of a new one by the chart, and the diameters between which a worn one is good."""

from __future__ import annotations

from dataclasses import dataclass

from weld_packets.calculation.chart import origin, read
from weld_packets.calculation.countermeasures import PEEL
from weld_packets.calculation.places.millimetres import within
from weld_packets.calculation.readings import value_of
from weld_packets.calculation.sentences import lengths, refused
from weld_packets.calculation.trace import AllowedRange, Figure, Given, Lookup, Name, Step, Verdict, Words, warned
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.spot.formulas import maximum_face
from weld_packets.processes.spot.gun.tools import Tools
from weld_packets.processes.spot.stack.requirements import StackRequirements
from weld_packets.units import Quantity, as_written, exact, in_mm, kinds, spelling
from weld_packets.units.digits import TENTH

CAP_FACE = Name("cap_face", "Cap face", "d_f", kinds.LENGTH)
_SIZE = Name("share_of_face", "Largest share of the chart's cap face", "m", kinds.SHARE)


_WELD_DIAMETER = "minimum weld diameter"


@dataclass(frozen=True)
class _Maximum:
    """The largest face that is good, on what authority, how it comes about; ``warns`` where that may only warn."""

    face: Quantity
    origin: str
    steps: tuple[Step, ...]
    warns: bool


def cap_face(work: StackRequirements, tools: Tools, plant: Plant) -> tuple[Figure, Verdict]:
    """Return the cap's face with the smallest and the largest one that is good, new or worn.

    The smallest is the chart's face, or the minimum weld diameter where the chart's face is the largest one. The
    largest is the chart's, else the share of the chart's face that the plant allows a worn one.
    Raises OutOfRangeError for a face below the smallest, or above the largest where that is published.
    """
    lookup = read(work.place, "cap_face")[0]
    face = tools.cap.face
    words = f"face {as_written(face)} of cap {tools.cap.id}"
    minimum, rule, what = _minimum(work, lookup)
    _refuse_small(face, minimum, what, words)
    maximum = _maximum(work, lookup, plant)
    if maximum is None:
        low = lengths(in_mm(minimum), in_mm(face), TENTH)[0]
        said = ("at least ", low, "; no table states how far a face may grow")
        verdict = Verdict("cap_face", words, said, passed=None, source=rule, countermeasure=PEEL)
    else:
        verdict = _held(face, minimum, maximum, words)
    given = Given(CAP_FACE.label, face, spelling(face), f"cap {tools.cap.id} of gun {tools.gun.id}")
    allowed_range = (
        AllowedRange(minimum, None, rule)
        if maximum is None
        else AllowedRange(minimum, maximum.face, f"{rule}; {maximum.origin}")
    )
    unit = spelling(face)
    figure = CAP_FACE.figure(
        unit,
        face,
        exact(face, unit),
        allowed_range if maximum is None or within(in_mm(face), in_mm(maximum.face)) else None,
        trace=(lookup, *(() if maximum is None else maximum.steps), given),
    )
    return figure, verdict


def _minimum(work: StackRequirements, lookup: Lookup) -> tuple[Quantity, str, str]:
    """Return the smallest face, what says so, and what that size is."""
    weld = value_of(work.minimum_diameter)
    if work.chart.cap_face_is == "minimum" and in_mm(lookup.result) > in_mm(weld):
        return lookup.result, origin(work.place), f"face of {origin(work.place)}"
    return weld, _WELD_DIAMETER, _WELD_DIAMETER


def _maximum(work: StackRequirements, lookup: Lookup, plant: Plant) -> _Maximum | None:
    chart = work.chart
    if chart.cap_face_is == "maximum":
        return _Maximum(lookup.result, origin(work.place), (), chart.reliability != "published")
    share, reliability = chart.cap_face_at_most, chart.reliability
    source = f"table {chart.table}"
    if share is None:
        share, reliability = plant.cap_face_at_most, plant.cap_face_reliability
        source = f"table {plant.table}: {plant.cap_face_source}"
    if share is None:
        return None
    worked = maximum_face.work(chart_face=lookup.result, share_of_face=share)
    words = f"at most {as_written(share)} of the chart's face ({source})"
    return _Maximum(worked.result, words, (Given(_SIZE.label, share, "%", source), worked), reliability != "published")


def _held(face: Quantity, minimum: Quantity, maximum: _Maximum, words: str) -> Verdict:
    limit = lengths(in_mm(face), in_mm(maximum.face), TENTH)[1]
    low = lengths(in_mm(minimum), in_mm(face), TENTH)[0]
    if within(in_mm(maximum.face), in_mm(face)) and within(in_mm(face), in_mm(maximum.face)):
        said: Words = ("new already as large as a worn one may be, ", limit, ": nothing is left for wear")
        return warned("cap_face", words, said, maximum.origin, PEEL)
    if within(in_mm(face), in_mm(maximum.face)):
        said = ("at least ", low, ", at most ", limit)
        return Verdict("cap_face", words, said, passed=True, source=maximum.origin)
    if not maximum.warns:
        raise refused(
            (f"{words} is larger than the largest face, ", limit, f" ({maximum.origin})"),
            "fit a cap with a smaller face to the gun, or give the spots to another robot",
            value=as_written(face),
        )
    said = ("larger than ", limit, ": force and current spread over more area than the chart means")
    return warned("cap_face", words, said, maximum.origin, PEEL)


def _refuse_small(face: Quantity, minimum: Quantity, what: str, words: str) -> None:
    if not within(in_mm(minimum), in_mm(face)):
        raise refused(
            (f"{words} is smaller than the {what}, ", lengths(in_mm(minimum), in_mm(face), TENTH)[0]),
            "fit a cap with a larger face to the gun, or give the spots to another robot",
            value=as_written(face),
        )
