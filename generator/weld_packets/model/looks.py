"""What a plant sets of the looks of its own sites; all else comes with the program."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, StringConstraints

from weld_packets.model.fields import Name, Record

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
