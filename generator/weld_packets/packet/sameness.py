"""When two figures of two robots read the same, and the one figure that then stands for both."""

from __future__ import annotations

import operator
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import singledispatch

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.trace import Figure, Given, Lookup, Rounded, Step, Weight, Window
from weld_packets.units import Quantity

Print = tuple[object, ...]
"""Everything of a figure that a reader sees, but the names of the machines."""


def print_of(figure: Figure) -> Print:
    """Return what must be equal for two settings to be printed as one."""
    return (*print_without_notes(figure), figure.remarks)


def print_without_notes(figure: Figure) -> Print:
    """Return what must be equal for two figures that follow to be printed as one; notes are told together."""
    return (
        figure.key,
        figure.label,
        figure.unit,
        str(figure.text),
        str(figure.step),
        figure.outside,
        tuple(remark for remark in figure.remarks if remark.weight is Weight.WARNING),
        None if figure.window is None else (_quantity(figure.window.low), _quantity(figure.window.high)),
        tuple(_step_print(step) for step in figure.trace),
    )


def _quantity(value: Quantity | None) -> Print:
    return () if value is None else (value.magnitude, *value.unit_items())


@singledispatch
def _step_print(step: Step) -> Print:
    raise TypeError(f"{type(step).__name__} is no step of a trace")


@_step_print.register
def _given(step: Given) -> Print:
    return (step.label, step.value.magnitude, step.unit)


@_step_print.register
def _lookup(step: Lookup) -> Print:
    at = _quantity(step.at)
    return (step.table, step.revision, step.column, step.rows, step.values, step.result.magnitude, at)


@_step_print.register
def _worked(step: Worked) -> Print:
    return (step.formula.expression, *(value.magnitude for value in step.given.values()), step.result.magnitude)


@_step_print.register
def _rounded(step: Rounded) -> Print:
    return (step.before.magnitude, step.after, step.unit, step.step)


def figure_of_all(figures: Sequence[Figure]) -> Figure:
    """Return one figure for several that read the same but for their notes, with all notes."""
    notes = tuple(dict.fromkeys(remark for figure in figures for remark in figure.remarks))
    figure = joined(figures)
    return figure if notes == figure.remarks else replace(figure, remarks=notes)


def joined(figures: Sequence[Figure]) -> Figure:
    """Return one figure for several of equal print; where origins differ, it names them all."""
    first = figures[0]
    if len(figures) == 1:
        return first
    trace = tuple(_joined_step(steps) for steps in zip(*(figure.trace for figure in figures), strict=True))
    windows = [figure.window for figure in figures if figure.window is not None]
    window = _joined_window(windows) if windows else None
    kept = window is first.window and all(map(operator.is_, trace, first.trace))
    return first if kept else replace(first, trace=trace, window=window)


def _joined_window(windows: Sequence[Window]) -> Window:
    origins = {window.origin for window in windows}
    return windows[0] if len(origins) == 1 else replace(windows[0], origin=_names(each.origin for each in windows))


def _joined_step(steps: Sequence[Step]) -> Step:
    first = steps[0]
    if isinstance(first, Given):
        origins = dict.fromkeys(step.origin for step in steps if isinstance(step, Given))
        return first if len(origins) == 1 else replace(first, origin=_names(origins))
    if isinstance(first, Rounded):
        machines = dict.fromkeys(step.machine for step in steps if isinstance(step, Rounded))
        return first if len(machines) == 1 else replace(first, machine=_names(machines))
    return first


def _names(names: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(names))
