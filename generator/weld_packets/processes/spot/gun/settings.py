"""The settings of one stack on one robot: what the setter dials, and what follows from it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Decimal

from weld_packets.calculation.chart import Place, origin, read_count, read_range
from weld_packets.calculation.countermeasures import GUN_DUTY
from weld_packets.calculation.dial import set_inside
from weld_packets.calculation.plausibility import check_plausible
from weld_packets.calculation.readings import Shown, beside, rounded_result
from weld_packets.calculation.results import CurrentAndTime, SpotKind, WeldSettings, safe_name
from weld_packets.calculation.trace import AllowedRange, Figure, Given, Name, Remark, Verdict, Weight
from weld_packets.errors import Gathering, OutOfRangeError
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.spot.formulas import electrode_pressure
from weld_packets.processes.spot.gun.caps import cap_face
from weld_packets.processes.spot.gun.current_and_time import CURRENT, WELD_TIME, Together, set_together
from weld_packets.processes.spot.gun.duty import Sequence, duty_figures, worked_hardest
from weld_packets.processes.spot.gun.sequence import COOL, HOLD, SQUEEZE, UPSLOPE, cool, hold, squeeze, upslope
from weld_packets.processes.spot.gun.tools import Tools
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.processes.spot.stack.requirements import StackRequirements
from weld_packets.units import Quantity, as_written, exceeds, kinds, magnitude, plain, quantity, spelling, with_unit
from weld_packets.units.digits import HUNDREDTH, WHOLE

FORCE = Name("electrode_force", "Electrode force", "F", kinds.FORCE)
PULSES = Name("pulses", "Pulses", "n", kinds.NUMBER)
PRESSURE = Name("electrode_pressure", "Pressure under the cap face", "p_F", kinds.STRESS)
_MAKE_THE_WELD = (FORCE.key, CURRENT.key, WELD_TIME.key)
_RATED = "table of machines, ratings of the guns"
_WHOLE_PRESSURE = Shown("N/mm²", WHOLE, ROUND_HALF_EVEN, "shown to 1 N/mm²")


def weld_settings(
    work: StackRequirements, tools: Tools, spots: tuple[str, ...], operation: SpotOperation, approved: ApprovedTables
) -> WeldSettings:
    """Return the settings of one stack on one robot; raise OutOfRangeError with everything that forbids them."""
    dialled, together = _dialled(work, tools, approved)
    gathering = Gathering()
    verdicts: list[Verdict] = list(work.verdicts)
    for figure in dialled:
        if figure.value is not None and _is_bounded(figure.key, approved):
            with gathering.step():
                verdicts.append(_plausible(figure.key, figure.value, work, operation, approved))
                _plausible_range(figure, work, operation, approved)
    with gathering.step():
        face, face_verdict = cap_face(work, tools, approved.plant)
    sequence = _sequence(dialled)
    with gathering.step():
        duty = duty_figures(sequence, tools)
    gathering.finish(OutOfRangeError)
    return WeldSettings(
        key=safe_name(work.stack.id, tools.robot.id),
        kind=SpotKind(work.stack.id, tuple(sheet.component.thickness for sheet in work.stack.sheets)),
        robot=tools.robot.id,
        welds=spots,
        pass_count=1,
        dialled=dialled,
        derived=(*work.figures, together.heat, face, _pressure(dialled, tools), *duty),
        verdicts=(*verdicts, face_verdict, *_ratings(sequence, duty, together.allowed, tools)),
        together=together.allowed,
    )


def _is_bounded(key: str, approved: ApprovedTables) -> bool:
    """Return whether a dialled figure is held against physics: the three that make the weld, and those with a limit."""
    return key in _MAKE_THE_WELD or any(limit.quantity == key for limit in approved.limits)


def _plausible(
    key: str, value: Quantity, work: StackRequirements, operation: SpotOperation, approved: ApprovedTables
) -> Verdict:
    return check_plausible(key, value, operation.process, work.stack.base, (work.stack.coating,), approved.limits)


def _plausible_range(
    figure: Figure, work: StackRequirements, operation: SpotOperation, approved: ApprovedTables
) -> None:
    """Refuse an allowed range that a setter could follow to where no chart goes, as 4 A for 4 kA at its lower end."""
    for end in (figure.allowed_range.low, figure.allowed_range.high) if figure.allowed_range else ():
        if end is not None:
            _plausible(figure.key, end, work, operation, approved)


def _dialled(work: StackRequirements, tools: Tools, approved: ApprovedTables) -> tuple[tuple[Figure, ...], Together]:
    """Return what the setter dials, in the order of one spot; raises OutOfRangeError with all that cannot be set."""
    place = work.place
    count = read_count(place, "pulses") or 1
    found: list[Together] = []

    def made() -> Iterable[Figure]:
        found.append(set_together(place, count, tools))
        return found[0].current, found[0].time

    makers: tuple[Callable[[], Iterable[Figure]], ...] = (
        lambda: [_force(place, tools)],
        lambda: [squeeze(place, tools, approved)],
        lambda: upslope(place, tools),
        made,
        lambda: _pulsed(place, count, tools),
        lambda: [hold(place, tools, approved)],
    )
    gathering = Gathering()
    figures: list[Figure] = []
    for make in makers:
        with gathering.step():
            figures.extend(make())
    gathering.finish(OutOfRangeError)
    return tuple(figures), found[0]


def _force(place: Place, tools: Tools) -> Figure:
    """Return the force, whose allowed range is never narrower than the gun repeats it."""
    lookup, allowed_range = read_range(place, "force")
    figure = set_inside(
        FORCE, lookup.result, _repeatable(allowed_range, lookup.result, tools), tools.force(), (lookup,)
    )
    if (
        figure.allowed_range is None
        or tools.gun.force_repeatability is None
        or not _widened(allowed_range, lookup.result, tools)
    ):
        return figure
    scatter = f"the gun repeats a force, ± {as_written(tools.gun.force_repeatability)}"
    words = f"the chart's range is narrower than {scatter}: the allowed range is the gun's"
    return replace(figure, remarks=(Remark(Weight.NOTE, words),))


def _repeatable(allowed_range: AllowedRange, force: Quantity, tools: Tools) -> AllowedRange:
    """Return a range of force, at least as wide on both sides as the gun repeats the force."""
    low, high, repeats = allowed_range.low, allowed_range.high, tools.gun.force_repeatability
    if repeats is None or not _widened(allowed_range, force, tools):
        return allowed_range
    unit, share = spelling(force), magnitude(repeats, "1")
    ends = [quantity(force.magnitude * factor, unit) for factor in (1 - share, 1 + share)]
    low = ends[0] if low is None else min(low, ends[0])
    high = ends[1] if high is None else max(high, ends[1])
    words = f"± {as_written(repeats)} of gun {tools.gun.id} ({tools.gun.force_repeatability_source})"
    return AllowedRange(low, high, f"{allowed_range.origin}; widened to {words}")


def _widened(allowed_range: AllowedRange, force: Quantity, tools: Tools) -> bool:
    """Return whether a range of force is narrower than the gun repeats the force."""
    repeats = 0.0 if tools.gun.force_repeatability is None else magnitude(tools.gun.force_repeatability, "1")
    reach = repeats * magnitude(force, "kN")
    sides = [
        abs(magnitude(end, "kN") - magnitude(force, "kN"))
        for end in (allowed_range.low, allowed_range.high)
        if end is not None
    ]
    return any(exceeds(reach, side) for side in sides)


def _pulsed(place: Place, count: int, tools: Tools) -> Iterable[Figure]:
    """Yield number of pulses and the time between them; nothing where the weld is one pulse."""
    if count > 1:
        number = quantity(float(count), "1")
        given = Given(PULSES.label, number, "1", origin(place))
        yield PULSES.figure("1", number, Decimal(count), step=WHOLE, trace=(given,))
        yield cool(place, tools)


def _sequence(dialled: Iterable[Figure]) -> Sequence:
    known = {figure.key: figure.value for figure in dialled if figure.value is not None}
    pulses = known.get(PULSES.key)
    return Sequence(
        squeeze=known[SQUEEZE.key],
        upslope=known.get(UPSLOPE.key, quantity(0.0, "ms")),
        weld=known[WELD_TIME.key],
        pulses=1 if pulses is None else int(pulses.magnitude),
        cool=known.get(COOL.key, quantity(0.0, "ms")),
        hold=known[HOLD.key],
        current=known[CURRENT.key],
    )


def _pressure(dialled: Iterable[Figure], tools: Tools) -> Figure:
    force = next(figure.value for figure in dialled if figure.key == FORCE.key and figure.value is not None)
    worked = electrode_pressure.work(electrode_force=force, cap_face=tools.cap.face)
    return rounded_result(PRESSURE, worked.result, _WHOLE_PRESSURE, (worked,))


def _ratings(set_to: Sequence, duty: Iterable[Figure], allowed: CurrentAndTime, tools: Tools) -> Iterator[Verdict]:
    """Yield the checks of duty and heating against the gun, also at the most that both allowed ranges let be set."""
    hardest = tuple(worked_hardest(set_to, allowed, tools))
    for figure in duty:
        if figure.allowed_range is None or figure.allowed_range.high is None or figure.value is None:
            continue
        limit = figure.allowed_range.high
        text = f"{as_written(figure.value)}, at most {as_written(limit)}"
        verdict = Verdict(figure.key, figure.label, text, passed=True, source=figure.allowed_range.origin)
        most = max((getattr(each, figure.key) for each in hardest), key=lambda each: magnitude(each, figure.unit))
        if exceeds(magnitude(most, figure.unit), magnitude(limit, figure.unit)):
            found = with_unit(plain(beside(most, limit, figure.unit, HUNDREDTH)[0]), figure.unit)
            raised = f"{found} where current and weld time are raised as far as their allowed ranges go"
            text = f"{text}; {raised}"
            verdict = replace(verdict, said=text, passed=None, source=_RATED, warns=True, countermeasure=GUN_DUTY)
        yield verdict
