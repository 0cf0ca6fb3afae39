"""Sentences on revisions of an order: their status, and what a page says that must not be worked from."""

from __future__ import annotations

from weld_packets.wording.english import as_sentences, capital

_NOT_FROM_HERE = "Do not work from this page"


def revision_words(revision: str, status: str) -> str:
    """Return a revision in short; what has no letter is called by its status, such as a draft."""
    return f"Rev {revision}" if revision else capital(status)


def status_words(revision: str, status: str) -> str:
    """Return a revision with its status, such as ``Rev C, in force``; what has no letter by its status alone."""
    return f"Rev {revision}, {status}" if revision else status


def document_words(superseded_by: str, effective_from: str, approver: str) -> tuple[str, ...]:
    """Return what the head of a page says of its revision beside the status, part by part."""
    parts = (
        f"superseded by {superseded_by}" if superseded_by else "",
        f"from {effective_from}" if effective_from else "",
        f"approved by {approver}" if approver else "",
    )
    return tuple(part for part in parts if part)


def superseded_notice(by: str) -> str:
    """Return what is said across a page of a superseded revision."""
    return as_sentences((f"By revision {by}", _NOT_FROM_HERE))


def withdrawn_notice(reason: str) -> str:
    """Return what is said across a page of a withdrawn revision: why, as its withdrawal says it."""
    return as_sentences((capital(reason), _NOT_FROM_HERE))


def coming_notice(effective_from: str) -> str:
    """Return what is said across a page of a revision that is not yet in force."""
    return as_sentences((f"Takes effect from {effective_from}", f"{_NOT_FROM_HERE} before"))


def proposed_notice(author: str) -> str:
    """Return what is said across a page of what waits for approval."""
    return as_sentences((f"By {author}, and not approved", "Do not make parts for delivery from these pages"))


def waiting_words(author: str, effective: str) -> str:
    """Return that a proposal waits for approval, for the list of all orders."""
    return f"Proposed by {author}, from {effective}: waits for approval"


NONE_IN_FORCE = "No revision of this order is in force."
DO_NOT_WELD = "Do not weld this order."


DIFFERENCE_NOT_KNOWN = "Not known here: what one of the two held is not kept."


def not_shown_words(*, was_kept: bool, kept_since: str = "") -> str:
    """Return why it is not shown what a revision of a table held; ``kept_since`` is the moment of the first kept."""
    if was_kept:
        missing = "Missing or altered: what it held was kept under its digest, and is not there as it was."
        return f"{missing} packets verify names the file: restore it from a copy."
    since = f", which it does since {kept_since}" if kept_since else ""
    return f"Not kept: it was released before the register kept what tables hold{since}."


def only_for_words(parts: str) -> str:
    """Return for which parts a revision holds that shares its order with another one."""
    return f"Only for parts {parts}."
