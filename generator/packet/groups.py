"""Settings as printed: groups of welds set alike, two arms in one group where they are set the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import chain

from generator.packet.records import Check, SettingGroup, Value
from generator.packet.sameness import joined, print_of
from generator.packet.values import Showing, value_of
from generator.process.results import WeldSettings
from generator.process.trace import Figure, Verdict


def setting_groups(settings: Iterable[WeldSettings], showing: Showing) -> tuple[SettingGroup, ...]:
    """Return the groups of a row; groups of two arms become one where everything dialled reads the same.

    What follows and differs, such as the length welded by each arm, is kept for both with the arm's name.
    """
    merged: dict[tuple[object, ...], list[WeldSettings]] = {}
    for each in settings:
        shown = (each.title, each.runs, *map(print_of, each.dialled))
        alike = merged.setdefault(shown, [])
        if each.arm in (other.arm for other in alike):
            merged[*shown, each.key] = [each]
        else:
            alike.append(each)
    return tuple(_group(alike, showing) for alike in merged.values())


def _group(alike: list[WeldSettings], showing: Showing) -> SettingGroup:
    first = alike[0]
    columns = zip(*(each.dialled for each in alike), strict=True)
    return SettingGroup(
        key=first.key,
        title=first.title,
        arms=tuple(each.arm for each in alike),
        welds=tuple(chain.from_iterable(each.welds for each in alike)),
        runs=first.runs,
        dialled=tuple(value_of(joined(column), showing, first.key) for column in columns),
        derived=tuple(_following(alike, showing)),
        checks=tuple(dict.fromkeys(check_of(verdict) for each in alike for verdict in each.verdicts)),
    )


def _following(alike: list[WeldSettings], showing: Showing) -> Iterator[Value]:
    """Yield what follows: once where all arms read the same, else for each arm under its own name."""
    found: dict[str, list[tuple[WeldSettings, Figure]]] = {}
    for each in alike:
        for figure in each.derived:
            found.setdefault(figure.key, []).append((each, figure))
    for same_key in found.values():
        figures = [figure for _, figure in same_key]
        if len(figures) == len(alike) and len({print_of(figure) for figure in figures}) == 1:
            yield value_of(joined(figures), showing, alike[0].key)
            continue
        for each, figure in same_key:
            yield value_of(_of_arm(figure, each.arm), showing, alike[0].key)


def _of_arm(figure: Figure, arm: str) -> Figure:
    return replace(figure, key=f"{figure.key}_{arm}", label=f"{figure.label}, {arm}")


def check_of(verdict: Verdict) -> Check:
    """Return a verdict as printed; one that failed never reaches a packet."""
    if verdict.passed is False:
        raise ValueError(f"{verdict.subject}: a failed check must be refused before the packet: {verdict.text}")
    outcome = "passed" if verdict.passed else "not checked"
    return Check(subject=verdict.subject, text=verdict.text, outcome=outcome, source=verdict.source)
