"""Safety messages that an order's rows call for, each with what made it appear."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.model.tables import Hazard
from generator.packet.conditions import FORCE_KEY, reasons
from generator.packet.numbers import as_stated
from generator.packet.records import Callout, RowFact
from generator.packet.rowview import RowView
from generator.packet.shades import shade_origin, shade_words
from generator.packet.wording import capital, listed


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
    """Return the safety messages of all rows of an order, one for each hazard, in the order of the hazards table."""
    callouts: list[Callout] = []
    of_row: dict[str, list[str]] = {view.key: [] for view in views}
    for hazard in views[0].shop.hazards:
        found = {view.key: why for view in views if (why := reasons(hazard.when, view)) is not None}
        if found:
            callouts.append(_callout(hazard, [view for view in views if view.key in found], found, views))
        for key in found:
            of_row[key].append(hazard.id)
    return Messages(tuple(callouts), {row: tuple(keys) for row, keys in of_row.items()})


def _callout(
    hazard: Hazard, rows: Sequence[RowView], found: dict[str, tuple[str, ...]], views: Sequence[RowView]
) -> Callout:
    because = _alike(rows, lambda view: _sentences((*found[view.key], *_origins(hazard, view))))
    told = _alike(rows, lambda view: _sentences(_facts(hazard, view)))
    return Callout(
        key=hazard.id,
        word=hazard.word,
        signs=hazard.signs,
        hazard=hazard.hazard,
        consequence=hazard.consequence,
        avoid=hazard.avoid,
        why=" ".join(_because(_who(alike, views), text) for text, alike in because.items()),
        source=hazard.source,
        stages=hazard.stages,
        facts=tuple(
            RowFact(rows=tuple(view.key for view in alike), who=_who(alike, views), text=text)
            for text, alike in told.items()
            if text
        ),
    )


def _alike(rows: Sequence[RowView], say: Callable[[RowView], str]) -> dict[str, list[RowView]]:
    """Return the rows of which the same is said together."""
    found: dict[str, list[RowView]] = {}
    for view in rows:
        found.setdefault(say(view), []).append(view)
    return found


def _because(who: str, text: str) -> str:
    return f"{who}: {text}" if text else f"{who} of this order."


def _sentences(texts: Iterable[str]) -> str:
    return " ".join(f"{capital(text).rstrip('.')}." for text in texts if text)


def _who(rows: Sequence[RowView], views: Sequence[RowView]) -> str:
    return "Every row" if len(rows) == len(views) else rows_named(rows)


def rows_named(rows: Sequence[RowView]) -> str:
    """Return rows by number, such as ``Rows 1 and 3``."""
    return f"{'Row' if len(rows) == 1 else 'Rows'} {listed(str(view.number) for view in rows)}"


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


_SHADE = "M019"


@dataclass(frozen=True)
class _Fact:
    """What a row adds to the messages that carry one of these ISO 7010 signs and that ``fits`` holds for."""

    signs: frozenset[str]
    words: Callable[[RowView], str]
    fits: Callable[[Hazard], bool] = lambda _: True


def _in_manual(hazard: Hazard) -> bool:
    """Tell whether a message is of proving in manual mode; where arms start in automatic no reduced speed protects."""
    return "prove" in hazard.stages and "start" not in hazard.stages


_FACTS = (
    _Fact(frozenset({_SHADE}), shade_words),
    _Fact(frozenset({"M003", "W087"}), _noise),
    _Fact(frozenset({"W006", "P007", "P014"}), _field),
    _Fact(frozenset({"M017", "W071"}), _extraction),
    _Fact(frozenset({"W019", "W024"}), _force, lambda hazard: hazard.when.processes == ("21",)),
    _Fact(frozenset({"W018", "W019"}), _teach_speed, _in_manual),
)


def _facts(hazard: Hazard, view: RowView) -> Iterator[str]:
    signs = set(hazard.signs)
    for fact in _FACTS:
        if fact.signs & signs and fact.fits(hazard):
            yield fact.words(view)


def _origins(hazard: Hazard, view: RowView) -> Iterator[str]:
    """Yield where the facts of a row are from, where a table gave them."""
    if _SHADE in hazard.signs:
        yield shade_origin(view)
