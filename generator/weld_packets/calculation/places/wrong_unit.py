"""Outlines read in the wrong unit: whether welds would lie on a component drawn 25.4 times larger or smaller."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.model.order import Component

INCH = 25.4
SCALES = (INCH, 1 / INCH)
"""By which a drawing is wrong whose unit is millimetres where inches were meant, or inches for millimetres."""


MINIMUM_WELDS = 3
"""Welds from which on a drawing may be thought too small."""


@dataclass(frozen=True)
class Drawing:
    """What is drawn in one unit: a file, or the outlines that the order writes for one component."""

    name: str
    key: str
    components: tuple[str, ...]


def drawings(components: Sequence[Component]) -> Iterator[Drawing]:
    """Yield each file that outlines come from, and each component whose outlines the order itself writes."""
    files: dict[str, Drawing] = {}
    for index, component in enumerate(components):
        for place, outline in enumerate(component.outlines):
            name = outline.file or f"of component {component.name}"
            key = f"components[{index}].outlines[{place}].{'file' if outline.file else 'unit'}"
            known = files.setdefault(name, Drawing(name, key, ()))
            files[name] = Drawing(name, known.key, tuple(dict.fromkeys((*known.components, component.id))))
    yield from files.values()


def wrong_scale(
    drawing: Drawing, welds: Sequence[str], faults: int, is_right_at: Callable[[float], bool]
) -> OutOfRangeError | None:
    """Return one refusal for all welds of a drawing where ``is_right_at`` says at which scale every one would be right.

    ``faults`` of the ``welds`` are wrong as it was read. A larger drawing holds stray welds too, so that it is thought
    of only where most of several welds are wrong; a smaller one that holds every weld is no chance.
    """
    most_are_wrong = 2 * faults > len(welds) >= MINIMUM_WELDS
    scale = next((scale for scale in SCALES if (most_are_wrong or scale < 1) and faults and is_right_at(scale)), None)
    if scale is None:
        return None
    size = "small" if scale > 1 else "large"
    return refusal(
        f"the whole drawing {drawing.name} is {INCH} times too {size}: "
        f"read {INCH} times {'larger' if scale > 1 else 'smaller'}, all of its {len(welds)} welds lie on it",
        "correct the unit of the drawing: mm was taken for in, or in for mm",
        key=drawing.key,
        value=drawing.name,
    )
