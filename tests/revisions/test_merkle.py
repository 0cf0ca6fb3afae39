from __future__ import annotations

from weld_packets.revisions.register.merkle import EMPTY, heads, tree_head

LEAVES = [str(number).encode() for number in range(40)]


def test_the_head_is_known_after_each_leaf() -> None:
    assert list(heads(LEAVES)) == [tree_head(LEAVES[:count]) for count in range(1, 41)]


def test_a_list_without_leaves_has_the_empty_head() -> None:
    assert tree_head([]) == EMPTY


def test_the_order_and_the_number_of_the_leaves_matter() -> None:
    assert len({tree_head(LEAVES), tree_head(LEAVES[::-1]), tree_head(LEAVES[:-1]), tree_head([*LEAVES, b""])}) == 4
