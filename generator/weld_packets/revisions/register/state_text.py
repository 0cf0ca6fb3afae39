"""The state of the register as people note it: how many entries, and the digests of the newest."""

from __future__ import annotations

import re

from weld_packets.errors import PacketError, unplaced
from weld_packets.revisions.records.canonical import SHORT_DIGEST, short
from weld_packets.revisions.register.hash_tree import EMPTY
from weld_packets.revisions.register.register import Register

_STATE = re.compile(r"\s*(?:register\s+)?([0-9]{1,9})\s*:\s*([0-9A-Fa-f\s+-]+)")  # what a person typed, or pasted


def register_state_text(register: Register) -> str:
    """Return the state of a register for writing down: how many entries, and the short digest of each newest one."""
    return f"{len(register.listed)}:{' + '.join(short(head) for head in register.heads or (EMPTY,))}"


def read_register_state(text: str) -> tuple[int, tuple[str, ...]]:
    """Return number of entries and digests in a text that ``register_state_text`` printed, or with whole digests.

    Raises PacketError for any other text.
    """
    # A person types it from a page or pastes it.
    found = _STATE.fullmatch(text)
    typed = found[2].split("+") if found else [""]  # of a register of several branches, one digest each
    digests = tuple(re.sub(r"[\s-]", "", each).lower() for each in typed)  # spaces as the reader likes
    if found is None or any(len(digest) < SHORT_DIGEST for digest in digests):
        message = "this is not a register digest"
        remedy = "write it as 'packets register' prints it, such as 12:1a2b 3c4d 5e6f"
        raise PacketError([unplaced("register digest", text, message, remedy)])
    return int(found[1]), digests
