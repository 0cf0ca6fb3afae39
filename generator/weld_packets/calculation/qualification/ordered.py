"""What an order has of the variables that all processes share, and welds that are equal in all of theirs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from weld_packets.calculation.qualification.groups import Groups, group_of_subgroup
from weld_packets.calculation.qualification.proved import coating_words
from weld_packets.calculation.qualification.values import Case, Extent, Value, extent, sizes, terms
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.model.order import Component
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.materials import Material
from weld_packets.model.tables.qualification import Product, Required, Variable, WeldType
from weld_packets.units import as_written

Has = Mapping[Variable, Value | None]


def of_materials(materials: Sequence[Material], approved: ApprovedTables) -> dict[Variable, Value | None]:
    """Return what the materials of some components say; a group that is only remembered is not known."""
    groups = Groups(approved.groups)
    subgroups = [groups.of(each.id).sure for each in materials]
    coatings = (
        coating_words(each.coating, as_written(each.coating_mass) if each.coating_mass else "") for each in materials
    )
    return {
        "material": terms(*(each.id for each in materials)),
        "material group": terms(*(group_of_subgroup(each) for each in subgroups)),
        "material subgroup": terms(*subgroups),
        "coating": terms(*coatings),
    }


def of_products(components: Sequence[Component], approved: ApprovedTables) -> dict[Variable, Value | None]:
    """Return what product each component is, with the outside diameters of those that are tubes, if any are."""
    products = [_product(each, approved.materials[each.material]) for each in components]
    tubes = [each for each, product in zip(components, products, strict=True) if product != "plate"]
    found: dict[Variable, Value | None] = {"product": terms(*products)}
    if tubes:
        outside = (each.section.outside_diameter if each.section else None for each in tubes)
        found["outside diameter"] = sizes("outside diameter", *outside)
    return found


def _product(component: Component, material: Material) -> Product | None:
    """Return what product a component is; None where its material is a hollow section and the order does not say it."""
    if component.section is None:
        return None if material.is_hollow_section else "plate"
    return "tube" if component.section.form == "round tube" else "hollow section"


def allowed(variable: Variable, settings: WeldSettings, key: str) -> Extent | None:
    """Return the allowed range of a figure, or the figure alone where it has none; None where there is no figure."""
    figure = next((each for each in settings.figures() if each.key == key), None)
    return None if figure is None or figure.value is None else _extent(variable, figure)


def _extent(variable: Variable, figure: Figure) -> Extent | None:
    allowed_range = figure.allowed_range
    ends = (None, None) if allowed_range is None else (allowed_range.low, allowed_range.high)
    return extent(variable, *(figure.value if end is None else end for end in ends))


def together(welds: Iterable[tuple[str, WeldType, Has]], required: tuple[Required, ...]) -> Iterator[Case]:
    """Yield welds that are equal in every variable as one case, in the order in which they first appear.

    The tests that the order requires are a variable of all of them: a record without such a test does not prove it.
    """
    tests: Has = {"required tests": terms(*required)} if required else {}
    equal: dict[tuple[object, ...], tuple[WeldType, Has, list[str]]] = {}
    for weld, weld_type, has in welds:
        equal.setdefault((weld_type, *has.items()), (weld_type, has, []))[2].append(weld)
    for weld_type, has, names in equal.values():
        yield Case(tuple(dict.fromkeys(names)), weld_type, {**has, **tests}, required)
