from __future__ import annotations

from weld_packets.calculation.results import SeamKind, SpotKind
from weld_packets.units import quantity
from weld_packets.wording.titles import name_of, short_name_of, title_of

ONE, TWO, FOUR = (quantity(size, "mm") for size in (1, 2, 4))
FILLET = SeamKind("T fillet", (("a", TWO),), "PB", (FOUR, FOUR))
LAP = SeamKind("lap fillet", (("z", TWO),), "PA", (ONE, TWO))


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_stacks_of_the_same_sheets_share_the_words_for_them() -> None:
    stacks = [SpotKind("K1", (ONE, TWO)), SpotKind("K3", (TWO, TWO)), SpotKind("K2", (ONE, TWO))]
    assert plain(title_of(stacks)) == "Stacks K1, K2: 1 mm + 2 mm; K3: 2 mm + 2 mm"
    assert name_of(stacks) == "stacks K1, K2 and K3"


def test_a_stack_may_hold_the_signs_that_part_a_title() -> None:
    stack = SpotKind("K: 1", (ONE, ONE))
    assert plain(title_of([stack, stack])) == "Stack K: 1: 1 mm + 1 mm"
    assert name_of([stack]) == short_name_of([stack]) == "stack K: 1"


def test_a_seam_is_titled_by_joint_size_position_and_sheets_and_called_by_the_first_two() -> None:
    assert plain(title_of([FILLET])) == "T fillet a 2 mm, PB, 4 mm + 4 mm"
    assert plain(short_name_of([FILLET, LAP])) == "T fillet a 2 mm and lap fillet z 2 mm"
    assert plain(title_of([LAP])) == "Lap fillet z 2 mm, PA, 1 mm + 2 mm"
