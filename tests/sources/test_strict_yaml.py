"""Strict YAML: text stays text, and everything that guesses, repeats or expands is refused with its line."""

import time
from typing import Any

import pytest
import yaml
from weld_packets.errors import Problem, SourceError
from weld_packets.sources.reading.places import Document
from weld_packets.sources.reading.strict_yaml import read_yaml

LOADERS = [yaml.SafeLoader, yaml.CSafeLoader]


def refusals(text: str, loader: Any = yaml.CSafeLoader) -> tuple[Problem, ...]:
    with pytest.raises(SourceError) as caught:
        read_yaml(text, "order.yaml", loader)
    return caught.value.problems


@pytest.mark.parametrize("loader", LOADERS)
@pytest.mark.parametrize(
    "word",
    ["on", "off", "yes", "No", "null", "~", "1:30", "12:30:45", "0123", "0x1F", "0o17", "1e3", "1.10", "1_000", ".inf",
     ".nan", "2026-01-05", "=", "1,5", "9" * 5000],
)  # fmt: skip
def test_every_plain_word_stays_the_text_that_was_written(word: str, loader: Any) -> None:
    assert read_yaml(f"key: {word}\n", "order.yaml", loader).tree == {"key": word}


def test_text_is_brought_to_one_form_of_accents() -> None:
    assert read_yaml("key: cafe\u0301\n", "order.yaml").tree == {"key": "caf\u00e9"}


def read_sample() -> Document:
    text = "title: A\noperations:\n  - name: R1\n    spots: [{x: 1, y: 2},\n      {x: 3}]\n  -\n    name: R2\n"
    return read_yaml(text, "o.yaml")


def test_every_value_knows_its_line() -> None:
    places = read_sample().places
    assert places.at(("title",)) == ("o.yaml", 1)
    assert places.at(("operations", 0, "name")) == ("o.yaml", 3)
    assert places.at(("operations", 0, "spots", 1, "x")) == ("o.yaml", 5)
    assert places.at(("operations", 1, "name")) == ("o.yaml", 7)


def test_a_missing_value_is_placed_at_what_should_hold_it() -> None:
    assert read_sample().places.at(("operations", 0, "process")) == ("o.yaml", 3)


REFUSED = [
    ("repeated key", "a: 1\nb: 2\na: 3\n", 3, "a", "already given on line 1"),
    ("repeated key inside", "r:\n  - {x: 1, x: 2}\n", 2, "r[0].x", "already given on line 2"),
    ("repeated key in another form", "caf\u00e9: 1\ncafe\u0301: 2\n", 2, "caf\u00e9", "already given on line 1"),
    ("anchor", "a: &x 1\n", 1, "a", "anchors are not read"),
    ("merge key", "a:\n  <<: {b: 1}\n", 2, "a.<<", "merge keys are not read"),
    ("tag", "a:\n  - !!int 3\n", 2, "a[0]", "tags are not read"),
    ("local tag", "a: !ENV HOME\n", 1, "a", "tags are not read"),
    ("python tag", "a: !!python/object/apply:os.system [ls]\n", 1, "a", "tags are not read"),
    ("second document", "a: 1\n---\nb: 2\n", 2, "", "a second document begins here"),
    ("directive", "%YAML 1.1\n---\na: 1\n", 1, "", "directives"),
    ("tab", "a:\n\tb: 1\n", 2, "", "there is a tab"),
    ("no value", "a:\nb: 1\n", 1, "a", "a value is missing here"),
    ("no key", '"": 1\n', 1, "", "a key is missing"),
    ("list as a key", "? [a]\n: 1\n", 1, "", "a key must be plain text"),
    ("list at the top", "- a\n", 1, "", "must hold keys with values"),
    ("only a comment", "# nothing\n", 1, "", "must hold keys with values"),
    ("second colon", "a: 1\nb: c: d\n", 2, "", "there is a second ':' on the line"),
    ("second colon in brackets", "a: [b:c, d: e: f]\n", 1, "", "a '[' list is not closed"),
    ("key without colon", "a: 1\nb\nc: 2\n", 3, "", "a key without ':'"),
    ("colon below its key", "a: 1\nb\n: 2\n", 3, "", "a key without ':'"),
    ("open list in a group", "a: {b: [1, 2}\n", 1, "", "a '[' list is not closed"),
    ("missing value in a group", "a: {b: 1, , c: 2}\n", 1, "", "a key or a value is missing"),
    ("open list", "a: [1, 2\nb: 3\n", 2, "", "a '[' list is not closed"),
    ("open group", "a: {x: 1\nb: 3\n", 2, "", "a '{' group is not closed"),
    ("open quote", "a: 'b\nc: d\n", 3, "", "a quote is not closed"),
    ("open quote before another document", "a: 'b\n---\nc: d\n", 2, "", "a quote is not closed"),
    ("bad number in an escape", 'a: "\\xzz"\n', 1, "", "a backslash in double quotes"),
    ("text that begins like a block", "a: > 3 mm\n", 1, "", "may not begin with this character"),
    ("text that begins like an alias", "a: * 3\n", 1, "", "may not begin with this character"),
    ("text that begins with a question mark", "a: ? b\n", 1, "", "may not begin with this character"),
    ("text after its quote", "a: 'b' c\n", 1, "", "goes on after its quote"),
    ("bad escape", 'a: "\\q"\n', 1, "", "a backslash in double quotes"),
    ("percent sign", "a: %x\n", 1, "", "may not begin with this character"),
    ("list on its key's line", "a: - b\n", 1, "", "a list may not begin on this line"),
    ("wrong indentation of a list", "a:\n  - 1\n - 2\n", 3, "", "does not line up"),
    ("wrong indentation of a key in a list", "a:\n  - b: 1\n     c: 2\n", 3, "", "indented too far"),
    ("a list where keys are", "a: 1\n- b\n", 2, "", "does not line up with the keys"),
    ("keys where a list is", "a:\n- b\n- c\n d: 1\n", 4, "", "there is a second ':' on the line"),
    ("wrong indentation of a key", "  a: 1\n b: 2\n", 2, "", "does not line up"),
    ("escaped control character", 'a: "x\\0"\n', 1, "a", "a control or invisible character"),
    ("too deep", "a: " + "[" * 21 + "]" * 21, 1, "a" + "[0]" * 19, "nested more than 20 deep"),
    ("alias to nothing", "a: *x\n", 1, "a", "aliases are not read"),
]


@pytest.mark.parametrize("loader", LOADERS)
@pytest.mark.parametrize(("text", "line", "key", "words"), [case[1:] for case in REFUSED], ids=[c[0] for c in REFUSED])
def test_what_is_refused_is_reported_with_line_and_key(text: str, line: int, key: str, words: str, loader: Any) -> None:
    (problem, *_) = refusals(text, loader)
    assert (problem.file, problem.line, problem.key) == ("order.yaml", line, key)
    assert words in problem.message
    assert problem.remedy


def test_all_structural_faults_are_reported_at_once() -> None:
    problems = refusals("a: &x 1\nb: *x\nc: !t 2\na: 4\n")
    assert [problem.line for problem in problems] == [1, 2, 3, 4]


def bomb() -> str:
    levels = [f"a{n}: &a{n} [{','.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 9)]
    return "a0: &a0 [x,x,x,x,x,x,x,x,x]\n" + "\n".join(levels)


@pytest.mark.parametrize("loader", LOADERS)
@pytest.mark.parametrize(
    ("text", "words"),
    [
        (bomb(), "anchors are not read"),
        ("[" * 50_000, "nest"),
        ("a: " + "{b: " * 5_000, "nested more than 20 deep"),
        ("".join(f"{' ' * n}a:\n" for n in range(600)), "nested more than 20 deep"),
        ("- " * 5_000, "nested more than 20 deep"),
        ("a: [" + "1," * 100_001 + "]", "more than 100,000 values"),
    ],
    ids=["alias bomb", "brackets", "braces", "indentation", "dashes", "many values"],
)
def test_bombs_are_refused_before_they_grow(text: str, words: str, loader: Any) -> None:
    begun = time.process_time()
    problems = refusals(text, loader)
    assert any(words in problem.message for problem in problems)
    assert time.process_time() - begun < 10, "a bound against explosion, not a measurement"


def test_a_file_full_of_faults_is_cut_short() -> None:
    assert len(refusals("a: [" + "&x 1," * 500 + "]")) == 50
