"""The table of processes: the only place that holds an ISO 4063 number, with all that follows from a number alone.

A process belongs to a family: one folder that answers for its operations. The module of a family is loaded when the
family is first asked for, so that the model and the sources learn from it how an operation is written and never import
how it is computed.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple, Protocol

from pydantic import GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, PydanticKnownError, core_schema

from weld_packets.model.trade import Polarity
from weld_packets.units import Kind, Quantity, kinds

if TYPE_CHECKING:
    from weld_packets.model.order import Operation
    from weld_packets.model.table import Table
    from weld_packets.model.tables.approved import ApprovedTables
    from weld_packets.model.tables.materials import Cap

Filler = Literal["melting wire", "cold wire", "none"]
"""How an arc process gets its filler: a wire that melts in the arc, one that is fed into the pool, or none."""


class MaximumCurrent(NamedTuple):
    """The largest current of a process that any document of the trade states, and which does."""

    number: float
    unit: str
    source: str


@dataclass(frozen=True)
class Process:
    """One process.

    Attributes:
        number: ISO 4063 number.
        name: what it is called on pages.
        family: the family that answers for it, a key of ``FAMILIES``.
        consumables: what is fitted for it and wears or runs out, in the words in which an order records it.
        maximum_current: beyond which no condition of a safety message can mean it.
        called: what the trade calls it, in capitals, so that a word in place of the number is answered with the number.

    """

    number: str
    name: str
    family: str
    consumables: tuple[str, ...]
    maximum_current: MaximumCurrent
    called: tuple[str, ...]

    @property
    def burns_arc(self) -> bool:
        """Whether it burns an arc, which nobody looks at without a filter shade."""
        return False


@dataclass(frozen=True)
class ArcProcess(Process):
    """A process that melts with an arc.

    Attributes:
        filler: how it gets its filler.
        thermal_efficiency: share of the arc energy that reaches the plate, above 0 and at most 1.
        efficiency_source: where that was read.
        inert: whether its gas is inert (the names of ISO 4063: MIG, TIG), or else active (MAG).
        usual_polarity: the only one at which its wire is welded, None where that is its maker's choice.

    """

    filler: Filler
    thermal_efficiency: float
    efficiency_source: str
    inert: bool
    usual_polarity: Polarity | None = None

    @property
    def burns_arc(self) -> bool:
        """That it burns an arc."""
        return True


_WIRE_FED = ("wire", "contact tip", "gas")
_METAL_ARC = MaximumCurrent(500.0, "A", "the shade table of 29 CFR 1910.133(a)(5) ends at 500 A for gas metal arcs")
_TUNGSTEN_ARC = MaximumCurrent(
    500.0, "A", "the shade table of 29 CFR 1910.133(a)(5) ends at 500 A for gas tungsten arcs"
)
_K_METAL = "EN 1011-1:2009, thermal efficiency of processes; TWI, heat input and arc energy"
_K_TUNGSTEN = "SSAB Welding Handbook and TWI, heat input and arc energy: TIG 0.6"


_TIG = ("TIG", "GTAW", "WIG")
_GAS_METAL_ARC = ("MIG/MAG", "GMAW", "MSG")


def _metal_arc(
    number: str, name: str, *called: str, inert: bool = False, polarity: Polarity | None = None
) -> ArcProcess:
    melts: Filler = "melting wire"
    return ArcProcess(number, name, "arc", _WIRE_FED, _METAL_ARC, called, melts, 0.8, _K_METAL, inert, polarity)


def _tungsten_arc(number: str, name: str, consumables: tuple[str, ...], filler: Filler) -> ArcProcess:
    return ArcProcess(number, name, "arc", consumables, _TUNGSTEN_ARC, _TIG, filler, 0.6, _K_TUNGSTEN, inert=True)


PROCESSES: dict[str, Process] = {
    each.number: each
    for each in (
        _metal_arc("131", "MIG welding with solid wire", "MIG", *_GAS_METAL_ARC, inert=True, polarity="DC+"),
        _metal_arc("135", "MAG welding with solid wire", "MAG", *_GAS_METAL_ARC, polarity="DC+"),
        _metal_arc("136", "MAG welding with flux-cored wire", "MAG", "FCAW"),
        _metal_arc("138", "MAG welding with metal-cored wire", "MAG", *_GAS_METAL_ARC),
        _tungsten_arc("141", "TIG welding with solid filler", ("wire", "electrode", "gas"), "cold wire"),
        _tungsten_arc("142", "autogenous TIG welding", ("electrode", "gas"), "none"),
        Process(
            "21", "resistance spot welding", "spot", ("caps",),
            MaximumCurrent(30.0, "kA", "the largest current of ISO 14373:2015 B.2 and BS 1140:1993 is 30 kA"),
            ("RSW", "SPOT", "SPOT WELDING", "RESISTANCE SPOT WELDING"),
        ),
    )
}  # fmt: skip
"""Every process that an order or a table may name. Adding one of a known family is one entry here, and its tables."""

FAMILIES: dict[str, str] = {"spot": "weld_packets.processes.spot", "arc": "weld_packets.processes.arc"}
"""The module of each family, whose ``FAMILY`` answers; lists of a run are in this order of families."""


def process(number: str) -> Process:
    """Return the process of an ISO 4063 number; KeyError for one that no source could have named."""
    return PROCESSES[number]


def arc_process(number: str) -> ArcProcess:
    """Return the process of a number that melts with an arc; TypeError for another one."""
    found = process(number)
    if not isinstance(found, ArcProcess):
        raise TypeError(number)
    return found


def numbers(family: str = "") -> tuple[str, ...]:
    """Return the numbers of all processes, or of those of a family, in the order of the table."""
    return tuple(number for number, each in PROCESSES.items() if family in ("", each.family))


def consumables() -> tuple[str, ...]:
    """Return what is fitted for any process, in the words in which an order records it, each once."""
    return tuple(dict.fromkeys(word for each in PROCESSES.values() for word in each.consumables))


def settings() -> Mapping[str, Kind]:
    """Return the settings of all families by which tables name them, with the kind that reads a value."""
    return _settings(tuple(FAMILIES))


@lru_cache
def _settings(names: tuple[str, ...]) -> Mapping[str, Kind]:
    return MappingProxyType({key: kind for name in names for key, kind in family(name).settings.items()})


def bounded_kinds() -> Mapping[str, Kind]:
    """Return the quantities that the table of limits can bound, with the kind that reads their bounds."""
    return _bounded_kinds(tuple(FAMILIES))


@lru_cache  # each figure of an order is asked for by each of its limits
def _bounded_kinds(names: tuple[str, ...]) -> Mapping[str, Kind]:
    return MappingProxyType({**_settings(names), "heat_input": kinds.HEAT, "thickness": kinds.THICKNESS})


# ---------------------------------------------------------------- what a source may write


class _Listed:
    """Reads one of some words that the table offers when it is read, and says so in a schema."""

    def __init__(self, offered: Callable[[], tuple[str, ...]]) -> None:
        self._offered = offered

    def __get_pydantic_core_schema__(self, _source: Any, _handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, _schema: CoreSchema, _handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"type": "string", "enum": list(self._offered())}

    def _read(self, value: Any) -> str:
        if not isinstance(value, str):
            raise PydanticCustomError(
                "text", "text is expected", {"remedy": "write one value here, not a list or keys"}
            )
        offered = self._offered()
        if value not in offered:
            raise PydanticKnownError("literal_error", {"expected": ", ".join(f"'{word}'" for word in offered)})
        return value


ProcessNumber = Annotated[str, _Listed(numbers)]
"""The ISO 4063 number of any process of the table."""
ArcNumber = Annotated[str, _Listed(lambda: numbers("arc"))]
"""The ISO 4063 number of a process that melts with an arc."""
Consumable = Annotated[str, _Listed(consumables)]
"""A consumable of any process, as an order records that it is fitted."""
SettingKey = Annotated[str, _Listed(lambda: (*settings(), "none"))]
"""A setting of any family, as a remedy names what it moves."""
Bounded = Annotated[str, _Listed(lambda: tuple(bounded_kinds()))]
"""A quantity that the table of limits can bound."""


# ---------------------------------------------------------------- what the sources ask a family

Route = tuple[str, ...]
"""Keys from an operation down to names; ``*`` goes to every item of a list."""


class Misstatement(NamedTuple):
    """Something that an operation says and cannot mean: where it says it, the value, what is wrong, what to do.

    A quantity is printed as a source writes it.
    """

    path: tuple[str | int, ...]
    value: str | Quantity
    message: str
    remedy: str


class FittedPlace(NamedTuple):
    """A robot or a cell of an order: the consumables that are fitted there, and what one of each holds by key."""

    things: tuple[str, ...]
    holds: Mapping[str, tuple[Quantity, str]]
    cap: Cap | None = None


class Written(Protocol):
    """What the model and the sources ask a family; see ``processes.family``, which answers it."""

    @property
    def operation(self) -> type[Operation]:
        """The record of an operation."""

    @property
    def tables(self) -> Mapping[str, type[Table]]:
        """The kinds of table that it brings."""

    @property
    def settings(self) -> Mapping[str, Kind]:
        """The settings that tables of faults and limits may name, with the kind that reads a value."""

    @property
    def welds_key(self) -> str:
        """The key of an operation that holds its welds."""

    @property
    def sheet(self) -> str:
        """How a CSV list gives the welds: ``paths`` or ``points``."""

    @property
    def once(self) -> Mapping[Route, str]:
        """Routes to identifiers that occur once."""

    @property
    def within(self) -> Mapping[Route, Route]:
        """Routes to names that lead to one of them."""

    def kinds(self, number: str) -> tuple[str, ...]:
        """Return the kinds of table that an operation needs, besides those of every plant."""

    def named(self, number: str, approved: ApprovedTables) -> Mapping[Route, tuple[Collection[str], str]]:
        """Return routes to names that must lead to the tables."""

    def equipment(self, number: str, approved: ApprovedTables) -> Collection[str]:
        """Return the machines that a robot may carry for a process."""

    def misstatements(self, operation: Any, approved: ApprovedTables) -> Iterator[Misstatement]:
        """Yield what an operation says against itself."""

    def places(self, operation: Any, approved: ApprovedTables) -> Iterator[tuple[tuple[str, str], FittedPlace]]:
        """Yield where an order may record what is fitted."""


def family(name: str) -> Written:
    """Return the family of a name, loading its module where that is not done yet; KeyError for an unknown one."""
    found: Written = import_module(FAMILIES[name]).FAMILY
    return found


def written_for(number: object) -> Written | None:
    """Return the family of a process by what a source writes as its number; None for anything else."""
    found = PROCESSES.get(number) if isinstance(number, str) else None
    return None if found is None else family(found.family)


def written() -> tuple[Written, ...]:
    """Return every family, in the order of the table."""
    return tuple(family(name) for name in FAMILIES)


def table_kinds() -> Mapping[str, type[Table]]:
    """Return the kinds of table that families bring, besides those of every plant."""
    return {kind: record for each in written() for kind, record in each.tables.items()}
