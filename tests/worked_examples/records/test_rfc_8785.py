"""RFC 8785, JSON Canonicalization Scheme, and FIPS 180-4, Secure Hash Standard."""

from __future__ import annotations

import json

from weld_packets.revisions.records.canonical import canonical, sha256


def test_section_3_2_3_sorts_keys_by_utf_16() -> None:
    # The sorting example of RFC 8785, 3.2.3: a surrogate pair goes before U+FB33.
    keys = ["\u20ac", "\r", "\ufb33", "1", "\U0001f600", "\u0080", "\u00f6"]
    sorted_keys = ["\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"]
    assert list(json.loads(canonical(dict.fromkeys(keys, "")))) == sorted_keys


def test_section_3_2_2_2_escapes_as_little_as_json_allows() -> None:
    # The string of the sample in RFC 8785, 3.2.2.
    text = '\u20ac$\u000f\nA\'B"\\\\"/'
    assert canonical(text) == '"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"'.encode()


def test_sha_256_of_abc() -> None:
    # FIPS 180-4, example for one block.
    assert sha256(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
