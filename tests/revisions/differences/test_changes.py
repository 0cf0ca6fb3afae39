from __future__ import annotations

from weld_packets.revisions.differences.changes import Altered, Redrawn, change_lines


def test_what_reads_the_same_in_several_places_is_one_line() -> None:
    places = [
        ("operation 3", "stack left"),
        ("operation 3", "stack right"),
        ("operation 4", "stack left"),
        ("operation 4",),
        ("operation 4", "stack left"),
    ]
    changes = [Altered(place, (place,), "current", "7.0", "7.4 kA") for place in places]
    assert change_lines(changes) == (
        "operation 3, stack left; stack right; operation 4, stack left; operation 4: current 7.0 -> 7.4 kA",
    )


def test_different_changes_stay_apart_in_their_order() -> None:
    changes = [
        Altered((), (("head",),), "quantity", "500", ""),
        Redrawn(("operation 1",), (("operations",),), "diagram Map"),
    ]
    assert change_lines(changes) == ("quantity 500 -> (nothing)", "operation 1: diagram Map redrawn")
