"""Strict YAML: every scalar stays text, every node knows its line, and nothing is guessed or expanded."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from weld_packets.errors import Problem, SourceError
from weld_packets.sources.reading.files import refused, unwanted
from weld_packets.sources.reading.places import Document, KeyPath, Places, Tree, key_text

DEPTH_LIMIT = 20
NODE_LIMIT = 100_000
PROBLEM_LIMIT = 50
_LOADER: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_ALIGNED = "indent it like its neighbours, with spaces"
_UNCLOSED_QUOTE = "a quote is not closed", "close the text with the quote that began it"
_ESCAPE = (
    "a backslash in double quotes begins a code that is not known",
    "use single quotes, or write \\\\ for one backslash",
)
_NESTED = "brackets are nested too deep", "check the brackets of this line"
_NO_START = "a text may not begin with this character", "put the text in quotes"
_OUTERMOST = "this line does not line up with the keys above it", _ALIGNED
_INSIDE = {
    "[": ("a '[' list is not closed, or a comma is missing in it", "close the list with ']'"),
    "{": ("a '{' group is not closed, or a comma is missing in it", "close the group with '}'"),
    "-": ("this line does not line up with the list above it", "begin it with '- ' at the same indentation"),
    ":": (
        "this line does not line up with the keys above it, or a text in quotes goes on after its quote",
        _ALIGNED,
    ),
}
"""What the parser meets, by what is open: a list or group in brackets, a list of dashes, a group of keys."""
_AT = {
    ":": (
        "there is a second ':' on the line, or the line is indented too far",
        "put text that contains ': ' in quotes, and line the keys up",
    ),
    "-": ("a list may not begin on this line", "begin the list on the line below its key"),
    "[": _NESTED,
    "{": _NESTED,
}
"""What the scanner meets, by the character at which it stops."""


def read_yaml(text: str, file: str, loader: type = _LOADER) -> Document:
    """Return the document that ``text`` holds.

    Raises SourceError, with all problems found, for tabs, bad syntax, repeated or compound keys, anchors, aliases,
    merge keys, tags, directives, several documents, missing values, and documents too deep or too large.
    """
    _refuse_tabs(text, file)
    builder = _Builder(file)
    try:
        for event in yaml.parse(text, Loader=loader):
            builder.take(event)
    except yaml.YAMLError as error:
        builder.problems.append(_syntax_problem(error, text, builder.within, file))
    if builder.problems:
        raise SourceError(builder.problems)
    if not isinstance(builder.top, dict):
        raise refused(file, "the file must hold keys with values", "begin with a key, such as 'title: Side panel'", 1)
    return Document(builder.top, Places(file, builder.lines, builder.key_lines))


@dataclass
class _Open:
    """A mapping or list that is still open."""

    node: dict[str, Any] | list[Any]
    path: KeyPath
    brackets: bool = False
    key: str | None = None

    @property
    def form(self) -> str:
        """The sign of its form: a bracket, a dash for a list, a colon for keys."""
        is_list = isinstance(self.node, list)
        return ("[" if is_list else "{") if self.brackets else ("-" if is_list else ":")


@dataclass
class _Builder:
    """Grows the tree from the parser's events, so that nothing deep or long is ever built."""

    file: str
    top: Tree = ""
    lines: dict[KeyPath, int] = field(default_factory=dict)
    key_lines: dict[KeyPath, int] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    opened: list[_Open] = field(default_factory=list)
    count: int = 0
    documents: int = 0

    @property
    def within(self) -> str:
        """What is open now, by the sign of its form; empty at the top."""
        return self.opened[-1].form if self.opened else ""

    def take(self, event: Any) -> None:
        line = event.start_mark.line + 1
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event, line)
        elif isinstance(event, yaml.CollectionEndEvent):
            self.opened.pop()
        elif isinstance(event, yaml.CollectionStartEvent):
            self._collection(event, line)
        elif isinstance(event, yaml.AliasEvent):
            self._problem(line, f"*{event.anchor}", "aliases are not read", "write the value out where it is needed")
            self._place("", line)
        elif isinstance(event, yaml.DocumentStartEvent):
            self._document(event, line)

    def _document(self, event: Any, line: int) -> None:
        self.documents += 1
        if self.documents > 1:
            self._stop(line, "a second document begins here", "keep one document in a file: delete the '---' line")
        if event.version or event.tags:
            self._problem(line, "", "directives ('%' lines) are not read", "delete the line that begins with '%'")

    def _scalar(self, event: Any, line: int) -> None:
        self._check(event, line)
        text: str = event.value if event.value.isascii() else unicodedata.normalize("NFC", event.value)
        if hidden := unwanted(text):
            self._problem(line, hidden, "there is a control or invisible character in the text", "delete it")
        holder = self.opened[-1] if self.opened else None
        if holder and holder.key is None and isinstance(holder.node, dict):
            self._key(holder, text, line, plain=event.implicit[0])
            return
        if not text and event.implicit[0]:
            self._problem(
                line,
                "",
                "a value is missing here",
                "write the value; only a key that may be left out can be deleted instead",
            )
        self._place(text, line)

    def _key(self, holder: _Open, key: str, line: int, *, plain: bool) -> None:
        holder.key = key
        path = (*holder.path, key)
        if key == "<<" and plain:
            self._problem(line, "<<", "merge keys are not read", "write the keys out where they are needed")
        elif not key:
            self._problem(line, "", "a key is missing before ':'", "write the key")
        elif path in self.key_lines:
            first = self.key_lines[path]
            self._problem(line, "", f"the key is already given on line {first}", "keep one of the two")
        else:
            self.key_lines[path] = line

    def _collection(self, event: Any, line: int) -> None:
        self._check(event, line)
        holder = self.opened[-1] if self.opened else None
        if holder and holder.key is None and isinstance(holder.node, dict):
            self._stop(line, "a key must be plain text, not a list or a mapping", "write a plain key")
        if len(self.opened) >= DEPTH_LIMIT:
            self._stop(line, f"nested more than {DEPTH_LIMIT} deep", "check the brackets and the indentation")
        node: dict[str, Any] | list[Any] = {} if isinstance(event, yaml.MappingStartEvent) else []
        self.opened.append(_Open(node, self._place(node, line), bool(event.flow_style)))

    def _place(self, value: Tree, line: int) -> KeyPath:
        """Put ``value`` where it belongs and return its path."""
        if not self.opened:
            self.top = value
            return ()
        holder = self.opened[-1]
        if isinstance(holder.node, list):
            path = (*holder.path, len(holder.node))
            holder.node.append(value)
        else:
            path = (*holder.path, holder.key or "")
            holder.node[holder.key or ""] = value
            holder.key = None
        self.lines[path] = line
        return path

    def _check(self, event: Any, line: int) -> None:
        self.count += 1
        if self.count > NODE_LIMIT:
            self._stop(line, f"more than {NODE_LIMIT:,} values", "split the file")
        if event.anchor:
            self._problem(line, f"&{event.anchor}", "anchors are not read", "delete the anchor; put text in quotes")
        if event.tag:
            self._problem(line, event.tag, "tags are not read", "delete it; put text that begins with '!' in quotes")

    def _problem(self, line: int, value: str, message: str, remedy: str) -> None:
        self.problems.append(Problem(self.file, line, key_text(self._here()), value, message, remedy))
        if len(self.problems) >= PROBLEM_LIMIT:
            raise SourceError(self.problems)

    def _stop(self, line: int, message: str, remedy: str) -> None:
        self.problems.append(Problem(self.file, line, key_text(self._here()), "", message, remedy))
        raise SourceError(self.problems)

    def _here(self) -> KeyPath:
        if not self.opened:
            return ()
        holder = self.opened[-1]
        if isinstance(holder.node, list):
            return (*holder.path, len(holder.node))
        return holder.path if holder.key is None else (*holder.path, holder.key)


def _refuse_tabs(text: str, file: str) -> None:
    if "\t" in text:
        raise SourceError(list(_tabs(text, file))[:PROBLEM_LIMIT])


def _tabs(text: str, file: str) -> Iterator[Problem]:
    for number, line in enumerate(text.split("\n"), start=1):
        if "\t" in line:
            yield Problem(
                file, number, "", line.strip()[:40], "there is a tab; YAML wants spaces", "write spaces in its place"
            )


# ---------------------------------------------------------------- messages of the parser


@dataclass(frozen=True)
class _Spot:
    """A mark of the parser: line and column from 0, and the text from there to the end of its line."""

    line: int
    column: int
    text: str


def _syntax_problem(error: yaml.YAMLError, text: str, within: str, file: str) -> Problem:
    """Return what stopped the parser of ``text``, with its line.

    ``within`` is what was open there: ``[`` or ``{``, ``-`` for a list of dashes, ``:`` for keys, nothing at the top.
    """
    lines = text.split("\n")
    at = _spot(getattr(error, "problem_mark", None), lines)
    since = _spot(getattr(error, "context_mark", None), lines)
    if at is None:
        return Problem(file, 0, "", "", "this is not YAML", "write the file anew in a plain editor, as UTF-8 text")
    words = _parsed(at, since, within) if isinstance(error, yaml.parser.ParserError) else _scanned(at, since, lines)
    return Problem(file, at.line + 1, "", "", *words)


def _spot(mark: Any, lines: list[str]) -> _Spot | None:
    if mark is None:
        return None
    line = lines[mark.line] if mark.line < len(lines) else ""
    return _Spot(mark.line, mark.column, line[mark.column :])


def _parsed(at: _Spot, since: _Spot | None, within: str) -> tuple[str, str]:
    if at == since:
        return "a key or a value is missing here", "write it, or delete the line"
    return _INSIDE.get(within, _OUTERMOST)


def _scanned(at: _Spot, since: _Spot | None, lines: list[str]) -> tuple[str, str]:
    if since is None or at == since:
        return _AT.get(at.text[:1], _NO_START)
    if since.text.startswith(("|", ">", "&", "*", "!", "%")):
        return _NO_START
    if since.text.startswith(("'", '"')):
        if at.text.startswith(("---", "...")) or not (at.text or lines[at.line + 1 :]):
            return _UNCLOSED_QUOTE
        if "\\" in lines[at.line][: at.column + 1]:
            return _ESCAPE
    if at.text.startswith(":") and at.line == since.line:
        return _AT[":"]
    return "there is a key without ':' here or just above", "write 'key: value'"
