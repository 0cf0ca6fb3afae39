from __future__ import annotations

import hashlib

from weld_packets.revisions.register.hash_tree import EMPTY, tree_digest, tree_digests

LEAVES = [str(number).encode() for number in range(40)]


def test_the_head_is_known_after_each_leaf() -> None:
    assert list(tree_digests(LEAVES)) == [tree_digest(LEAVES[:count]) for count in range(1, 41)]


def test_a_list_without_leaves_has_the_empty_head() -> None:
    assert tree_digest([]) == EMPTY


def test_the_order_and_the_number_of_the_leaves_matter() -> None:
    assert (
        len({tree_digest(LEAVES), tree_digest(LEAVES[::-1]), tree_digest(LEAVES[:-1]), tree_digest([*LEAVES, b""])})
        == 4
    )


def test_a_node_hashes_its_left_branch_before_its_right_one() -> None:
    """RFC 9162, 2.1.1: a leaf is hashed after 0x00, a node after 0x01; three leaves are a pair and one."""
    one, two, three = (hashlib.sha256(b"\x00" + leaf).digest() for leaf in (b"a", b"b", b"c"))
    pair = hashlib.sha256(b"\x01" + one + two).digest()
    assert list(tree_digests([b"a", b"b", b"c"])) == [
        one.hex(),
        pair.hex(),
        hashlib.sha256(b"\x01" + pair + three).hexdigest(),
    ]
