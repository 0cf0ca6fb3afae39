"""Read finished pages as a browser would: what they link to, what they would fetch, what they would run."""

from __future__ import annotations

import html
import posixpath
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import unquote, urlsplit

from generator.errors import PacketError, Problem
from generator.site.policy import inline_scripts, policy_names

_TAG = re.compile(r"<([a-zA-Z][^\s>/]*)((?:[^>\"']|\"[^\"]*\"|'[^']*')*)>")
_ATTRIBUTE = re.compile(r"""([^\s=>"'/]+)\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s>]+))""")
# Each begins with plain words: a search for those is many times faster than a look at every tag.
_WORDS = ("href", "src", "id=", "id =", "style", "poster", "action", "http-equiv")
_TELLING = tuple(re.compile(word) for word in (*_WORDS, *(f"{before}on[a-z]+\\s*=" for before in " \n\t\"'/")))
_REFERRING = frozenset({"href", "xlink:href", "src", "srcset", "poster", "action", "formaction"})
_FOLLOWED = frozenset({"a", "area"})


class BrokenSiteError(PacketError):
    """A finished site that must not be shown: a dead link, an outside address, script or style in a page."""


@dataclass(frozen=True)
class _Reference:
    page: str
    target: str
    tag: str

    def problem(self, message: str, remedy: str) -> Problem:
        return _problem(self.page, f"<{self.tag}>", self.target, message, remedy)


def inspect(site: Path, pages: Iterable[str]) -> None:
    """Raise BrokenSiteError with every fault in ``pages`` (paths inside ``site``); other files are only targets."""
    files = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    anchors: dict[str, set[str]] = {}
    references: list[_Reference] = []
    problems: list[Problem] = []
    for page in pages:
        text = (site / page).read_text(encoding="utf-8")
        anchors[page] = set()
        problems += _unlawful_blocks(page, text)
        for tag, name, value in _attributes(text):
            if name == "id":
                problems += _twice(page, value, anchors[page])
                anchors[page].add(value)
            elif name in _REFERRING:
                references.append(_Reference(page, value, tag))
            else:
                problems += _unlawful_attribute(page, tag, name, value)
    problems += [problem for reference in references for problem in _check(reference, anchors, files)]
    if problems:
        raise BrokenSiteError(problems)


def _attributes(text: str) -> Iterator[tuple[str, str, str]]:
    """Yield tag, name and value of every attribute of the tags that could refer, run or be referred to."""
    for start in sorted(_telling_tags(text)):
        tag = _TAG.match(text, start)
        if tag is None:
            continue
        for found in _ATTRIBUTE.finditer(tag.group(2)):
            value = found.group(2) or found.group(3) or found.group(4) or ""
            yield tag.group(1).lower(), found.group(1).lower(), html.unescape(value)


def _telling_tags(text: str) -> set[int]:
    """Return where the tags begin that hold one of the telling words; text between tags is left aside."""
    lowered = text.lower()
    starts = set()
    for word in _TELLING:
        for found in word.finditer(lowered):
            start = lowered.rfind("<", 0, found.start())
            if start > lowered.rfind(">", start, found.start()):
                starts.add(start)
    return starts


def _unlawful_blocks(page: str, text: str) -> Iterator[Problem]:
    """Yield inline scripts that the page's policy does not name, and any style block."""
    for script in inline_scripts(text):
        if not policy_names(text, script):
            yield _blocked(page, "<script>", script)
    if "<style" in text:
        yield _blocked(page, "<style>", "")


def _unlawful_attribute(page: str, tag: str, name: str, value: str) -> Iterator[Problem]:
    if name == "style" or name.startswith("on"):
        yield _blocked(page, f"<{tag} {name}>", value)
    if name == "http-equiv" and value.lower() == "refresh":
        yield _problem(page, f"<{tag} {name}>", value, "would lead readers away", "remove it")


def _twice(page: str, anchor: str, seen: set[str]) -> Iterator[Problem]:
    if anchor in seen:
        yield _problem(page, "id", anchor, "stands twice on the page", "give each place its own name")


def _check(reference: _Reference, anchors: Mapping[str, set[str]], files: set[str]) -> Iterator[Problem]:
    parts = urlsplit(reference.target)
    if parts.scheme or parts.netloc:
        if not _harmless_outside(reference.tag, parts.scheme, parts.path):
            yield reference.problem("points outside the site", "bring the file into the site")
        return
    target = _inside(reference.page, unquote(parts.path))
    if target not in files:
        yield reference.problem(f"leads to {target}, which is not in the site", "mend the link or add the page")
    elif parts.fragment and target in anchors and unquote(parts.fragment) not in anchors[target]:
        yield reference.problem(f"{target} has no place of that name", "mend the anchor")


def _harmless_outside(tag: str, scheme: str, path: str) -> bool:
    """Return whether nothing is fetched: an address that a reader may follow, or a picture held in the page."""
    return (scheme in {"http", "https"} and tag in _FOLLOWED) or (scheme == "data" and path.startswith("image/"))


def _inside(page: str, path: str) -> str:
    return posixpath.normpath(posixpath.join(posixpath.dirname(page), path)) if path else page


def _blocked(page: str, key: str, value: str) -> Problem:
    message = "would be blocked: pages carry no inline style or script"
    return _problem(page, key, value, message, "move it to site_overrides/assets")


def _problem(page: str, key: str, value: str, message: str, remedy: str) -> Problem:
    return Problem(file=page, line=0, key=key, value=value, message=message, remedy=remedy)
