"""What every record of a packet is: frozen, closed, and text already."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Plain(BaseModel):
    """A frozen record of text, numbers of things, and further records."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Fact(Plain):
    """A name and what it is, to confirm or to look up."""

    name: str
    value: str
    note: str = ""
