"""Whether a hazard applies to an operation, and in words why; the filter shade that its light needs."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Any

from weld_packets.errors import refusal
from weld_packets.grouping import grouped
from weld_packets.model.processes import process
from weld_packets.model.tables.safety import Condition, ShadeRow, Shades
from weld_packets.packet.operation.view import OperationView
from weld_packets.units import Quantity, as_written, is_between, magnitude, plain
from weld_packets.wording.english import inside, listed


def reasons(when: Condition, view: OperationView) -> tuple[str, ...] | None:
    """Return what in the operation fulfils each given field of a condition; None where one does not hold."""
    fulfilled = tuple(test(view, wanted) for field, test in _TESTS.items() if _given(wanted := getattr(when, field)))
    return fulfilled if all(fulfilled) else None


def _given(wanted: Any) -> bool:
    return wanted is not None and wanted != ()


def _process(view: OperationView, wanted: tuple[str, ...]) -> str:
    return f"process {view.process}" if view.operation.process in wanted else ""


def _coating(view: OperationView, wanted: tuple[str, ...]) -> str:
    found = ((component.name, view.material(component).coating) for component in view.operation.components)
    return _of_components(
        ((name, _coating_words(coating)) for name, coating in found if coating in wanted), "has", "have"
    )


def _coating_words(coating: str) -> str:
    return "no coating" if coating == "none" else f"a {coating} coating"


def _base(view: OperationView, wanted: tuple[str, ...]) -> str:
    found = ((component.name, view.material(component).base) for component in view.operation.components)
    return _of_components(((name, base) for name, base in found if base in wanted), "is", "are")


def _of_components(found: Iterable[tuple[str, str]], one: str, several: str) -> str:
    """Return what the components have or are, all of which the same holds in one clause."""
    by_property = grouped((what, component) for component, what in found)
    return "; ".join(
        f"{_names(components)} {one if len(components) == 1 else several} {what}"
        for what, components in by_property.items()
    )


def _names(names: list[str]) -> str:
    """Return names of components in a clause, parted by semicolons where one holds a comma of its own."""
    return "; ".join(names) if any("," in name for name in names) else listed(names)


def _current_over(view: OperationView, wanted: Quantity) -> str:
    return _over(view, "current", view.family.current_key, wanted)


def _force_over(view: OperationView, wanted: Quantity) -> str:
    return _over(view, force_words(view), view.family.force_key, wanted)


def force_words(view: OperationView) -> str:
    """Return what the force is called that closes on a weld."""
    return view.family.force_key.replace("_", " ")


def _over(view: OperationView, what: str, key: str, wanted: Quantity) -> str:
    found = view.largest_allowed(key)
    if found is None or found[0] <= wanted:
        return ""
    limit = f", over {as_written(wanted)}" if wanted.magnitude else ""
    return f"largest allowed {what} {found[1]}{limit}"


def _current_up_to(view: OperationView, wanted: Quantity) -> str:
    found = view.largest_allowed(view.family.current_key)
    if found is None or found[0] > wanted:
        return ""
    return f"largest allowed current {found[1]}, not over {as_written(wanted)}"


def _chromium(view: OperationView, wanted: Decimal) -> str:
    shares = {
        view.approved.materials[component.material].designation: _share(view, component.material)
        for component in view.operation.components
    }
    shares |= view.family.chromium(view.operation, view.approved)
    return "; ".join(f"{name} holds {plain(share)} % chromium" for name, share in shares.items() if share >= wanted)


def _share(view: OperationView, material: str) -> Decimal:
    return view.approved.materials[material].composition.get("Cr", Decimal(0))


def _gas(view: OperationView, wanted: bool) -> str:
    if view.gas is None or view.gas.asphyxiant is not wanted:
        return ""
    return f"gas {view.gas.id} {'displaces' if wanted else 'does not displace'} the air that you breathe"


def _shielding_gas(view: OperationView, wanted: bool) -> str:
    if (view.gas is not None) is not wanted:
        return ""
    if view.gas is None:
        return "no shielding gas"
    return f"gas {view.gas.id} comes under pressure in a {inside(view.gas.cylinder_name)}"


def _carbon_dioxide(view: OperationView, wanted: Quantity) -> str:
    """Return why the gas counts as holding more than ``wanted``; one that does not state its share counts so too."""
    if view.gas is None:
        return ""
    share = view.gas.carbon_dioxide
    if share is None:
        return f"the table of gases does not state the share of carbon dioxide in gas {view.gas.id}"
    return f"gas {view.gas.id} holds {as_written(share)} carbon dioxide" if share > wanted else ""


def _noise_from(view: OperationView, wanted: Quantity) -> str:
    noise = view.cell.noise
    return "" if noise is None or noise < wanted else f"noise at cell {view.cell.id} reaches {as_written(wanted)}"


def _noise_below(view: OperationView, wanted: Quantity) -> str:
    noise = view.cell.noise
    return "" if noise is None or noise >= wanted else f"noise at cell {view.cell.id} is below {as_written(wanted)}"


def _noise_measured(view: OperationView, wanted: bool) -> str:
    if (view.cell.noise is not None) is not wanted:
        return ""
    return f"the noise at cell {view.cell.id} has {'' if wanted else 'not '}been measured"


_TESTS: dict[str, Callable[[OperationView, Any], str]] = {
    "processes": _process,
    "coatings": _coating,
    "bases": _base,
    "current_over": _current_over,
    "current_up_to": _current_up_to,
    "force_over": _force_over,
    "chromium_from": _chromium,
    "asphyxiant_gas": _gas,
    "shielding_gas": _shielding_gas,
    "carbon_dioxide_over": _carbon_dioxide,
    "noise_from": _noise_from,
    "noise_below": _noise_below,
    "noise_measured": _noise_measured,
}


# ---------------------------------------------------------------- filter shades


def shade_row(view: OperationView) -> ShadeRow | None:
    """Return the row of the shade chart for the largest allowed current; None where the operation burns no arc.

    An end that two rows share belongs to the darker one. Raises OutOfRangeError where no row covers the current.
    """
    found = view.largest_allowed(view.family.current_key)
    if found is None or not process(view.operation.process).burns_arc:
        return None
    current = found[0]
    table = _table(view)
    covering = [row for row in table.rows if row.process == view.operation.process and _covers(row, current)]
    if not covering:
        raise refusal(
            f"no row of table {table.table} gives a filter shade for process {view.operation.process} "
            f"at {as_written(current)}",
            "add a row to the table of shades from its source; a shade is never guessed",
            key=f"operations[{view.number - 1}]",
            value=as_written(current),
        )
    return max(covering, key=lambda row: (row.minimum_shade, row.suggested_shade or 0))


def _table(view: OperationView) -> Shades:
    """Return the table of shades, without which no operation with an arc is read."""
    if view.approved.shades is None:
        raise LookupError("shades")
    return view.approved.shades


def _covers(row: ShadeRow, current: Quantity) -> bool:
    return is_between(magnitude(row.over, "A"), magnitude(current, "A"), magnitude(row.up_to, "A"))


def shade_label(row: ShadeRow) -> str:
    """Return a row of the shade chart as printed."""
    return f"{row.process}, {as_written(row.over)} to {as_written(row.up_to)}"


def shade_words(view: OperationView) -> str:
    """Return the shade to wear; empty where the operation burns no arc."""
    row = shade_row(view)
    if row is None:
        return ""
    more = f", suggested {row.suggested_shade}" if row.suggested_shade else ""
    return f"filter shade: minimum {row.minimum_shade}{more}"


def shade_origin(view: OperationView) -> str:
    """Return current and row of the chart that the shade is for; empty where the operation burns no arc."""
    row, found = shade_row(view), view.largest_allowed(view.family.current_key)
    if row is None or found is None:
        return ""
    table = _table(view).table
    return f"filter shade for a largest allowed current of {found[1]} (table {table}, row {shade_label(row)})"
