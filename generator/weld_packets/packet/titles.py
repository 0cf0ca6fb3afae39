"""What welds that are set alike are called: all of their names in one title, and no two titles the same."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from weld_packets.packet.records import SettingGroup
from weld_packets.packet.wording import amount_text, capital, inside, listed, some

_STACK = "stack "


def title_of(titles: Iterable[str]) -> str:
    """Return one title for several; stacks of the same sheets share the words for them."""
    told = list(dict.fromkeys(titles))
    if not all(title.startswith(_STACK) for title in told):
        return capital("; ".join(told))
    named = ((", ".join(names), sheets) for sheets, names in _by_sheets(told).items())
    rest = "; ".join(f"{names}: {sheets}" if sheets else names for names, sheets in named)
    return f"{'Stack' if len(told) == 1 else 'Stacks'} {rest}"


def name_of(titles: Iterable[str]) -> str:
    """Return a name for use inside a sentence: stacks by their names alone."""
    told = list(dict.fromkeys(titles))
    if not all(title.startswith(_STACK) for title in told):
        return listed(inside(title) for title in told)
    names = [name for names in _by_sheets(told).values() for name in names]
    return f"{'stack' if len(names) == 1 else 'stacks'} {listed(names)}"


def _by_sheets(titles: Iterable[str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for title in titles:
        name, _, sheets = title.removeprefix(_STACK).partition(": ")
        found.setdefault(sheets, []).append(name)
    return found


def told_apart(groups: Sequence[SettingGroup]) -> tuple[SettingGroup, ...]:
    """Return the groups; those of one title say what differs: the robots, else one setting, else the welds."""
    alike: dict[str, list[SettingGroup]] = {}
    for group in groups:
        alike.setdefault(group.title, []).append(group)
    words = {group.key: more for same in alike.values() for group, more in zip(same, _apart(same), strict=True)}
    shortened = _short_names(groups, words)
    return tuple(
        group.model_copy(update={"title": f"{group.title}{words[group.key]}", "name": shortened[group.key]})
        for group in groups
    )


def _apart(same: Sequence[SettingGroup]) -> list[str]:
    if len(same) == 1:
        return [""]
    tried = ([way(group) for group in same] for way in _ways(same))
    return next(words for words in tried if len(set(words)) == len(words))


def _ways(same: Sequence[SettingGroup]) -> list[Callable[[SettingGroup], str]]:
    """Return ways to say what a group of a title is alone in, the plainest first; the last one always tells."""
    keys = [value.key for value in same[0].dialled]
    settings = (lambda group, key=key: _setting(group, key) for key in reversed(keys))
    return [_robots, *settings, _welds]


def _robots(group: SettingGroup) -> str:
    return f" on {listed(group.robots)}"


def _setting(group: SettingGroup, key: str) -> str:
    found = (value for value in group.dialled if value.key == key)
    return "".join(f", {inside(value.label)} {amount_text(value)}" for value in found)


def _welds(group: SettingGroup) -> str:
    return f", {some(group.welds)}"


def _short_names(groups: Sequence[SettingGroup], words: dict[str, str]) -> dict[str, str]:
    """Return each group's name up to its first comma where that tells all of them apart, else the whole name."""
    heads = [group.name if group.name.startswith("stack") else group.name.partition(",")[0] for group in groups]
    short = len(set(heads)) == len(heads)
    return {
        group.key: head if short else f"{group.name}{words[group.key]}"
        for group, head in zip(groups, heads, strict=True)
    }
