"""The settings of one stack on one arm: what the setter dials, and what follows from it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Decimal

from generator.errors import Gathering, OutOfRangeError, refusal
from generator.model.order import SpotRow
from generator.model.shop import Shop
from generator.process.acts import PEEL
from generator.process.chart import Place, carries, origin, read, read_count, windowed
from generator.process.dial import Setting, set_to_step, set_up_to_step
from generator.process.measure import TENTH, as_written, in_mm, lengths, spelling
from generator.process.plausibility import check_plausible
from generator.process.reach import within
from generator.process.readings import Shown, doubts, rounded_result
from generator.process.results import WeldSettings
from generator.process.spot.duty import Sequence, duty_figures
from generator.process.spot.formulas import electrode_pressure
from generator.process.spot.sheetwork import SheetWork
from generator.process.spot.tools import Tools
from generator.process.trace import Figure, Given, Lookup, Name, Verdict, Window
from generator.units import Kind, Quantity, exact, kinds, quantity

FORCE = Name("electrode_force", "Electrode force", "F", kinds.FORCE)
SQUEEZE = Name("squeeze_time", "Squeeze time", "t_s", kinds.TIME)
CURRENT = Name("weld_current", "Weld current", "I", kinds.SPOT_CURRENT)
WELD_TIME = Name("weld_time", "Weld time", "t_w", kinds.TIME)
PULSES = Name("pulses", "Pulses", "n", kinds.NUMBER)
COOL = Name("cool_time", "Cool time between pulses", "t_c", kinds.TIME)
HOLD = Name("hold_time", "Hold time", "t_h", kinds.TIME)
CAP_FACE = Name("cap_face", "Cap face", "d_f", kinds.LENGTH)
PRESSURE = Name("electrode_pressure", "Pressure under the cap face", "p_F", kinds.STRESS)
_MAKE_THE_WELD = (FORCE.key, CURRENT.key, WELD_TIME.key)
_WHOLE_PRESSURE = Shown("N/mm²", Decimal(1), ROUND_HALF_EVEN, "shown to 1 N/mm²")


def weld_settings(work: SheetWork, tools: Tools, spots: tuple[str, ...], row: SpotRow, shop: Shop) -> WeldSettings:
    """Return the settings of one stack on one arm; raise OutOfRangeError with everything that forbids them."""
    dialled = _dialled(work.place, tools)
    gathering = Gathering()
    verdicts: list[Verdict] = list(work.verdicts)
    for figure in dialled:
        if figure.value is not None and _is_bounded(figure.key, shop):
            with gathering.step():
                verdicts.append(_plausible(figure.key, figure.value, work, row, shop))
                _plausible_window(figure, work, row, shop)
    with gathering.step():
        face, face_verdict = _cap_face(work, tools)
    with gathering.step():
        duty = duty_figures(_sequence(dialled), tools)
    gathering.finish(OutOfRangeError)
    return WeldSettings(
        key=re.sub(r"[^a-z0-9]+", "-", f"{work.stack.id}-{tools.arm.id}".lower()),
        title=f"stack {work.stack.id}: {work.stack.words()}",
        arm=tools.arm.id,
        welds=spots,
        runs=1,
        dialled=dialled,
        derived=(*work.figures, face, _pressure(dialled, tools), *duty),
        verdicts=(*verdicts, face_verdict, *_ratings(duty)),
    )


def _is_bounded(key: str, shop: Shop) -> bool:
    """Return whether a dialled figure is held against physics: the three that make the weld, and those with a limit."""
    return key in _MAKE_THE_WELD or any(limit.quantity == key for limit in shop.limits)


def _plausible(key: str, value: Quantity, work: SheetWork, row: SpotRow, shop: Shop) -> Verdict:
    return check_plausible(key, value, row.process, work.stack.base, (work.stack.coating,), shop.limits)


def _plausible_window(figure: Figure, work: SheetWork, row: SpotRow, shop: Shop) -> None:
    """Refuse a window that a setter could follow to where no schedule goes, as 4 A for 4 kA at its lower end."""
    for end in (figure.window.low, figure.window.high) if figure.window else ():
        if end is not None:
            _plausible(figure.key, end, work, row, shop)


def _dialled(place: Place, tools: Tools) -> tuple[Figure, ...]:
    """Return what the setter dials, in the order of one spot; raises OutOfRangeError with all that cannot be set."""
    time = tools.time()
    makers: tuple[Callable[[], Iterable[Figure]], ...] = (
        lambda: [_charted(FORCE, "force", place, tools.force())],
        lambda: [_timed(SQUEEZE, "squeeze", place, time)],
        lambda: [_charted(CURRENT, "current", place, tools.current())],
        lambda: [_charted(WELD_TIME, "weld_time", place, time)],
        lambda: _pulsed(place, time),
        lambda: [_timed(HOLD, "hold", place, time)],
    )
    gathering = Gathering()
    figures: list[Figure] = []
    for make in makers:
        with gathering.step():
            figures.extend(make())
    gathering.finish(OutOfRangeError)
    return tuple(figures)


def _charted(name: Name, column: str, place: Place, setting: Setting) -> Figure:
    lookup, window = windowed(place, column)
    return set_to_step(name, lookup.result, window, setting, (lookup,))


def _timed(name: Name, column: str, place: Place, setting: Setting) -> Figure:
    """Return a time that the chart's row or else the head of the schedule states."""
    step = _stated_time(name, column, place)
    if isinstance(step, Lookup):
        return set_up_to_step(name, step.result, setting, (step,), ())
    return set_up_to_step(name, step.value, setting, (step,), doubts(step.origin, PEEL))


def _stated_time(name: Name, column: str, place: Place) -> Lookup | Given:
    if carries(place, column):
        return read(place, column)[0]
    schedule = place.table
    stated: Quantity | None = getattr(schedule, column, None)
    if stated is None:
        raise refusal(
            f"schedule {schedule.table} states no {name.label.lower()}",
            f"add '{column}' to the head or the rows of the schedule, with its 'sequence source'",
        )
    origin_words = f"table {schedule.table} revision {schedule.revision}: {getattr(schedule, 'sequence_source', '')}"
    return Given(name.label, stated, spelling(stated), origin_words)


def _pulsed(place: Place, setting: Setting) -> Iterable[Figure]:
    """Yield number of pulses and the time between them; nothing where the weld is one pulse."""
    count = read_count(place, "pulses") or 1
    if count > 1:
        number = quantity(float(count), "1")
        given = Given(PULSES.label, number, "1", origin(place))
        yield Figure(*_named(PULSES), "1", number, Decimal(count), step=Decimal(1), trace=(given,))
        yield _timed(COOL, "cool", place, setting)


def _named(name: Name) -> tuple[str, str, str, Kind]:
    return name.key, name.label, name.symbol, name.kind


def _sequence(dialled: Iterable[Figure]) -> Sequence:
    known = {figure.key: figure.value for figure in dialled if figure.value is not None}
    pulses = known.get(PULSES.key)
    return Sequence(
        squeeze=known[SQUEEZE.key],
        weld=known[WELD_TIME.key],
        pulses=1 if pulses is None else int(pulses.magnitude),
        cool=known.get(COOL.key, quantity(0.0, "ms")),
        hold=known[HOLD.key],
        current=known[CURRENT.key],
    )


def _cap_face(work: SheetWork, tools: Tools) -> tuple[Figure, Verdict]:
    """Return the cap's face with what the chart asks of it.

    Raises OutOfRangeError for a face below the chart's least one, or below the least weld diameter. A face above
    the chart's one is a warning: force and current then spread over more area than they were stated for.
    """
    lookup = read(work.place, "cap_face")[0]
    face, chart = in_mm(tools.cap.face), in_mm(lookup.result)
    words = f"face {as_written(tools.cap.face)} of cap {tools.cap.id}"
    greatest = getattr(work.schedule, "cap_face_is", "least") == "greatest"
    _refuse_small_face(work, tools, words, chart if not greatest else 0.0)
    asked = f"the chart's {work.schedule.cap_face_is} face is {lengths(chart, face, TENTH)[0].text}"
    fits = within(face, chart)
    verdict = Verdict("cap_face", words, asked, passed=True, source=origin(work.place))
    if not fits:
        spread = f"larger than it should be, {asked}: force and current spread"
        verdict = replace(verdict, text=spread, passed=None, warns=True, act=PEEL)
    given = Given(CAP_FACE.label, tools.cap.face, spelling(tools.cap.face), f"cap {tools.cap.id} of gun {tools.gun.id}")
    unit = spelling(tools.cap.face)
    window = (
        Window(None, lookup.result, origin(work.place)) if greatest else Window(lookup.result, None, origin(work.place))
    )
    figure = Figure(
        *_named(CAP_FACE),
        unit,
        tools.cap.face,
        exact(tools.cap.face, unit),
        window if fits or not greatest else None,
        trace=(lookup, given),
    )
    return figure, verdict


def _refuse_small_face(work: SheetWork, tools: Tools, words: str, chart: float) -> None:
    least = work.least_diameter
    weld = 0.0 if least.value is None else in_mm(least.value)
    for needed, whose in ((chart, f"the face of {origin(work.place)}"), (weld, "the least weld diameter")):
        if not within(needed, in_mm(tools.cap.face)):
            raise refusal(
                f"{words} is smaller than {whose}, {lengths(needed, in_mm(tools.cap.face), TENTH)[0].text}",
                "fit a cap with a larger face to the gun, or give the spots to another arm",
                value=as_written(tools.cap.face),
            )


def _pressure(dialled: Iterable[Figure], tools: Tools) -> Figure:
    force = next(figure.value for figure in dialled if figure.key == FORCE.key and figure.value is not None)
    worked = electrode_pressure.work(electrode_force=force, cap_face=tools.cap.face)
    return rounded_result(PRESSURE, worked.result, _WHOLE_PRESSURE, (worked,))


def _ratings(duty: Iterable[Figure]) -> Iterable[Verdict]:
    for figure in duty:
        if figure.window is not None and figure.window.high is not None and figure.value is not None:
            text = f"{as_written(figure.value)}, at most {as_written(figure.window.high)}"
            yield Verdict(figure.key, figure.label, text, passed=True, source=figure.window.origin)
