"""Which test piece would qualify the most of the welds that no record covers."""

from __future__ import annotations

from weld_packets.calculation.qualification.test_piece import Open, most_covering
from weld_packets.calculation.qualification.values import Case, Terms


def welds(order: str, cap: str, number: int) -> Open:
    """Return some open welds of an order that differ from others by their cap alone; an empty one is not stated."""
    names = tuple(f"S{each}" for each in range(number))
    return Open(order, f"{order} {cap}", Case(names, "spot", {"cap": Terms((cap,)) if cap else None}))


def test_a_test_piece_for_more_orders_goes_before_one_for_more_welds() -> None:
    many = welds("A-1", "c1", 9)
    few = (welds("A-2", "c2", 2), welds("A-3", "c2", 1), welds("A-3", "c3", 8))
    piece = most_covering((many, *few), ())
    assert piece is not None
    assert [each.name for each in piece.covers] == ["A-2 c2", "A-3 c2"]
    alone = most_covering((few[0], many), ())
    assert alone is not None
    assert alone.of is many  # of equally many orders, here one, the more welds


def test_what_nobody_states_of_a_test_piece_qualifies_no_other_welds() -> None:
    first, second = welds("A-1", "", 2), welds("A-2", "", 2)
    piece = most_covering((first, second), ())
    assert piece is not None
    assert piece.covers == (first,)


def test_where_no_weld_is_open_no_test_piece_is_named() -> None:
    assert most_covering((), ()) is None
