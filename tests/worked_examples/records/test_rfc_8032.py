"""RFC 8032, Edwards-Curve Digital Signature Algorithm, 7.1: test vectors of Ed25519."""

from __future__ import annotations

import pytest
from weld_packets.revisions.register.signing import holds, public_of, signature_of

VECTORS = {
    "TEST 1": (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ),
    "TEST 2": (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ),
    "TEST 3": (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
    ),
}
vectors = pytest.mark.parametrize(
    ("secret", "public", "message", "signature"),
    [tuple(map(bytes.fromhex, vector)) for vector in VECTORS.values()],
    ids=VECTORS.keys(),
)


@vectors
def test_public_key(secret: bytes, public: bytes, message: bytes, signature: bytes) -> None:  # noqa: ARG001
    assert public_of(secret) == public


@vectors
def test_signature(secret: bytes, public: bytes, message: bytes, signature: bytes) -> None:
    assert signature_of(secret, message) == signature
    assert holds(public, signature, message)
    assert not holds(public, signature, message + b"\x00")
    assert not holds(public, signature[:-1] + bytes([signature[-1] ^ 1]), message)
