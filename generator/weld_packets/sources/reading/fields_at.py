"""Which keys and kinds of quantity the records of the model allow at a place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from weld_packets.units import Kind


@cache
def keys_of(record: type[BaseModel]) -> dict[str, FieldInfo]:
    """Return the fields of ``record`` by the key that a source writes."""
    return {field.alias or name: field for name, field in record.model_fields.items()}


def keys_at(top: type[BaseModel], steps: Sequence[str | int]) -> list[str]:
    """Return the keys allowed where ``steps`` (keys, positions, names of alternatives) lead, in the model's order."""
    allowed: list[Any] = [top]
    for step in steps:
        allowed = _inside(_alternatives(allowed), step)
    return [key for record in _records(_alternatives(allowed)) for key in keys_of(record)]


def kind_of(field: FieldInfo) -> Kind | None:
    """Return the kind of quantity that a field holds, if it holds one."""
    notes = [
        *field.metadata,
        *(note for part in get_args(field.annotation) for note in getattr(part, "__metadata__", ())),
    ]
    return next((note for note in notes if isinstance(note, Kind)), None)


def types_of(field: FieldInfo) -> list[Any]:
    """Return the types that a field may have."""
    return _alternatives([field.annotation])


def _alternatives(annotations: Iterable[Any]) -> list[Any]:
    found: list[Any] = []
    for annotation in annotations:
        origin = get_origin(annotation)
        if origin is Annotated:
            found += _alternatives([annotation.__origin__])
        elif origin in (Union, UnionType):
            found += _alternatives(get_args(annotation))
        else:
            found.append(annotation)
    return found


def _inside(allowed: list[Any], step: str | int) -> list[Any]:
    entered = [part for annotation in allowed for part in _entered(annotation, step)]
    return entered or [record for record in _records(allowed) if _is_called(record, str(step))]


def _entered(annotation: Any, step: str | int) -> list[Any]:
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin is tuple and isinstance(step, int):
        return [parts[0] if parts[-1] is Ellipsis else parts[min(step, len(parts) - 1)]]
    if origin is dict:
        return [parts[1]]
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        field = keys_of(annotation).get(str(step))
        return [field.annotation] if field else []
    return []


def _records(annotations: Iterable[Any]) -> list[type[BaseModel]]:
    return [part for part in annotations if isinstance(part, type) and issubclass(part, BaseModel)]


def _is_called(record: type[BaseModel], name: str) -> bool:
    """Say whether pydantic calls ``record`` by ``name``: by its class, or by a word that distinguishes alternatives."""
    words = (
        get_args(field.annotation) for field in record.model_fields.values() if get_origin(field.annotation) is Literal
    )
    return record.__name__ == name or any(name in group for group in words)
