"""Words out of use stay out of every text that a person reads: pages, messages, code, scripts, styles and tests."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from weld_packets.commands import packets

ROOT = Path(__file__).parent.parent
SOURCE = ROOT / "generator" / "weld_packets"
OUT_OF_USE = re.compile(
    r"\b(told|tells?|mend(s|ed|ing)?|mind(s|ed)?|alike|greatest|(?<!at )least|ways?|reckon\w*|nought|kin|aimed"
    r"|stands? (for|in|on|here|beside|there|twice)|as asked|as it reads|our fault|known are|words are wrong"
    r"|set numbers?|head digest|register point|weld off|(more|less) than nothing|put right|the works"
    r"|(?<!there )is no (?!more|longer|wider|part)\w+)\b",
    re.IGNORECASE,
)
"""Each has a word in its place in the glossary; ``at least`` is one of those."""
OUT_OF_NAMES = re.compile(
    r"(?<![a-z])(told|tells|mend(s|ed|ing)?|mind(s|ed)?|alike|greatest|(?<!at )least|nought|kin|reckon\w*|aimed"
    r"|stands(?! still))(?![a-z])",
    re.IGNORECASE,
)
"""The same in the names, docstrings and comments of code. A cell or a robot that does not move stands still."""
OUT_OF_PROGRAM = re.compile(r"(?<![a-z])(ways?|rooms of|house)(?![a-z])", re.IGNORECASE)
"""Besides in the program: a direction, a path or a method has its name, and a package is one."""
OUT_OF_IDENTIFIERS = re.compile(
    r"\b_?(ask|asks|asked)_[a-z]\w*|\bAsk(ed)?[A-Z]\w*|\b(const|let|def|class) _?[Aa]sk(s|ed)?\b|\b[Aa]sk(ed)? = "
    r"|\b[Aa]sk(ed)?\.(?=[a-z])"
)
"""A thing is not named by who asks for it: seams are a group, a value is required; ``to ask`` is a verb."""
NOT_HELD = {
    "out_of_use.py": "names the words, to refuse them",
    "test_out_of_use.py": "refuses them",
    "test_words.py": "names the words, to find them",
    "test_shipped_tables_safety.py": "names phrases of the tables that are out of use",
}
"""Files that hold a word for the sake of the word."""
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
    pages = (*ROOT.glob("*.md"), *ROOT.glob("*/README.md"), ROOT / "mkdocs.yml")
    plain = (
        *ROOT.glob("tables/*.yaml"),
        *SOURCE.glob("commands/writing/starter/**/*.yaml"),
        *ROOT.glob("instructions/*/order.yaml"),
        *pages,
    )
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


def as_words(code: str) -> str:
    """Return code with its names cut into words: ``largestOf``, ``LARGEST_OF`` and ``largest_of`` are two each."""
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])|_", " ", code)


def code_files() -> Iterator[tuple[str, str]]:
    """Yield every module, script, style and template of the program, and every test, whole."""
    for kind in ("py", "js", "css", "html"):
        for path in sorted((*(ROOT / "generator").rglob(f"*.{kind}"), *(ROOT / "tests").rglob(f"*.{kind}"))):
            if path.name not in NOT_HELD and "frozen" not in path.parts:
                yield path.relative_to(ROOT).as_posix(), path.read_text("utf-8")


def found_in_code(name: str, text: str) -> list[str]:
    """Return the words of code that are out of use, each with its line."""
    kept_out = (OUT_OF_NAMES, OUT_OF_PROGRAM) if name.startswith("generator/") else (OUT_OF_NAMES,)
    return [
        f"{number}: {match[0]}"
        for number, line in enumerate(text.splitlines(), 1)
        for words in kept_out
        for match in words.finditer(line)
    ]


@cache  # when a test runs: each process that runs tests loads this file
def texts() -> list[tuple[str, str]]:
    return sorted(read_by_people())


@cache
def codes() -> dict[str, str]:
    return dict(code_files())


def test_every_kind_of_text_is_looked_at() -> None:
    names = {Path(name).suffix for name, _ in texts()}
    assert names == {".yaml", ".yml", ".md", ".html", ".js", ".py"}
    assert len(texts()) > 100


def test_no_word_out_of_use_is_in_a_text_that_people_read() -> None:
    assert [(name, words) for name, text in texts() if (words := found(text))] == []


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


def test_every_kind_of_code_is_looked_at() -> None:
    assert {Path(name).suffix for name in codes()} == {".py", ".js", ".css", ".html"}
    assert {name.split("/")[0] for name in codes()} == {"generator", "tests"}
    assert len(codes()) > 500


def test_no_word_out_of_use_is_in_a_name_a_comment_or_a_docstring() -> None:
    assert {name: words for name, text in codes().items() if (words := found_in_code(name, as_words(text)))} == {}


def test_nothing_is_named_by_who_asks_for_it() -> None:
    assert {name: match[0] for name, text in codes().items() if (match := OUT_OF_IDENTIFIERS.search(text))} == {}


@pytest.mark.parametrize(
    ("code", "matches"),
    [
        ("def asks(x): ...", True),
        ("_asked_of(x)", True),
        ("class AskedValue:", True),
        ("const asked = 3", True),
        ("of.asked.values", True),
        ("def test_what_an_order_asks_for(): ...", False),
        ("# who asks. It was asked for; entry.asked, ask for it", False),
    ],
)
def test_names_by_who_asks_are_found(code: str, matches: bool) -> None:
    assert bool(OUT_OF_IDENTIFIERS.search(code)) is matches


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ("SizeTold = told_faults(_told)", ["1: Told", "1: told", "1: told"]),
        ("const LEAST = greatestOf(x)", ["1: LEAST", "1: greatest"]),
        ("# at least 3 mm\nleast = 3", ["2: least"]),
        ("a cell stands still, a word stands here", ["1: stands"]),
        ("def _way_of(): ...", ["1: way"]),
        ("mindless, remind, threshold, always, waypoint, household", []),
    ],
)
def test_words_are_found_in_names_of_every_form(code: str, words: list[str]) -> None:
    assert found_in_code("generator/x.py", as_words(code)) == words


def test_a_direction_or_a_method_may_be_called_a_way_in_a_test() -> None:
    assert found_in_code("tests/x.py", "one way") == []


def test_a_template_shows_its_text_and_its_labels() -> None:
    text = of_template(SOURCE / "site" / "pages" / "templates" / "revisions" / "check.html")
    assert "A printed sheet is valid only while" in text
    assert "class=" not in text


def test_every_command_of_the_readme_exists_and_every_command_is_in_it() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    table = text[text.index("## Commands") : text.index("## Keeping")]
    context = packets.make_context("packets", ["--help"], resilient_parsing=True)
    assert set(re.findall(r"`packets ([a-z][a-z-]*)[^`]*`", table)) == set(packets.list_commands(context))
