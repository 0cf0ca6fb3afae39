"""Read ``mkdocs.yml`` of a plant: what it sets of the looks of its own sites."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

from pydantic import Field, StringConstraints

from weld_packets.errors import SourceError
from weld_packets.model.fields import Name, Record
from weld_packets.sources.folders import LOOKS_FILE, OVERRIDES
from weld_packets.sources.reading.binding import bind
from weld_packets.sources.reading.files import read_text
from weld_packets.sources.reading.places import KeyPath
from weld_packets.sources.reading.strict_yaml import read_yaml

Asset = Annotated[str, StringConstraints(pattern=r"^assets/[A-Za-z0-9_-]+(\.[A-Za-z0-9_-]+)+$")]
"""A file of the plant's ``site_overrides/``."""
Address = Annotated[str, StringConstraints(pattern=r"^https?://[^\s\"'<>]+/$")]


class Marks(Record):
    """The small pictures of the plant: at the head of each page, and on the browser's tab."""

    logo: Asset | None = None
    favicon: Asset | None = None


class Extra(Record):
    """Where all sites are for a device that scans the code on a printed sheet; without it the code holds words."""

    address: Address | None = None


class Looks(Record):
    """The plant's ``mkdocs.yml``, with the keys of MkDocs and the theme for the same things.

    ``site_name`` is shown over the list of all orders; ``extra_css`` come after the program's own stylesheets.
    """

    site_name: Name | None = Field(default=None, alias="site_name")
    theme: Marks = Marks()
    extra_css: tuple[Asset, ...] = Field(default=(), alias="extra_css")
    extra: Extra = Extra()


def load_looks(root: Path) -> Looks:
    """Return what the plant at ``root`` sets, nothing where it has no ``mkdocs.yml``.

    Raises SourceError for a key that the program sets itself, and for files that are not in ``site_overrides/``.
    """
    path = root / LOOKS_FILE
    if not path.exists():
        return Looks()
    document = read_yaml(read_text(path, LOOKS_FILE), LOOKS_FILE)
    looks = bind(document, Looks)
    message, remedy = "there is no such file in site_overrides/", "put it there, or leave the key out"
    missing = [(key, name) for key, name in _files(looks) if not (root / OVERRIDES / name).is_file()]
    if missing:
        raise SourceError([document.places.problem(key, name, message, remedy) for key, name in missing])
    return looks


def _files(looks: Looks) -> Iterator[tuple[KeyPath, str]]:
    marks = {"logo": looks.theme.logo, "favicon": looks.theme.favicon}
    yield from ((("theme", key), name) for key, name in marks.items() if name)
    yield from ((("extra_css", index), name) for index, name in enumerate(looks.extra_css))
