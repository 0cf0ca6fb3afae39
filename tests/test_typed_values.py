"""No function takes apart a text that another one made: what a reader must know is a field of its own."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parent.parent / "generator" / "weld_packets"
PACKAGES = ("packet", "diagrams", "wording", "revisions")
TAKES_APART = {
    "partition", "rpartition", "split", "rsplit", "splitlines", "removeprefix", "removesuffix", "startswith",
    "endswith",
}  # fmt: skip


def modules() -> list[Path]:
    return sorted(path for package in PACKAGES for path in (SOURCE / package).rglob("*.py"))


def takes_apart(call: ast.Call) -> bool:
    """Tell whether a call searches or cuts a text: a method of text, or anything of ``re``."""
    called = call.func
    if not isinstance(called, ast.Attribute):
        return False
    of_re = isinstance(called.value, ast.Name) and called.value.id == "re"
    return of_re or called.attr in TAKES_APART


def without_reason(source: str) -> Iterator[str]:
    """Yield the lines that take a text apart and say neither beside nor above why."""
    lines = source.splitlines()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and takes_apart(node):
            first, last = node.lineno, node.end_lineno or node.lineno
            near = (lines[first - 2], *lines[first - 1 : last])
            if not any("  # " in line or line.strip().startswith("# ") for line in near):
                yield f"{first}: {lines[first - 1].strip()}"


def test_a_text_is_taken_apart_only_with_a_reason_beside_it() -> None:
    paths = modules()
    assert len(paths) > 100
    assert [(path, line) for path in paths for line in without_reason(path.read_text("utf-8"))] == []


@pytest.mark.parametrize(
    "line",
    [
        'name = title.partition(": ")[2]',
        "import re\nfound = re.sub('a', 'b', text)",
        "is_stack = title.startswith('s')",
    ],
)
def test_a_text_that_is_taken_apart_without_a_reason_is_found(line: str) -> None:
    assert len(list(without_reason(f"title = text = made()\n\n{line}\n"))) == 1


SPELLED = ('.endswith(".")', '| replace(" ", "-")')
"""How a sentence ends, and a word as the name of a class: neither says what the text means."""


def cuts_of(template: str) -> list[str]:
    """Return where a template searches or cuts a text."""
    found = re.findall(rf"(?:\.(?:{'|'.join(sorted(TAKES_APART))})|\| *replace)\([^)]*\)", template)
    return [each for each in found if each not in SPELLED]


@pytest.mark.parametrize("path", sorted(SOURCE.rglob("*.html")), ids=lambda path: path.name)
def test_no_template_takes_a_text_apart(path: Path) -> None:
    assert cuts_of(path.read_text("utf-8")) == []


@pytest.mark.parametrize(
    "text", ['{% if key.endswith("-x") %}', "{{ welds.split('; ')[0] }}", '{{ a | replace("b", "") }}']
)
def test_a_template_that_takes_a_text_apart_is_found(text: str) -> None:
    assert len(cuts_of(text)) == 1
