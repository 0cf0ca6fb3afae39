from __future__ import annotations

import json
from collections.abc import Callable

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.errors import OutOfRangeError
from weld_packets.packet.records.order import OrderHead, Packet, RunPlan
from weld_packets.revisions.records.canonical import agrees, canonical, packet_digest, sha256, short

VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)
DIGEST = "1a2b3c4d5e6f" + "0" * 52


def test_keys_are_sorted_and_nothing_is_spaced() -> None:
    assert canonical({"b": [1, True, None], "a": "8.40"}) == b'{"a":"8.40","b":[1,true,null]}'


@pytest.mark.parametrize("value", [1.5, [1.0], {"a": {"b": (0.1,)}}])
def test_a_binary_fraction_is_refused_wherever_it_is(value: object) -> None:
    with pytest.raises(OutOfRangeError, match="binary fraction"):
        canonical(value)


@pytest.mark.parametrize("value", [2**53, "\ud800", {1: "a"}, object()])
def test_what_json_cannot_hold_exactly_is_refused(value: object) -> None:
    with pytest.raises(OutOfRangeError, match="cannot be in a record"):
        canonical(value)


@given(VALUES)
def test_reading_gives_back_what_was_written(value: object) -> None:
    assert json.loads(canonical(value)) == value


@given(VALUES)
def test_another_writer_of_the_canonical_form_writes_the_same_bytes(value: object) -> None:
    assert canonical(value) == rfc8785.dumps(value)  # type: ignore[arg-type]


def test_a_short_digest_reads_in_three_groups() -> None:
    assert short(DIGEST) == "1a2b 3c4d 5e6f"


@pytest.mark.parametrize("given_text", [DIGEST, "1a2b3c4d5e6f", "1A2B 3C4D 5E6F", "1a2b-3c4d-5e6f-0000"])
def test_a_digest_is_recognised_whole_short_and_grouped(given_text: str) -> None:
    assert agrees(given_text, DIGEST)


@pytest.mark.parametrize("given_text", ["1a2b3c4d5e6", "1a2b3c4d5e60", "", DIGEST + "0"])
def test_a_digest_that_is_too_short_or_another_is_not_recognised(given_text: str) -> None:
    assert not agrees(given_text, DIGEST)


def test_the_packet_digest_changes_with_any_figure(packet: Packet, leaf: Callable[..., Packet]) -> None:
    changed = leaf(packet, ("operations", 0, "groups", 0, "dialled", 0, "amount", "value"), "8.5")
    assert packet_digest(packet) == packet_digest(packet.model_copy()) != packet_digest(changed)


@given(st.text(alphabet=st.characters(exclude_categories=["Cs"])), st.integers(0, 2**31))
def test_the_packet_digest_is_that_of_the_canonical_spelling(text: str, quantity: int) -> None:
    head = packet_with(title=text, quantity=quantity)
    assert packet_digest(head) == sha256(rfc8785.dumps(head.model_dump(mode="json")))


@given(VALUES)
def test_the_standard_library_writes_the_same_bytes_once_keys_are_sorted(value: object) -> None:
    by_utf_16 = json.dumps(_in_order(value), separators=(",", ":"), ensure_ascii=False)
    assert canonical(value) == by_utf_16.encode()


def _in_order(value: object) -> object:
    if isinstance(value, dict):
        return {key: _in_order(value[key]) for key in sorted(value, key=lambda key: key.encode("utf-16-be"))}
    return [_in_order(item) for item in value] if isinstance(value, list) else value


def test_text_that_no_encoding_holds_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        packet_digest(packet_with(title="\ud800", quantity=1))


def packet_with(*, title: str, quantity: int) -> Packet:
    head = OrderHead.model_construct(
        slug="door", number="W-1", title=title, part_number="P", part_name="Door", quantity=quantity, due="2026-01-05",
        revision_intent="first", previous_order="", plant="Plant", show_first="metric",
    )  # fmt: skip
    run = RunPlan(values=(), bottleneck="", model="", events=())
    return Packet(
        head=head, operations=(), changeover=None, callouts=(), cautions=(), start=(), run=run, run_steps=(), inspections=(),  # noqa: E501
        tables=(), formulas=(),
    )  # fmt: skip
