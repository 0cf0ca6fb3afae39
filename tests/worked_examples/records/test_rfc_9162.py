"""RFC 9162, Certificate Transparency Version 2.0, 2.1.1: Merkle tree heads."""

from __future__ import annotations

import pytest
from weld_packets.revisions.register.hash_tree import tree_digest

# Leaves as programs of certificate transparency share them in their tests. The heads of 1, 2 and 8 leaves agree with
# those tests (from memory); the others were computed by the definition in 2.1.1, apart from this program.
LEAVES = [bytes.fromhex(text) for text in (
    "", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f",
)]  # fmt: skip
HEADS = {
    0: "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    1: "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
    2: "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
    3: "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
    4: "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
    7: "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
    8: "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
}


@pytest.mark.parametrize(("count", "head"), HEADS.items())
def test_tree_head(count: int, head: str) -> None:
    assert tree_digest(LEAVES[:count]) == head
