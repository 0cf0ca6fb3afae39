"""The page of qualification over all orders: each record with the operations that rest on it, and those inside none."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from markupsafe import Markup, escape

from weld_packets.wording.english import capital
from weld_packets.wording.revisions import status_words


@dataclass(frozen=True)
class KeptRecord:
    """A qualification record that the plant keeps, with its dates in words.

    ``end`` is the day from which nothing rests on it, empty where none is stated.
    """

    number: str
    standard: str
    dates: str
    end: str


@dataclass(frozen=True)
class QualifiedLine:
    """How an operation of an order is qualified: where its page is, what the order's state is, and the rest as text.

    ``pieces`` is where the test pieces are that would qualify it.
    """

    href: str
    pieces: str
    order: str
    state: str
    operation: str
    wps: str
    outcome: str
    text: str
    due: str


class QualifiedOperations:
    """How the operations of all sites are qualified, to which the card of each site is added in turn."""

    def __init__(self) -> None:
        """Begin with no operation."""
        self._by_record: dict[str, list[QualifiedLine]] = {}
        self._named: dict[str, list[QualifiedLine]] = {}
        self._ends: dict[str, str] = {}
        self._uncovered: list[QualifiedLine] = []

    def add(self, slug: str, card: Mapping[str, Any]) -> None:
        """Add the operations of an order by the folder of its site and that site's card."""
        state = status_words(card["revision"], card["status"])
        for each in card["qualified"]:
            words = (each["operation"], each["wps"], each["outcome"], each["text"], each.get("due", ""))
            sheet = each.get("wps_page") or each["page"]  # an order whose sources are wrong keeps an earlier site
            pages = (f"{slug}/{each['page']}", f"{slug}/{sheet}#test-pieces")
            line = QualifiedLine(*pages, card["order"], each.get("state") or state, *words)
            for record, end in each["records"]:
                self._by_record.setdefault(record, []).append(line)
                self._ends[record] = end
            for record in each.get("named", ()):  # cards of sites from before 0.3.0 do not say it
                self._named.setdefault(record, []).append(line)
            if line.outcome != "inside":
                self._uncovered.append(line)

    def under(self, kept: Sequence[KeptRecord] | None) -> dict[str, Any]:
        """Return each record with the operations that rest on it and those that only name it, and those inside none."""
        known = {each.number: each for each in kept or ()}
        gone = {record: KeptRecord(record, "", "", end) for record, end in self._ends.items()}
        records = sorted({**known, **gone})
        listed = [
            (known.get(record) or gone[record], self._by_record.get(record, []), self._named.get(record, []))
            for record in records
        ]
        return {"kept": listed, "uncovered": self._uncovered, "unread": kept is None}


def operation_rows(lines: Iterable[QualifiedLine], end: str, *, pieces: bool) -> Markup:
    """Return the rows of a table of operations, quickly: ten thousand orders have thirty thousand of them.

    ``end`` is the day from which nothing rests on their record; with ``pieces`` rows lead to their test pieces.
    """
    safe = cache(lambda text: str(escape(text)))  # most texts are those of many rows
    return Markup("".join(_row(line, end, safe, pieces=pieces) for line in lines))  # noqa: S704 - each is escaped


def _row(line: QualifiedLine, end: str, safe: Callable[[str], str], *, pieces: bool) -> str:
    late = " <b>after the record ends</b>" if end and line.due > end else ""
    verdict = "<b>inside</b>"
    if line.outcome != "inside":
        lead = f' <a href="{safe(line.pieces)}">its test pieces</a>' if pieces and line.outcome else ""
        verdict = f"{safe(capital(line.text))}{lead}"
    return (
        f"<tr><td>{safe(line.order)}</td><td>{safe(line.state)}</td><td>{safe(line.due)}{late}</td>"
        f'<td><a href="{safe(line.href)}">{safe(line.operation)}</a></td>'
        f"<td>{safe(line.wps or 'not stated')}</td><td>{verdict}</td></tr>\n"
    )
