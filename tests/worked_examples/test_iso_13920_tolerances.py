"""General tolerances of ISO 13920, as read in a fabricator's reprint of its tables 1 to 3 (edition of 1996).

Read: all linear values above 30 mm, all angles, form classes E and F, and the first value of G. From memory: the linear
values up to 30 mm, class G above 120 mm and class H. The reprint has one merged cell in its first column, which shifts
classes B to D by one place; B from 30 to 120 mm is therefore 2 mm.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from weld_packets.calculation.general_tolerances import tolerance_of
from weld_packets.model.tolerances import NominalSize, ToleranceClasses
from weld_packets.packet.records.order import Packet
from weld_packets.sources.tables.tables import brought_tolerances

SIZES = (30, 120, 400, 1000, 2000, 4000, 8000, 12000, 16000, 20000, 30000)
"""The upper end of each band, which belongs to it, and a size in the last one."""
LINEAR = {
    "A": (1, 1, 1, 2, 3, 4, 5, 6, 7, 8, 9),
    "B": (1, 2, 2, 3, 4, 6, 8, 10, 12, 14, 16),
    "C": (1, 3, 4, 6, 8, 11, 14, 18, 21, 24, 27),
    "D": (1, 4, 7, 9, 12, 16, 21, 27, 32, 36, 40),
}
FORM = {
    "E": (0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8),
    "F": (1, 1.5, 3, 4.5, 6, 8, 10, 12, 14, 16),
    "G": (1.5, 3, 5.5, 9, 11, 16, 20, 22, 25, 25),
    "H": (2.5, 5, 9, 14, 18, 26, 32, 36, 40, 40),
}
ANGLES = {"A": (20, 15, 10), "B": (45, 30, 20), "C": (60, 45, 30), "D": (90, 75, 60)}
CLASSES = ToleranceClasses.model_validate


def size(millimetres: float, kind: str = "linear", angle: str | None = None) -> NominalSize:
    more = {} if angle is None else {"angle": angle}
    return NominalSize.model_validate({"name": "n", "kind": kind, "size": f"{millimetres} mm", **more})


@pytest.mark.parametrize(
    ("letter", "at", "expected"),
    [(letter, at, value) for letter, row in LINEAR.items() for at, value in zip(SIZES, row, strict=True)],
)
def test_a_length_has_the_deviation_of_its_class(letter: str, at: int, expected: int) -> None:
    found = tolerance_of(size(at), CLASSES({"linear": letter}), brought_tolerances())
    assert found is not None
    assert (found.low, found.high) == (at - expected, at + expected)
    assert found.memory == (at == SIZES[0])


@pytest.mark.parametrize(
    ("letter", "at", "expected"),
    [(letter, at, value) for letter, row in FORM.items() for at, value in zip(SIZES[1:], row, strict=True)],
)
def test_a_form_has_the_maximum_of_its_class(letter: str, at: int, expected: float) -> None:
    for kind in ("straightness", "flatness", "parallelism"):
        found = tolerance_of(size(at, kind), CLASSES({"form": letter}), brought_tolerances())
        assert found is not None
        assert (found.low, found.high) == (None, Decimal(str(expected)))
        assert found.memory == (letter == "H" or (letter == "G" and at > SIZES[1]))


@pytest.mark.parametrize(
    ("letter", "leg", "minutes"),
    [(letter, leg, value) for letter, row in ANGLES.items() for leg, value in zip((400, 1000, 1001), row, strict=True)],
)
def test_an_angle_has_the_deviation_of_its_shorter_leg(letter: str, leg: int, minutes: int) -> None:
    found = tolerance_of(size(leg, "angle", "90°"), CLASSES({"linear": letter}), brought_tolerances())
    assert found is not None
    assert found.deviation == minutes
    assert 0 <= Decimal(minutes) / 60 - (found.high - 90) < Decimal("0.01")  # rounded into what is allowed
    assert found.high - 90 == 90 - found.low if found.low is not None else False


def test_a_size_just_over_a_band_belongs_to_the_next_one() -> None:
    found = tolerance_of(size(400.1), CLASSES({"linear": "B"}), brought_tolerances())
    assert found is not None
    assert found.deviation == 3


def test_without_a_class_or_a_value_nothing_is_said() -> None:
    assert tolerance_of(size(100), CLASSES({"form": "F"}), brought_tolerances()) is None
    assert tolerance_of(size(100, "flatness"), CLASSES({"linear": "B"}), brought_tolerances()) is None
    assert tolerance_of(size(2), CLASSES({"linear": "B"}), brought_tolerances()) is None
    assert tolerance_of(size(30, "flatness"), CLASSES({"form": "F"}), brought_tolerances()) is None


def test_sizes_of_the_demo_are_printed_and_measured_on_the_first_part(demo_packets: dict[str, Packet]) -> None:
    operation = demo_packets["lk-2063-coastal-column"].operations[0]
    length, _, flat, angle = operation.sizes
    assert (length.minimum, length.maximum, length.unit) == ("23.882", "24.118", "in")  # 24 in ± 3 mm, inward
    assert (flat.minimum, flat.maximum) == ("", "0.118")
    assert (angle.minimum, angle.maximum, angle.unit) == ("89.25", "90.75", "°")
    required = {result.key: result for result in operation.results}
    found = required[f"first-off/{length.key}"]
    assert (found.minimum, found.maximum, found.unit, found.stage) == ("23.882", "24.118", "in", "first-off")
