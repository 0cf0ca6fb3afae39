"""Settings as printed: groups of welds set alike, two arms in one group where they are set the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.packet.records import Check, SettingGroup, Span, TracePoint, Value
from generator.packet.values import Showing, value_of
from generator.process.results import WeldSettings
from generator.process.trace import Verdict

_Shown = tuple[object, ...]


def setting_groups(settings: Iterable[WeldSettings], showing: Showing) -> tuple[SettingGroup, ...]:
    """Return the groups of a row; groups of two arms become one where everything dialled reads the same.

    What follows and differs, such as the length welded by each arm, is kept for both with the arm's name.
    """
    merged: dict[_Shown, SettingGroup] = {}
    for group in (_group(each, showing) for each in settings):
        shown = _shown(group)
        other = merged.get(shown)
        if other is not None and not set(other.arms) & set(group.arms):
            merged[shown] = _joined(other, group)
        else:
            merged[shown if other is None else (*shown, group.key)] = group
    return tuple(merged.values())


def _group(settings: WeldSettings, showing: Showing) -> SettingGroup:
    return SettingGroup(
        key=settings.key,
        title=settings.title,
        arms=(settings.arm,),
        welds=settings.welds,
        runs=settings.runs,
        dialled=tuple(value_of(figure, showing, settings.key) for figure in settings.dialled),
        derived=tuple(value_of(figure, showing, settings.key) for figure in settings.derived),
        checks=tuple(check_of(verdict) for verdict in settings.verdicts),
    )


def check_of(verdict: Verdict) -> Check:
    """Return a verdict as printed; one that failed never reaches a packet."""
    if verdict.passed is False:
        raise ValueError(f"{verdict.subject}: a failed check must be refused before the packet: {verdict.text}")
    outcome = "passed" if verdict.passed else "not checked"
    return Check(subject=verdict.subject, text=verdict.text, outcome=outcome, source=verdict.source)


def _shown(group: SettingGroup) -> _Shown:
    return (group.title, group.runs, *(_face(value) for value in group.dialled))


def _face(value: Value) -> _Shown:
    """Return everything of a value but the names of machines in its origins."""
    window = None if value.window is None else value.window.model_copy(update={"origin": ""})
    path = tuple(point.model_copy(update={"label": "", "origin": ""}) for point in value.trace)
    return (value.key, value.label, value.amount, value.outside, window, value.step, value.remarks, path)


def _joined(one: SettingGroup, other: SettingGroup) -> SettingGroup:
    return one.model_copy(
        update={
            "arms": (*one.arms, *other.arms),
            "welds": (*one.welds, *other.welds),
            "dialled": _both_values(one.dialled, other.dialled),
            "derived": tuple(_following(one, other)),
            "checks": tuple(dict.fromkeys((*one.checks, *other.checks))),
        }
    )


def _both_values(first: tuple[Value, ...], second: tuple[Value, ...]) -> tuple[Value, ...]:
    return tuple(_both_value(one, other) for one, other in zip(first, second, strict=True))


def _following(one: SettingGroup, other: SettingGroup) -> Iterator[Value]:
    """Yield what follows: once where both arms read the same, else for each arm under its own name."""
    others = {value.key: value for value in other.derived}
    for value in one.derived:
        match = others.pop(value.key, None)
        if match is not None and _face(match) == _face(value):
            yield _both_value(value, match)
            continue
        yield _of_arm(value, one.arms[0])
        if match is not None:
            yield _of_arm(match, other.arms[0])
    for value in others.values():
        yield _of_arm(value, other.arms[0])


def _of_arm(value: Value, arm: str) -> Value:
    return value.model_copy(update={"key": f"{value.key}_{arm}", "label": f"{value.label}, {arm}"})


def _both_value(one: Value, other: Value) -> Value:
    if one == other:
        return one
    trace = tuple(_both_points(*points) for points in zip(one.trace, other.trace, strict=True))
    return one.model_copy(update={"trace": trace, "window": _both_spans(one.window, other.window)})


def _both_points(one: TracePoint, other: TracePoint) -> TracePoint:
    return one.model_copy(
        update={"label": _both_texts(one.label, other.label), "origin": _both_texts(one.origin, other.origin)}
    )


def _both_spans(one: Span | None, other: Span | None) -> Span | None:
    if one is None or other is None:
        return one
    return one.model_copy(update={"origin": _both_texts(one.origin, other.origin)})


def _both_texts(one: str, other: str) -> str:
    return one if one == other else f"{one}; {other}"
