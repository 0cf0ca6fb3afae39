"""Faults of a table of limits of imperfections, and what a limit comes to."""

from __future__ import annotations

from typing import Any

import pytest
from weld_packets.calculation.imperfections import (
    Measures,
    level_limit,
    limit_at,
    measures_of_butt,
    measures_of_fillet,
    size_allowed,
)
from weld_packets.calculation.table_checks.imperfection_problems import imperfection_problems
from weld_packets.model.tables.inspection import Imperfections
from weld_packets.units import Quantity, in_mm, quantity

LEVELS = ("B", "C", "D")


def table(*limits: dict[str, str], **more: Any) -> Imperfections:
    entry = {"id": "one", "numbers": ["1"], "name": "one", "source": "test", "limits": list(limits), **more}
    head = {"table": "t", "kind": "imperfections", "title": "t", "source": "test", "revision": "A"}
    return Imperfections.model_validate({**head, "short length": "25 mm", "entries": [entry]})


def whole(**changed: dict[str, str]) -> list[dict[str, str]]:
    """Return a sound limit for each level, each with its changes."""
    sound = {"B": "0.1", "C": "0.2", "D": "0.3"}
    return [{"level": level, "over": "0.5 mm", "share": sound[level], **changed.get(level, {})} for level in LEVELS]


def faults(*limits: dict[str, str]) -> list[tuple[str, str, str]]:
    return [(problem.key, problem.value, problem.message) for problem in imperfection_problems(table(*limits))]


def test_sound_limits_have_no_fault() -> None:
    assert faults(*whole()) == []


@pytest.mark.parametrize(
    ("change", "key", "message"),
    [
        ({"permitted": "no"}, "entries[0].limits[1]", "a limit has one form"),
        ({"area": "2 %"}, "entries[0].limits[1]", "a limit has one form"),
        ({"angle": "100°"}, "entries[0].limits[1]", "a limit has one form"),
        ({"share": "1.01"}, "entries[0].limits[1].share", "a share is more than 0 and at most 1"),
        ({"share": "0"}, "entries[0].limits[1].share", "a share is more than 0 and at most 1"),
        ({"up to": "0.4 mm"}, "entries[0].limits[1].up to", "the range ends at or below its beginning 0.5"),
    ],
)
def test_a_limit_that_cannot_be_is_stated_with_its_place(change: dict[str, str], key: str, message: str) -> None:
    found = faults(*whole(C=change))
    assert any(place == key and text.startswith(message) for place, _, text in found), found


def test_a_limit_without_any_form_is_stated() -> None:
    limits = [{"level": level, "over": "0.5 mm"} for level in LEVELS]
    assert [key for key, _, text in faults(*limits) if "one form" in text] == [
        f"entries[0].limits[{index}]" for index in range(3)
    ]


def test_an_end_without_a_size_caps_nothing() -> None:
    limits = [{"level": level, "over": "0.5 mm", "permitted": "no", "at most": "1 mm"} for level in LEVELS]
    assert faults(*limits)[0] == (
        "entries[0].limits[0].at most", "1 mm", "'at most' caps a size, and this limit gives none"
    )  # fmt: skip


@pytest.mark.parametrize(("angle", "good"), [("89°", False), ("90°", True), ("180°", True), ("181°", False)])
def test_the_toe_of_a_weld_is_not_sharper_than_a_corner_nor_flatter_than_the_sheet(angle: str, *, good: bool) -> None:
    limits = [{"level": level, "over": "0.5 mm", "angle": angle} for level in LEVELS]
    assert (not [key for key, _, text in faults(*limits) if "angle at the toe" in text]) is good


def test_a_level_without_a_limit_is_stated() -> None:
    assert faults(*whole()[:2]) == [("entries[0].limits", "one", "there is no limit for level D")]


def test_a_number_of_passes_without_a_limit_is_stated() -> None:
    several = [{"level": level, "over": "0.5 mm", "area": "2 %", "passes": "one"} for level in LEVELS]
    assert [text for _, _, text in faults(*several)] == [
        f"there is no limit for level {level} with several passes" for level in LEVELS
    ]


@pytest.mark.parametrize(("up_to", "over"), [("3 mm", "3.2 mm"), ("3.2 mm", "3 mm")])
def test_ranges_that_leave_a_gap_or_overlap_are_stated(up_to: str, over: str) -> None:
    more = {"level": "D", "over": over, "share": "0.3"}
    found = faults(*whole(D={"up to": up_to}), more)
    assert [text.replace("\N{NO-BREAK SPACE}", " ") for _, _, text in found] == [
        f"the ranges of level D do not follow one another at {over}"
    ]


def test_a_last_range_that_ends_is_stated() -> None:
    (found,) = faults(*whole(D={"up to": "3 mm"}))
    assert found[2].replace("\N{NO-BREAK SPACE}", " ") == "the last range of level D ends at 3 mm"


@pytest.mark.parametrize(
    ("strict", "loose"),
    [
        ({"share": "0.31"}, {}),
        ({"share": "0.1", "plus": "9 mm"}, {}),
        ({"share": "0.3"}, {"at most": "1 mm"}),
    ],
)
def test_a_stricter_level_that_allows_more_is_stated(strict: dict[str, str], loose: dict[str, str]) -> None:
    found = faults(*whole(C=strict, D=loose))
    assert [text for _, _, text in found] == ["level C allows more than level D"]


def test_levels_are_compared_by_what_they_permit_by_area_and_by_angle() -> None:
    def of(**by_level: str) -> list[str]:
        key = by_level.pop("key")
        limits = [{"level": level, "over": "0.5 mm", key: value} for level, value in by_level.items()]
        return [text for _, _, text in faults(*limits)]

    assert of(key="permitted", B="yes", C="no", D="yes") == ["level B allows more than level C"]
    assert of(key="area", B="2 %", C="1 %", D="3 %") == ["level B allows more than level C"]
    assert of(key="angle", B="110°", C="120°", D="90°") == ["level B allows more than level C"]


def test_the_face_of_a_flat_fillet_is_twice_its_throat() -> None:
    """Geometry: leg = throat times root 2, and the face is the long side of the triangle, leg times root 2."""
    measures = measures_of_fillet(thickness=quantity(4.0, "mm"), throat=quantity(2.5, "mm"), passes=1)
    face = measures.of("face width")
    assert face is not None
    assert in_mm(face) == 5.0
    assert [measures.of(what) for what in ("throat", "weld thickness")] == [quantity(2.5, "mm")] * 2


def test_a_butt_has_the_thickness_of_its_sheet_and_the_face_that_the_order_requires() -> None:
    wide = quantity(6.0, "mm")
    measures = measures_of_butt(thickness=quantity(2.4, "mm"), cap_width=wide, passes=1)
    assert measures.of("weld thickness") == quantity(2.4, "mm")
    assert measures.of("face width") == wide
    assert measures.of("throat") is None
    assert measures.of("root width") is None


def test_a_share_of_what_is_measured_later_has_no_size_yet() -> None:
    (entry,) = table(*whole()).entries
    limit = limit_at(entry, "C", Measures(quantity(2.0, "mm"), None, None, 1))
    assert limit is not None
    assert size_allowed(limit, None) is None


def test_a_size_without_a_share_needs_no_measure() -> None:
    (entry,) = table(*({"level": level, "over": "0.5 mm", "plus": "0.2 mm"} for level in LEVELS)).entries
    limit = limit_at(entry, "C", Measures(quantity(2.0, "mm"), None, None, 1))
    assert limit is not None
    size = size_allowed(limit, None)
    assert size is not None
    assert in_mm(size) == 0.2


@pytest.mark.parametrize("thickness", [quantity(0.125, "in"), quantity(3.175 * (1 + 1e-13), "mm")])
@pytest.mark.parametrize("turned", [False, True])
def test_a_thickness_converted_to_the_end_of_a_range_still_belongs_to_it(thickness: Quantity, *, turned: bool) -> None:
    """Whichever of the two ranges is first: what conversion adds does not lift it over the end."""
    thin, thick = whole(D={"up to": "3.175 mm"}), [{"level": "D", "over": "3.175 mm", "share": "0.4"}]
    (entry,) = table(*(thick + thin if turned else thin + thick)).entries
    limit = limit_at(entry, "D", Measures(thickness, None, None, 1))
    assert limit is not None
    assert str(limit.share) == "0.3"


def test_what_a_level_allows_is_found_by_number_and_cited_with_number_and_level() -> None:
    measures = measures_of_fillet(thickness=quantity(2.0, "mm"), throat=quantity(1.5, "mm"), passes=1)
    found = level_limit("1", table(*whole()), "C", measures)

    assert found is not None
    assert found.size == quantity(0.4, "mm")
    assert found.source == "test: 1, level C"
    remembered = level_limit("1", table(*whole(C={"from memory": "yes"})), "C", measures)
    assert remembered is not None
    assert remembered.source == "test: 1, level C, from memory"


def test_a_level_allows_nothing_that_no_source_says() -> None:
    measures = measures_of_fillet(thickness=quantity(0.5, "mm"), throat=quantity(1.5, "mm"), passes=1)

    assert level_limit("1", table(*whole()), "C", measures) is None  # over 0.5 mm, so not at 0.5 mm
    assert level_limit("9", table(*whole()), "C", measures) is None
    assert level_limit("1", None, "C", measures) is None
