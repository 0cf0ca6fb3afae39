from __future__ import annotations

from weld_packets.revisions.differences.changes import Altered, Redrawn, in_lines


def test_what_reads_the_same_in_several_places_is_one_line() -> None:
    places = ["row 3, stack left", "row 3, stack right", "row 4, stack left", "row 4", "row 4, stack left"]
    changes = [Altered(place, ((place,),), "current", "7.0", "7.4 kA") for place in places]
    assert in_lines(changes) == ("row 3, stack left; stack right; row 4, stack left; row 4: current 7.0 -> 7.4 kA",)


def test_different_changes_stay_apart_in_their_order() -> None:
    changes = [Altered("", (("head",),), "quantity", "500", ""), Redrawn("row 1", (("rows",),), "diagram Map")]
    assert in_lines(changes) == ("quantity 500 -> (nothing)", "row 1: diagram Map redrawn")
