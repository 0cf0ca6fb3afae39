"""Words out of use stay out of every text that a person reads and that no process makes."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from weld_packets.commands import packets

ROOT = Path(__file__).parent.parent
SOURCE = ROOT / "generator" / "weld_packets"
OUT_OF_USE = re.compile(
    r"\b(told|tells?|mend(s|ed|ing)?|mind(s|ed)?|alike|greatest|(?<!at )least|ways?|reckon\w*|nought|kin|aimed"
    r"|stands? (for|in|on|here|beside|there|twice)|as asked|as it reads|our fault|known are|words are wrong"
    r"|set numbers?|head digest|register point|weld off)\b",
    re.IGNORECASE,
)
"""Each has a word in its place in the glossary; ``at least`` is one of those."""
MESSAGES = ("calculation", "commands", "revisions", "site", "sources", "units")
"""Packages that write to the user themselves; what the others say is made in `wording` and `packet`."""
LITERAL = re.compile(r"\"[^\"\n]*\"|'[^'\n]*'|`[^`]*`")


def found(text: str) -> list[str]:
    return [match[0] for match in OUT_OF_USE.finditer(re.sub(r"\s+", " ", text))]


def of_template(path: Path) -> str:
    """Return the text of a template: what is left without its tags, expressions and statements."""
    text = path.read_text("utf-8")
    shown = re.findall(r"(?:aria-label|placeholder|title|alt)=\"([^\"]*)\"", text)
    return " ".join([re.sub(r"{%.*?%}|{{.*?}}|<[^>]*>", " ", text, flags=re.DOTALL), *shown])


def of_script(path: Path) -> str:
    """Return the texts of a script: its literals that hold a space, which names and selectors seldom do."""
    return " ".join(text for text in LITERAL.findall(path.read_text("utf-8")) if " " in text)


def docstrings(tree: ast.AST) -> set[int]:
    """Return the texts that describe code: statements that are a text alone."""
    return {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}


def of_code(path: Path, *, described: bool) -> str:
    """Return the texts of a module: its messages, and with ``described`` the docstrings that a schema shows."""
    tree = ast.parse(path.read_text("utf-8"))
    silent = set() if described else docstrings(tree)
    texts = [node for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)]
    return " ".join(str(node.value) for node in texts if id(node) not in silent and " " in str(node.value))


def read_by_people() -> Iterator[tuple[str, str]]:
    """Yield every text with the name of its file."""
    pages = (ROOT / name for name in ("README.md", "DEVELOPERS.md", "mkdocs.yml"))
    plain = (*ROOT.glob("tables/*.yaml"), *ROOT.glob("instructions/*/order.yaml"), *pages)
    for path in plain:
        yield str(path.relative_to(ROOT)), path.read_text("utf-8")
    for path in SOURCE.glob("site/**/*.html"):
        yield str(path.relative_to(SOURCE)), of_template(path)
    for path in SOURCE.glob("site/**/*.js"):
        yield str(path.relative_to(SOURCE)), of_script(path)
    for path in (each for package in MESSAGES for each in SOURCE.glob(f"{package}/**/*.py")):
        if path.name != "out_of_use.py":
            yield str(path.relative_to(SOURCE)), of_code(path, described=False)
    for path in SOURCE.glob("model/*.py"):
        yield str(path.relative_to(SOURCE)), of_code(path, described=True)


TEXTS = sorted(read_by_people())


def test_every_kind_of_text_is_looked_at() -> None:
    names = {Path(name).suffix for name, _ in TEXTS}
    assert names == {".yaml", ".yml", ".md", ".html", ".js", ".py"}
    assert len(TEXTS) > 100


@pytest.mark.parametrize(("name", "text"), TEXTS, ids=[name for name, _ in TEXTS])
def test_no_word_out_of_use_is_in_a_text_that_people_read(name: str, text: str) -> None:
    assert found(text) == [], name


@pytest.mark.parametrize(
    "name", sorted(packets.list_commands(packets.make_context("packets", ["--help"], resilient_parsing=True)))
)
def test_no_word_out_of_use_is_in_the_help_of_a_command(name: str) -> None:
    context = packets.make_context("packets", [name], resilient_parsing=True)
    command = packets.get_command(context, name)
    assert command is not None
    assert found(command.get_help(context)) == []


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("the greatest of them, at least 3", ["greatest"]),
        ("at\nleast 3 mm and the least", ["least"]),
        ("a tab stands here", ["stands here"]),
        ("the cell stands still", []),
        ("remind, always, mankind", []),
    ],
)
def test_words_are_found_as_whole_words(text: str, words: list[str]) -> None:
    assert found(text) == words


def test_a_template_shows_its_text_and_its_labels() -> None:
    text = of_template(SOURCE / "site" / "pages" / "templates" / "check.html")
    assert "A printed sheet is valid only while" in text
    assert "class=" not in text


def test_every_command_of_the_readme_exists_and_every_command_is_in_it() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    table = text[text.index("## Commands") : text.index("## Revisions")]
    context = packets.make_context("packets", ["--help"], resilient_parsing=True)
    assert set(re.findall(r"`packets ([a-z][a-z-]*)[^`]*`", table)) == set(packets.list_commands(context))
