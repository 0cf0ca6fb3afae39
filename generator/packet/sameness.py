"""When two figures of two arms read the same, and the one figure that then stands for both."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import singledispatch

from generator.process.formula import Worked
from generator.process.trace import Figure, Given, Lookup, Rounded, Step, Window
from generator.units import Quantity

Print = tuple[object, ...]
"""Everything of a figure that a reader sees, but the names of the machines."""


def print_of(figure: Figure) -> Print:
    """Return what must be equal for two figures to be printed as one."""
    return (
        figure.key,
        figure.label,
        figure.unit,
        str(figure.text),
        str(figure.step),
        figure.outside,
        figure.remarks,
        None if figure.window is None else (_quantity(figure.window.low), _quantity(figure.window.high)),
        tuple(_step_print(step) for step in figure.trace),
    )


def _quantity(value: Quantity | None) -> Print:
    return () if value is None else (value.magnitude, value.units)


@singledispatch
def _step_print(step: Step) -> Print:
    raise TypeError(f"{type(step).__name__} is no step of a trace")


@_step_print.register
def _given(step: Given) -> Print:
    return (step.label, step.value.magnitude, step.unit)


@_step_print.register
def _lookup(step: Lookup) -> Print:
    return (step.table, step.revision, step.column, step.rows, step.values, step.result.magnitude)


@_step_print.register
def _worked(step: Worked) -> Print:
    return (step.formula.expression, *(value.magnitude for value in step.given.values()), step.result.magnitude)


@_step_print.register
def _rounded(step: Rounded) -> Print:
    return (step.before.magnitude, step.after, step.unit, step.step)


def joined(figures: Sequence[Figure]) -> Figure:
    """Return one figure for several of equal print; where origins differ, it names them all."""
    first = figures[0]
    if len(figures) == 1:
        return first
    trace = tuple(_joined_step(steps) for steps in zip(*(figure.trace for figure in figures), strict=True))
    windows = [figure.window for figure in figures if figure.window is not None]
    return replace(first, trace=trace, window=_joined_window(windows) if windows else None)


def _joined_window(windows: Sequence[Window]) -> Window:
    return replace(windows[0], origin=_names(window.origin for window in windows))


def _joined_step(steps: Sequence[Step]) -> Step:
    first = steps[0]
    if isinstance(first, Given):
        return replace(first, origin=_names(step.origin for step in steps if isinstance(step, Given)))
    if isinstance(first, Rounded):
        return replace(first, machine=_names(step.machine for step in steps if isinstance(step, Rounded)))
    return first


def _names(names: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(names))
