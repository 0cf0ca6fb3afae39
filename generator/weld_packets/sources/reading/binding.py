"""From the tree of a source to a record of the model, with every complaint placed and put in plain words.

Which keys and kinds of quantity a place allows is asked of the records themselves.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import cache
from types import UnionType
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from weld_packets.errors import Problem, SourceError
from weld_packets.sources.reading.binding_words import Complaint, words_for
from weld_packets.sources.reading.nearest import meant_by
from weld_packets.sources.reading.places import Document, KeyPath, capped
from weld_packets.units import Kind

R = TypeVar("R", bound=BaseModel)


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


def bind(document: Document, record: type[R]) -> R:
    """Return the ``record`` that ``document`` says; raise SourceError with all that is wrong with it."""
    try:
        return record.model_validate(document.tree, by_alias=True, by_name=False)
    except ValidationError as error:
        found = [_complaint(item, document.tree, record) for item in error.errors(include_url=False)]
        complaints = _without_misspelt(_likeliest([complaint for complaint in found if not _is_echo(complaint)]))
        raise SourceError(capped(sorted({_problem(complaint, document) for complaint in complaints}))) from None


def _complaint(item: Any, tree: Any, record: type[BaseModel]) -> Complaint:
    kind, steps = item["type"], item["loc"]
    path, alternative, value = _walk(tree, steps, ends_outside=kind == "missing")
    keys = tuple(keys_at(record, steps[:-1])) if kind == "extra_forbidden" else ()
    return Complaint(kind, item["msg"], item.get("ctx", {}), path, alternative, value, keys)


def _walk(
    tree: Any, steps: tuple[str | int, ...], *, ends_outside: bool
) -> tuple[KeyPath, tuple[KeyPath, str] | None, Any]:
    """Follow pydantic's steps through the tree; steps that are not in it name alternatives of the model."""
    path: KeyPath = ()
    alternative: tuple[KeyPath, str] | None = None
    node = tree
    for position, step in enumerate(steps):
        if (isinstance(node, dict) and step in node) or (
            isinstance(node, list) and isinstance(step, int) and step < len(node)
        ):
            path, node = (*path, step), node[step]  # type: ignore[index]
        elif ends_outside and position == len(steps) - 1:
            path, node = (*path, step), None
        else:
            alternative = path, str(step)
    return path, alternative, node


def _is_echo(complaint: Complaint) -> bool:
    """Say whether a list is called too short only because its items were refused."""
    minimum = complaint.details.get("min_length", 0)
    return complaint.kind == "too_short" and isinstance(complaint.value, list) and len(complaint.value) >= minimum


def _likeliest(complaints: list[Complaint]) -> list[Complaint]:
    """Keep, where several alternatives were tried, the complaints about the one that fits best."""
    tried: dict[KeyPath, dict[str, list[Complaint]]] = defaultdict(lambda: defaultdict(list))
    kept = []
    for complaint in complaints:
        if complaint.alternative is None:
            kept.append(complaint)
        else:
            place, name = complaint.alternative
            tried[place][name].append(complaint)
    for alternatives in tried.values():
        best = min(alternatives.values(), key=_misfit)
        kept += [_with_words_of(complaint, alternatives.values()) for complaint in best]
    return kept


def _without_misspelt(complaints: list[Complaint]) -> list[Complaint]:
    """Leave out that a key is missing where a key beside it is not known and was meant for it."""
    meant = {
        (*stranger.path[:-1], near)
        for stranger in complaints
        if stranger.kind == "extra_forbidden"
        if (near := meant_by(str(stranger.path[-1]), stranger.keys))
    }
    return [each for each in complaints if each.kind != "missing" or each.path not in meant]


def _misfit(complaints: list[Complaint]) -> tuple[int, int]:
    strangers = sum(complaint.kind in ("missing", "extra_forbidden") for complaint in complaints)
    return strangers, len(complaints)


def _with_words_of(complaint: Complaint, alternatives: Any) -> Complaint:
    """Offer the words of all alternatives where each is a list of words."""
    if complaint.kind == "extra_forbidden":
        beside = [other for group in alternatives for other in group if other.path == complaint.path]
        keys = tuple(dict.fromkeys(key for other in beside for key in other.keys))
        return Complaint(**{**vars(complaint), "keys": keys})
    if complaint.kind != "literal_error":
        return complaint
    same = [other for group in alternatives for other in group if other.path == complaint.path]
    offered = ", ".join(other.details["expected"] for other in same if other.kind == "literal_error")
    return Complaint(**{**vars(complaint), "details": {"expected": offered}})


def _problem(complaint: Complaint, document: Document) -> Problem:
    value = complaint.value if isinstance(complaint.value, str) else ""
    message, remedy = words_for(complaint)
    if complaint.kind == "union_tag_invalid":
        path = (*complaint.path, complaint.details["discriminator"].strip("'"))
        return document.places.problem(path, complaint.details["tag"], message, remedy)
    return document.places.problem(complaint.path, value, message, remedy)
