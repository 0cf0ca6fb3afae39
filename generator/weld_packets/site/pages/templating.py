"""Our own templates: every value is escaped, a missing one is an error, and they are compiled once per process."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from datetime import datetime
from functools import cache
from operator import attrgetter
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket
from jinja2.runtime import Context
from markupsafe import Markup, escape

from weld_packets.drawing.signs import SIGNS
from weld_packets.packet.forms import by_task, step_digest, task_digest
from weld_packets.packet.operation.card import (
    card_remarks,
    card_tables,
    killer_items,
    people_words,
)
from weld_packets.packet.records.order import ChangeLine, RunEvent, RunRule
from weld_packets.packet.records.qualification import qualification_words
from weld_packets.packet.records.steps import Callout
from weld_packets.packet.records.values import PutIn, TracePoint
from weld_packets.packet.settings.checks import warnings_of
from weld_packets.revisions.differences.changes import Altered, Change
from weld_packets.site.pages.device_data import order_data
from weld_packets.site.pages.mathml import formula_markup, numbers_markup, symbol_text
from weld_packets.site.pages.qr_codes import inline_code
from weld_packets.site.pages.shared_lists import judged_by_eye, result_lines
from weld_packets.site.pages.stated import Place
from weld_packets.units import Amount, Span
from weld_packets.units.amounts import held_to_units
from weld_packets.units.zones import clock_text
from weld_packets.wording.card import RANGES_TOGETHER, worn_words
from weld_packets.wording.changeover import changed_words, is_as_released
from weld_packets.wording.english import capital, counted
from weld_packets.wording.inspection import required_words
from weld_packets.wording.phrases import at_count

_STEP_WORDS = {"given": "Given", "lookup": "Read from a table", "formula": "Calculated", "rounded": "Set to a step"}
"""What each step of a calculation is called."""


def render(name: str, **context: object) -> str:
    """Return the template ``name`` filled with ``context``."""
    with variables_forgotten():
        return _environment().get_template(name).render(context)


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    prepare(environment)
    environment.globals.update(
        sign_names=SIGNS,
        step_words=_STEP_WORDS,
        by_key=_by_key,
        order_data=order_data,
        task_digest=task_digest,
        steps_by_task=by_task,
        card_tables=card_tables,
        card_remarks=card_remarks,
        killer_items=killer_items,
        qualification_words=qualification_words,
        people_words=people_words,
        worn_words=worn_words,
        ranges_together=RANGES_TOGETHER,
        required_words=required_words,
        judged_by_eye=judged_by_eye,
        result_lines=result_lines,
        is_as_released=is_as_released,
    )
    environment.filters.update(
        shown=attrgetter("first_text"),
        second=second,
        both=amount_markup,
        both_in_line=attrgetter("text"),
        allowed_range=allowed_range,
        code=inline_code,
        as_under=_as_under,
        put_in=_put_in,
        symbols_named=_symbols_named,
        in_symbols=_in_symbols,
        in_numbers=_in_numbers,
        equation=_equation,
        reason=_reason,
        at_count=_at_count,
        clock=_clock,
        to_check=warnings_of,
        step_digest=step_digest,
        about=lambda warning: warning.sentence,
        capital=capital,
        changed_in_cell=_changed_in_cell,
        with_arrows=_with_arrows,
        in_brief=in_brief,
        counted=counted,
        unbroken=held_to_units,
        where=lambda warning: warning.place,
        symbol=symbol_text,
        drawn=Markup,  # only for pictures, which the package of drawings writes and escapes
    )
    return environment


def _in_symbols(point: TracePoint) -> Markup:
    return formula_markup(point.symbol, point.expression)


def _in_numbers(point: TracePoint) -> Markup:
    numbers = {put.symbol: (put.amount.value, put.amount.unit) for put in point.numbers}
    return numbers_markup(point.symbol, point.expression, numbers)


def _put_in(numbers: Iterable[PutIn]) -> Markup:
    """Return what is put into a formula, each symbol with its number."""
    said = (f"{symbol_text(put.symbol)} = {escape(put.amount.first_text)}" for put in numbers)
    return Markup(", ".join(said))  # noqa: S704 - both parts are escaped


def _symbols_named(numbers: Iterable[PutIn]) -> Markup:
    """Return what the symbols of a formula mean."""
    said = (f"{symbol_text(put.symbol)}: {escape(put.name)}" for put in numbers)
    return Markup(", ".join(said))  # noqa: S704 - both parts are escaped


def _as_under(place: Place, here: str) -> str:
    """Return where else on its page something is stated; ``here`` is the value under which this is said."""
    if place.anchor == here:
        return "as above"
    link = f'<a href="#{escape(place.anchor)}">as under {escape(place.label)}</a>'
    return Markup(link)  # noqa: S704 - both parts are escaped


def _equation(printed: str) -> Markup:
    """Return a printed formula, such as ``A = b * t``, in symbols; a limit in words stays as it is."""
    symbol, equals, expression = printed.partition(" = ")
    try:
        return formula_markup(symbol, expression) if equals else escape(printed)
    except (SyntaxError, ValueError):  # a record may hold words after the sign
        return escape(printed)


def _by_key(callouts: Iterable[Callout]) -> dict[str, Callout]:
    return {callout.key: callout for callout in callouts}


def _changed_in_cell(lines: Iterable[ChangeLine]) -> str:
    return changed_words([(line.what, line.before, line.after) for line in lines])


def _with_arrows(change: object) -> str:
    """Return a change in words, which a terminal shows too, with arrows as a page has them."""
    return str(change).replace("->", "→")


def in_brief(change: Change) -> str:
    """Return a change with arrows; of a text with two long readings its place alone: nobody compares them by eye."""
    if isinstance(change, Altered) and min(len(change.before), len(change.after)) > _LONG:
        return f"{', '.join((*change.where, change.what))} reads differently"
    return _with_arrows(change)


def _at_count(event: RunEvent) -> str:
    return at_count(event.part_number, event.when)


def _clock(recorded: str, zone: str) -> str:
    """Return a moment of a record as a clock of the zone shows it."""
    return clock_text(datetime.fromisoformat(recorded), zone)


def _reason(due: RunEvent | RunRule) -> str:
    """Return from what a count follows; a rule and the changes between its turns rest on the same."""
    robots = " and ".join(due.robots) if isinstance(due, RunRule) else due.robot
    return f"{', '.join(part for part in (due.operation_name, robots) if part)}: {due.basis}"


class _TemplateCache(FileSystemBytecodeCache):
    """Compiled templates on disk; failures are ignored, since all they cost is the time of compiling again."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):
            super().dump_bytecode(bucket)


class _Variables(Context):
    """The variables of a page, or of one of the files of macros that it imports."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _OPEN.get([]).append(self)


_OPEN: ContextVar[list[Context]] = ContextVar("_OPEN")
"""The variables of all pages that are being made."""


@contextmanager
def variables_forgotten() -> Iterator[None]:
    """Forget the variables of the pages that are made inside.

    A macro knows its file's variables, which know the macro: a cycle that keeps all that a page was made from, so that
    each page would leave work to the collector of cycles.
    """
    made: list[Context] = []
    before = _OPEN.set(made)
    try:
        yield
    finally:
        _OPEN.reset(before)
        for variables in made:
            variables.vars.clear()


def prepare(environment: Environment) -> None:
    """Let ``environment`` forget the variables of pages, and keep what it compiles: a single build starts quickly.

    What is compiled is in a folder of the user's own.
    """
    environment.context_class = _Variables
    with suppress(OSError, RuntimeError):
        environment.bytecode_cache = _TemplateCache()


_LONG = 200
"""Characters: some three lines of a tablet."""

# ---------------------------------------------------------------- amounts and allowed ranges


def second(it: Amount) -> Markup:
    """Return the amount in the other system, small; nothing where the two agree."""
    if not it.second:
        return Markup()
    return Markup(f"<small>{escape(it.second_text)}</small>")  # noqa: S704 - it is escaped


def amount_markup(it: Amount) -> Markup:
    """Return the amount, and small in the other system where the two differ."""
    first = escape(it.first_text)
    return Markup(f"{first} {second(it)}") if it.second else first  # noqa: S704 - both are escaped


def allowed_range(span: Span, amount: Amount | None) -> str:
    """Return the allowed range of ``amount`` in the first system."""
    return span.first_text(amount)
