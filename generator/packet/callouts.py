"""Safety messages that an order's rows call for, each with what made it appear."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.model.tables import Hazard
from generator.packet.conditions import FORCE_KEY, reasons
from generator.packet.numbers import as_stated
from generator.packet.records import Callout
from generator.packet.rowview import RowView
from generator.packet.shades import shade_words


@dataclass(frozen=True)
class Messages:
    """The messages of an order, and the keys of those that hold for each row, by row key."""

    callouts: tuple[Callout, ...]
    of_row: dict[str, tuple[str, ...]]

    def at(self, stage: str, row: str | None = None) -> tuple[Callout, ...]:
        """Return the messages of a stage, for one row or for all rows together."""
        wanted = None if row is None else self.of_row[row]
        return tuple(each for each in self.callouts if stage in each.stages and (wanted is None or each.key in wanted))


def messages(views: Sequence[RowView]) -> Messages:
    """Return the safety messages of all rows of an order, in the order of the hazards table."""
    callouts: list[Callout] = []
    of_row: dict[str, list[str]] = {view.key: [] for view in views}
    for hazard in views[0].shop.hazards:
        for callout, rows in _for_hazard(hazard, views):
            callouts.append(callout)
            for row in rows:
                of_row[row.key].append(callout.key)
    return Messages(tuple(callouts), {row: tuple(keys) for row, keys in of_row.items()})


def _for_hazard(hazard: Hazard, views: Sequence[RowView]) -> list[tuple[Callout, list[RowView]]]:
    """Return one message for all rows with the same reason; rows with another figure get their own."""
    alike: dict[str, list[RowView]] = {}
    for view in views:
        found = reasons(hazard.when, view)
        if found is not None:
            alike.setdefault(_because(hazard, view, found), []).append(view)
    return [(_callout(hazard, because, rows, views, single=len(alike) == 1), rows) for because, rows in alike.items()]


def _because(hazard: Hazard, view: RowView, found: tuple[str, ...]) -> str:
    told = ("; ".join(found), *_facts(hazard, view))
    return ". ".join(_sentence(each) for each in told if each)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".")


def _callout(
    hazard: Hazard, because: str, rows: Sequence[RowView], views: Sequence[RowView], *, single: bool
) -> Callout:
    who = "Every row" if len(rows) == len(views) else rows_named(rows)
    return Callout(
        key=hazard.id if single else f"{hazard.id}-{rows[0].key}",
        word=hazard.word,
        signs=hazard.signs,
        hazard=hazard.hazard,
        consequence=hazard.consequence,
        avoid=hazard.avoid,
        why=f"{who}: {because}." if because else f"{who} of this order.",
        source=hazard.source,
        stages=hazard.stages,
    )


def rows_named(rows: Iterable[RowView]) -> str:
    """Return rows by number, such as ``Rows 1 and 3``."""
    numbers = [str(view.number) for view in rows]
    return f"Row {numbers[0]}" if len(numbers) == 1 else f"Rows {', '.join(numbers[:-1])} and {numbers[-1]}"


def _noise(view: RowView) -> str:
    return f"noise at cell {view.cell.id}: {view.cell.noise}"


def _field(view: RowView) -> str:
    return f"magnetic field at cell {view.cell.id}: {view.cell.magnetic_field}"


def _extraction(view: RowView) -> str:
    return f"extraction at cell {view.cell.id}: {view.cell.extraction}"


def _force(view: RowView) -> str:
    force = view.greatest_text(FORCE_KEY)
    return f"the caps close with up to {force}" if force else ""


def _teach_speed(view: RowView) -> str:
    return f"manual reduced speed at most {as_stated(view.shop.plant.reduced_speed)}"


@dataclass(frozen=True)
class _Fact:
    """What a row adds to the messages that carry one of these ISO 7010 signs and that ``fits`` holds for."""

    signs: frozenset[str]
    words: Callable[[RowView], str]
    fits: Callable[[Hazard], bool] = lambda _: True


_FACTS = (
    _Fact(frozenset({"M019"}), shade_words),
    _Fact(frozenset({"M003", "W087"}), _noise),
    _Fact(frozenset({"W006", "P007", "P014"}), _field),
    _Fact(frozenset({"M017", "W071"}), _extraction),
    _Fact(frozenset({"W019", "W024"}), _force, lambda hazard: hazard.when.processes == ("21",)),
    _Fact(frozenset({"W018", "W019"}), _teach_speed, lambda hazard: "prove" in hazard.stages),
)


def _facts(hazard: Hazard, view: RowView) -> Iterator[str]:
    signs = set(hazard.signs)
    for fact in _FACTS:
        if fact.signs & signs and fact.fits(hazard):
            yield fact.words(view)
