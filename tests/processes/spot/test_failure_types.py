"""How a spot fails in a test: types after ISO 10447:2015 (read) and ISO 14329 (from memory), and which are good."""

from __future__ import annotations

import pytest
from weld_packets.processes.spot.family import failure_types
from weld_packets.units import quantity

INTERFACE, JUDGED = "interface", "interface, fused area large enough"


@pytest.mark.parametrize(
    ("thicknesses", "strengths", "explained"),
    [
        ((1.0, 1.0), (270, 270), False),
        ((1.5, 3.0), (270, 270), False),  # the thinner sheet decides
        ((1.6, 3.0), (270, 270), True),
        ((1.0, 1.0), (590, 780), True),
        ((1.0, 1.0), (589, 780), False),  # the weaker sheet decides
        ((1.0, 1.0), (None, 780), False),  # what nobody states explains nothing
    ],
)
def test_an_interface_failure_is_good_only_where_thickness_or_strength_explains_it(
    thicknesses: tuple[float, ...], strengths: tuple[float | None, ...], *, explained: bool
) -> None:
    found = failure_types(
        [quantity(each, "mm") for each in thicknesses],
        [None if each is None else quantity(each, "N/mm²") for each in strengths],
    )
    verdicts = {each.text: each.accepted for each in found}
    assert verdicts[INTERFACE] is False
    assert (verdicts.get(JUDGED) is True) == explained
    assert all(verdicts[name] for name in verdicts if name != INTERFACE)


def test_each_type_says_whether_it_was_read() -> None:
    found = failure_types([quantity(1, "mm")] * 2, [None, None])
    read = [each.text for each in found if each.source == "ISO 10447:2015"]
    assert read == ["symmetric plug", "asymmetric plug", "partial plug", "interface"]
    assert {each.source for each in found if each.text not in read} == {"ISO 14329 from memory"}
