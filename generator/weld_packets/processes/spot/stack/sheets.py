"""A stack with its sheets: thicknesses, base metal, the coating that decides, and the governing sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from weld_packets.calculation.countermeasures import PEEL_ALL
from weld_packets.calculation.formula import Worked
from weld_packets.calculation.sentences import refused
from weld_packets.calculation.trace import Measured, Verdict, Words, warned
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.model.order import Component
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import SpotChart
from weld_packets.model.tables.materials import Material
from weld_packets.model.trade import BaseMetal, Coating, GoverningRule
from weld_packets.processes.spot.formulas import second_thickest_sheet, thinner_sheet, thinnest_outside_sheet
from weld_packets.processes.spot.records import SpotOperation, Stack
from weld_packets.units import Quantity, as_written, distinguished, exact, exceeds, in_mm, quantity, with_unit
from weld_packets.units.digits import HUNDREDTH
from weld_packets.units.scales import quantum_of

DEMAND: tuple[Coating, ...] = ("none", "iron-zinc", "electro zinc", "hot-dip zinc")
"""Coatings by rising current at one thickness, as the columns of ISO 14373:2015 B.2 and BS 1140:1993 rise."""


@dataclass(frozen=True)
class Sheet:
    """One sheet of a stack: the component as the order states it, and its material."""

    component: Component
    material: Material


@dataclass(frozen=True)
class SheetStack:
    """A stack with everything known of its sheets, from the moving cap's side; ``thicknesses`` in mm.

    ``visible`` is the component whose outside is seen on the finished product.
    """

    id: str
    sheets: tuple[Sheet, ...]
    thicknesses: tuple[float, ...]
    base: BaseMetal
    coating: Coating
    visible: str | None = None

    @property
    def has_three(self) -> bool:
        """Whether it has three sheets, and not two: the model allows no other number."""
        return len(self.sheets) > 2  # noqa: PLR2004 - see above

    def words(self) -> str:
        """Return the stack as a setter reads it, such as ``0.8 mm + 1.2 mm``."""
        return " + ".join(as_written(sheet.component.thickness) for sheet in self.sheets)

    def shares(self, other: SheetStack) -> bool:
        """Return whether two stacks have two sheets in common, so that current can stray from one spot to another."""
        mine, others = (Counter(sheet.component.id for sheet in stack.sheets) for stack in (self, other))
        return (mine & others).total() > 1


def read_stack(stack: Stack, operation: SpotOperation, approved: ApprovedTables) -> SheetStack:
    """Return a stack with its sheets; raise OutOfRangeError for mixed base metals."""
    components = {component.id: component for component in operation.components}
    sheets = [Sheet(components[mark], approved.materials[components[mark].material]) for mark in stack.sheets]
    coating = max((sheet.material.coating for sheet in sheets), key=DEMAND.index)
    thicknesses = tuple(in_mm(sheet.component.thickness) for sheet in sheets)
    return SheetStack(stack.id, tuple(sheets), thicknesses, _base(sheets), coating, stack.visible)


def _base(sheets: list[Sheet]) -> BaseMetal:
    bases = sorted({sheet.material.base for sheet in sheets})
    if len(bases) > 1:
        raise refusal(
            f"the stack mixes base metals: {' and '.join(bases)}",
            "stack sheets of one base metal; no approved chart covers a mixed stack",
            key="sheets",
        )
    return bases[0]


def governing(stack: SheetStack, chart: SpotChart) -> Worked:
    """Return the thickness by which the chart is read, by the rule that the chart states.

    Two sheets: the thinner by every rule. Three sheets: the thinner of the two outer ones, or the second thickest.
    Raises OutOfRangeError for three sheets under a chart whose rule is for two only.
    """
    sheets = [sheet.component.thickness for sheet in stack.sheets]
    if not stack.has_three:
        return thinner_sheet.work(first_sheet=sheets[0], second_sheet=sheets[1])
    first, middle, last = sheets
    rules: Mapping[GoverningRule, Callable[[], Worked]] = {
        "thinnest outside": lambda: thinnest_outside_sheet.work(first_sheet=first, last_sheet=last),
        "second thickest": lambda: second_thickest_sheet.work(first_sheet=first, middle_sheet=middle, last_sheet=last),
    }
    if chart.governing_thickness not in rules:
        raise refusal(
            f"chart {chart.table} takes the {chart.governing_thickness} of two sheets; this stack has three",
            "name a chart with a rule for three sheets",
        )
    return rules[chart.governing_thickness]()


def stretched(stack: SheetStack, chart: SpotChart) -> Iterator[Verdict]:
    """Yield a warning where a stack takes settings that its chart states for another one: two sheets, one coating."""
    subject = f"stack {stack.id}"
    if stack.has_three:
        text = f"chart {chart.table} states settings for two sheets; three are welded by its {_rule(chart)}"
        yield warned("three_sheets", subject, text, chart.governing_source, PEEL_ALL)
    others = sorted({sheet.material.coating for sheet in stack.sheets} - {stack.coating})
    if others:
        bare = " and ".join("bare" if coating == "none" else coating for coating in others)
        text = f"chart {chart.table} states settings for two sheets of {stack.coating}; here one side is {bare}"
        yield warned("mixed_coating", subject, text, chart.source, PEEL_ALL)


def _rule(chart: SpotChart) -> str:
    return f"row of the {chart.governing_thickness} sheet"


def limit_verdicts(stack: SheetStack, chart: SpotChart) -> tuple[Verdict, ...]:
    """Return the verdicts on ratio, total and multiple; raise OutOfRangeError with every limit that is passed."""
    gathering = Gathering()
    verdicts: list[Verdict] = []
    for key, text, found, limit in _limits(stack, chart):
        if not exceeds(found, limit):
            verdicts.append(Verdict(key, f"stack {stack.id}", text, passed=True, source=chart.stack_limits.source))
            continue
        with gathering.step():
            raise refused(
                (f"stack {stack.id} ({stack.words()}): ", *text, f" ({chart.stack_limits.source})"),
                "change the stack, or name a chart whose limits allow it",
                value=stack.words(),
            )
    gathering.finish(OutOfRangeError)
    return tuple(verdicts)


def _limits(stack: SheetStack, chart: SpotChart) -> list[tuple[str, Words, float, float]]:
    sheets, limits = stack.thicknesses, chart.stack_limits
    ratio, total = max(sheets) / min(sheets), sum(sheets)
    allowed = float(limits.thickness_ratio)
    shown, maximum = _beside(ratio, allowed)
    found: list[tuple[str, Words, float, float]] = [
        ("thickness_ratio", (f"ratio of thicknesses {shown} to 1, at most {maximum} to 1",), ratio, allowed)
    ]
    if limits.total is not None:
        found.append(("total_thickness", _total(total, limits.total), total, in_mm(limits.total)))
    if limits.total_to_thinnest_outside is not None:
        multiple, allowed = total / min(sheets[0], sheets[-1]), float(limits.total_to_thinnest_outside)
        shown, maximum = _beside(multiple, allowed)
        text = (f"total {shown} times the thinnest outside sheet, at most {maximum} times",)
        found.append(("total_to_thinnest_outside", text, multiple, allowed))
    return found


def _total(total: float, maximum: Quantity) -> Words:
    """Return the thickness of a stack beside its limit, without idle zeros in mm."""
    shown, limit = (
        Measured(size, with_unit(text, "mm"), quantum_of(Decimal(text)))
        for size, text in zip((total, in_mm(maximum)), _beside(total, in_mm(maximum)), strict=True)
    )
    return "total ", shown, ", at most ", limit


def _beside(found: float, limit: float) -> tuple[str, str]:
    """Return a number and its limit to a hundredth, or as fine as shows which is larger, without idle zeros."""
    pair = distinguished(exact(quantity(found, "1"), "1"), exact(quantity(limit, "1"), "1"), HUNDREDTH)
    one, other = (f"{number.normalize():f}" for number in pair)
    return one, other
