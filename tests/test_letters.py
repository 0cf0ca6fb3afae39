"""What of a text is seen, and which names mean one person."""

from __future__ import annotations

import pytest
from weld_packets.letters import (
    MARKS_AT_MOST,
    UNWANTED,
    as_person,
    has_heaped_marks,
    meaning,
    mixed_scripts,
    says_something,
    seen,
    shows_something,
    unseen_in,
)

UNSEEN = (
    *"\u3164\u2800\u180e\U000e0041\ufe0f\ufe00\U000e0100\u200b\u200d\u00ad\u202e\u115f\u1160\uffa0\ufeff",
    *"\u2065\U0001bca0\U0001d159\U0001d173\u034f\u17b4",
)
ACUTE = "\u0301"


@pytest.mark.parametrize("sign", UNSEEN, ids=ascii)
def test_an_invisible_sign_is_no_text_and_makes_no_other_name(sign: str) -> None:
    assert not shows_something(f" {sign} ")
    assert not says_something(sign)
    assert seen(f"{sign} a {sign}") == "a"
    assert unseen_in(f"a{sign}") == f"U+{ord(sign):04X}"
    assert meaning(f"Quality{sign} lead") == "quality lead"


@pytest.mark.parametrize("sign", [sign for sign in UNSEEN if sign != "\u200d"], ids=ascii)
def test_no_source_holds_a_sign_that_nobody_sees(sign: str) -> None:
    assert UNWANTED.search(sign)


@pytest.mark.parametrize("sign", [*"aé \n\tµ°√漢", "\u00a0", "\u200c", "\u200d", "\u0301"], ids=ascii)
def test_what_writing_needs_is_wanted(sign: str) -> None:
    assert not UNWANTED.search(sign)


@pytest.mark.parametrize(
    "name",
    [
        "Quality Lead",
        "QUALITY LEAD",
        "quality  lead",
        "\u00a0quality\u2003lead ",
        "ｑｕａｌｉｔｙ lead",
        "qua\u200blity lead",
        "𝐪uality lead",
        "quality\tlead",
        "qu\u0430lity lead",
        "QU\u0410LITY L\u0395AD",
        "qual\u0131ty l\u0435ad",
    ],
    ids=ascii,
)
def test_one_person_is_meant_however_the_name_is_typed(name: str) -> None:
    assert meaning(name) == "quality lead"


@pytest.mark.parametrize("name", ["quality-lead", "qualitylead", "quality lead 2", "qualité lead"])
def test_another_name_is_another_person(name: str) -> None:
    assert meaning(name) != "quality lead"


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("quality l\u0435ad", "l\u0435ad"),
        ("\u0391da Stone", "\u0391da"),
        ("\u0410\u0391", "\u0410\u0391"),
        ("Анна Иванова", ""),
        ("Νίκη, quality lead", ""),
        ("Anna Анна", ""),
        ("Łukasz Żak 2", ""),
        ("田中 Anna", ""),
    ],
    ids=ascii,
)
def test_a_word_of_two_scripts_that_look_the_same_is_found(text: str, word: str) -> None:
    assert mixed_scripts(text) == word


@pytest.mark.parametrize("name", ["Анна Иванова", "Νίκη Παππά", "Łukasz Żak"])
def test_capitals_make_no_other_person_in_other_scripts(name: str) -> None:
    assert meaning(name) == meaning(name.upper())


def test_capitals_that_have_several_forms_mean_one_letter() -> None:
    assert meaning("Straße") == meaning("STRASSE")
    assert meaning("e\u0301va") == meaning("ÉVA")


def test_marks_alone_are_no_text_and_are_not_heaped_on_a_letter() -> None:
    assert not shows_something(ACUTE * 79)
    assert not has_heaped_marks("a" + ACUTE * MARKS_AT_MOST + "b" + ACUTE * MARKS_AT_MOST)
    assert has_heaped_marks("a" + ACUTE * (MARKS_AT_MOST + 1))
    assert not has_heaped_marks("Việt Nam, " * 10)


def test_signs_without_a_word_show_something_and_say_nothing() -> None:
    assert shows_something("–")
    assert not says_something("– . !")
    assert says_something("NC 7")


def test_four_marks_on_a_letter_are_the_most_that_a_writing_needs() -> None:
    assert not has_heaped_marks("a" + ACUTE * 4)
    assert has_heaped_marks("a" + ACUTE * 5)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("José Núñez", "Jose Nunez"),
        ("Jose\u0301", "Jose"),
        ("x\u0306 lead", "x lead"),
        ("J. Smith", "J Smith"),
        ("Jean-Luc Roy", "Jean Luc Roy"),
        ("O'Brien", "O\u2019Brien"),
        ("Søren Łódź", "Soren Lodz"),
        ("Quality-Lead", "quality lead"),
        ("qu\u0430lity.lead", "quality lead"),
        ("Ἀθηνᾶ", "Αθηνα"),
    ],
    ids=ascii,
)
def test_what_is_over_or_between_the_letters_makes_no_other_person(one: str, other: str) -> None:
    assert as_person(one) == as_person(other) != ""


@pytest.mark.parametrize(
    ("one", "other"),
    [("lead 1", "lead 2"), ("Anna", "Ann"), ("か", "が"), ("राम", "रमा"), ("Иван", "Йван"), ("李娜", "李那")],
    ids=ascii,
)
def test_other_letters_and_digits_make_another_person(one: str, other: str) -> None:
    assert as_person(one) != as_person(other)
