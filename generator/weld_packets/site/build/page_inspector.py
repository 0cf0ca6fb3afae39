"""Read finished pages as a browser would: what they link to, what they would fetch, what they would run.

For tests and for `packets verify`; a build does not read its own pages again.
"""

from __future__ import annotations

import html
import posixpath
import re
from collections.abc import Collection, Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple
from urllib.parse import unquote, urlsplit

from weld_packets.errors import Problem
from weld_packets.site.build.policy import policy_names
from weld_packets.site.pages.site_plan import ALL_ORDERS

_TAG = re.compile(rb"<[a-zA-Z](?:[^>\"']|\"[^\"]*\"|'[^']*')*>")
_ATTRIBUTE = re.compile(r"""([^\s=>"'/]+)\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s>]+))""")
# Each begins with plain words: a search for those is many times faster than a look at every tag.
_WORDS = ("href", "src", "id=", "id =", "style", "poster", "action", "http-equiv", "background", "ping", "url(")
_EVENTS = tuple(f"{before}on[a-z]+\\s*=" for before in " \n\t\f\r\"'/")
_WATCHED = tuple(re.compile(word.encode()) for word in (*map(re.escape, _WORDS), *_EVENTS))
_REFERRING = frozenset(
    {"href", "xlink:href", "src", "srcset", "imagesrcset", "poster", "action", "formaction", "background", "ping"}
)
_ELEMENTS = (
    (rb"object|embed|iframe|frame|frameset|applet|base|portal|fencedframe", "bring another document into the page"),
    (rb"animate|animatemotion|animatetransform|set", "change attributes of the page while it is read"),
)
"""Elements that no page of ours has, and what each would do; a base leads all links elsewhere."""
_UNWANTED = tuple((re.compile(rb"<(" + names + rb")[\s/>]", re.IGNORECASE), does) for names, does in _ELEMENTS)
_SIGN_IN_VALUE = re.compile(
    rb"<[a-zA-Z][^<>\"']*(?:(?:\"[^\"<>]*\"|'[^'<>]*')[^<>\"']*)*(?:\"[^\"<>]*[<>]|'[^'<>]*[<>])"
)
"""A tag with < or > in the value of an attribute: what comes after it would be read as text."""
_FETCHED = re.compile(r"url\(\s*['\"]?(?!\s*['\"]?#)", re.IGNORECASE)
_SCRIPT = re.compile(rb"(<script(?=[\s/>])(?:[^>\"']|\"[^\"]*\"|'[^']*')*>)(.*?)</script", re.DOTALL | re.IGNORECASE)
_NAME = re.compile(rb"<([a-zA-Z][^\s/>]*)")
_FOLLOWED = frozenset({"a", "area"})


class _Reference(NamedTuple):
    """One reference; the same one from other pages of a folder leads to the same place, so it is checked once."""

    folder: str
    target: str
    tag: str


def page_problems(pages: Mapping[str, bytes], files: Collection[str]) -> list[Problem]:
    """Return every fault in ``pages``, given by path inside the site whose paths are ``files``.

    Faults are dead links, addresses outside the site that a browser would fetch, places named twice, and scripts and
    styles that the page's policy blocks. The list of all orders is beside the sites: a link to it is taken as good.
    """
    anchors: dict[str, set[str]] = {}
    references: dict[_Reference, str] = {}
    problems: list[Problem] = []
    for page, content in pages.items():
        anchors[page] = set()
        folder = posixpath.dirname(page)
        problems += _unlawful_blocks(page, content)
        for tag, name, value in _attributes(content):
            if name == "id":
                problems += _twice(page, value, anchors[page])
                anchors[page].add(value)
            elif name in _REFERRING:
                key = tag if name == "href" else f"{tag} {name}"  # nobody follows a ping: it is sent
                references.setdefault(_Reference(folder if value[:1] != "#" else page, value, key), page)
            else:
                problems += _unlawful_attribute(page, tag, name, value)
    for reference, page in references.items():
        problems += _check(page, reference, anchors, files)
    return problems


def _attributes(content: bytes) -> Iterator[tuple[str, str, str]]:
    """Yield tag, name and value of every attribute of the tags that could refer, run or be referred to."""
    for start in sorted(_watched_tags(content.lower())):
        tag = _TAG.match(content, start)
        if tag is not None:
            yield from _of_tag(tag.group())


@lru_cache(maxsize=8192)  # the same tags are in the frame of every page
def _of_tag(tag: bytes) -> tuple[tuple[str, str, str], ...]:
    begun = _NAME.match(tag)
    if begun is None:
        return ()
    name, inside = begun[1].decode(), tag[begun.end() : -1].decode()
    return tuple(
        (name.lower(), found.group(1).lower(), html.unescape(found.group(2) or found.group(3) or found.group(4) or ""))
        for found in _ATTRIBUTE.finditer(inside)
    )


def _watched_tags(lowered: bytes) -> set[int]:
    """Return where the tags begin that hold one of the watched words; text between tags is left aside."""
    starts = set()
    for word in _WATCHED:
        for found in word.finditer(lowered):
            start = lowered.rfind(b"<", 0, found.start())
            if start > lowered.rfind(b">", start, found.start()):
                starts.add(start)
    return starts


def _unlawful_blocks(page: str, content: bytes) -> Iterator[Problem]:
    """Yield inline scripts that the page's policy does not name, and any style block."""
    for found in _SCRIPT.finditer(content):
        attributes = {name: value for _, name, value in _of_tag(found[1])}
        script = found[2].decode()
        own = "src" in attributes or attributes.get("type") == "application/json"  # a file of the site, or data
        if not own and not policy_names(content.decode(), script):
            yield _blocked(page, "<script>", script)
    for elements, does in _UNWANTED:
        for found in elements.finditer(content):
            yield _problem(page, f"<{found[1].decode().lower()}>", "", f"would {does}", "remove it")
    for found in _SIGN_IN_VALUE.finditer(content):
        tag = found.group().decode()
        yield _problem(page, "tag", tag, "holds < or > in a value, which hides what follows", "write &lt; or &gt;")
    if b"<style" in content.lower():
        yield _blocked(page, "<style>", "")


def _unlawful_attribute(page: str, tag: str, name: str, value: str) -> Iterator[Problem]:
    if name == "style" or name.startswith("on"):
        yield _blocked(page, f"<{tag} {name}>", value)
    if name == "http-equiv" and value.lower() == "refresh":
        yield _problem(page, f"<{tag} {name}>", value, "would lead readers away", "remove it")
    if _FETCHED.search(value):
        yield _problem(page, f"<{tag} {name}>", value, "points outside the site", "bring the file into the site")


def _twice(page: str, anchor: str, seen: set[str]) -> Iterator[Problem]:
    if anchor in seen:
        yield _problem(page, "id", anchor, "is on the page twice", "give each place its own name")


def _check(
    page: str, reference: _Reference, anchors: Mapping[str, set[str]], files: Collection[str]
) -> Iterator[Problem]:
    parts = urlsplit(reference.target)
    fault, remedy = "", ""
    if parts.scheme or parts.netloc:
        if not _harmless_outside(reference.tag, parts.scheme, parts.path):
            fault, remedy = "points outside the site", "bring the file into the site"
    else:
        target = (
            posixpath.normpath(posixpath.join(posixpath.dirname(page), unquote(parts.path))) if parts.path else page
        )
        if target == ALL_ORDERS:
            return
        if target not in files:
            fault, remedy = f"leads to {target}, which is not in the site", "correct the link or add the page"
        elif parts.fragment and target in anchors and unquote(parts.fragment) not in anchors[target]:
            fault, remedy = f"{target} has no place of that name", "correct the anchor"
    if fault:
        yield _problem(page, f"<{reference.tag}>", reference.target, fault, remedy)


def _harmless_outside(tag: str, scheme: str, path: str) -> bool:
    """Return whether nothing is fetched: an address that a reader may follow, or a picture held in the page."""
    return (scheme in {"http", "https"} and tag in _FOLLOWED) or (scheme == "data" and path.startswith("image/"))


def _blocked(page: str, key: str, value: str) -> Problem:
    message = "would be blocked: pages carry no inline style or script"
    return _problem(page, key, value, message, "move it to a file of site_overrides/assets/")


def _problem(page: str, key: str, value: str, message: str, remedy: str) -> Problem:
    return Problem(file=page, line=0, key=key, value=value, message=message, remedy=remedy)
