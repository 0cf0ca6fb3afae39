"""Texts of orders and tables are read by people: what nobody sees is refused, or is no text."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError
from weld_packets.errors import PacketError
from weld_packets.model.fields import Name, Text
from weld_packets.sources.reading.strict_yaml import read_yaml

UNSEEN = ("\u3164", "\u2800", "\u180e", "\U000e0041", "\ufe0f")


@pytest.mark.parametrize("written", ["title: {}\n", "source: a{}b\n", 'sign: "\\u3164"\n'])
@pytest.mark.parametrize("sign", UNSEEN, ids=ascii)
def test_a_sign_that_nobody_sees_is_refused_wherever_it_is_written(sign: str, written: str) -> None:
    with pytest.raises(PacketError, match="control or invisible character"):
        read_yaml(written.format(sign), "order.yaml")


@pytest.mark.parametrize("kind", [Name, Text])
@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("\u200d", "holds spaces only"),
        ("\u3164", "holds spaces only"),
        ("\u0301" * 79, "holds spaces only"),
        ("a" + "\u0301" * 78, "more than 4 marks are heaped on one letter"),
    ],
    ids=ascii,
)
def test_signs_that_nobody_sees_and_heaped_marks_are_no_text(kind: Any, text: str, why: str) -> None:
    with pytest.raises(ValidationError, match=why):
        TypeAdapter(kind).validate_python(text)


def test_a_title_is_one_line_and_a_text_may_have_several() -> None:
    with pytest.raises(ValidationError, match="holds a line break"):
        TypeAdapter(Name).validate_python("A\n\n\nB")
    assert TypeAdapter(Text).validate_python("A\nB") == "A\nB"
    assert TypeAdapter(Name).validate_python("A title\n") == "A title\n"


@pytest.mark.parametrize("sign", [chr(number) for number in range(0x20) if number != ord("\n")], ids=ascii)
def test_a_sign_that_controls_a_device_is_no_text(sign: str) -> None:
    with pytest.raises(ValidationError, match="holds a control character"):
        TypeAdapter(Text).validate_python(f"a{sign}b")
