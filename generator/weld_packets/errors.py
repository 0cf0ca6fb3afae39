"""The error family: what is wrong, where, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field, replace
from typing import NamedTuple

_SHORT = 80
"""Letters of a value that a line of output has room for."""

MessageAndRemedy = tuple[str, str]
"""What is wrong, and what to do."""


class ProblemWords(NamedTuple):
    """What a problem says in one system of units."""

    value: str
    message: str
    remedy: str


@dataclass(frozen=True, order=True)
class Problem:
    """One thing that is wrong in a source, so put that its writer can correct it.

    Attributes:
        file: path of the source as the user knows it; empty until a package that knows it fills it in.
        line: 1-based line in that file; 0 where no line is known.
        key: path of keys to the value, such as ``operations[2].seams[0].throat``.
        value: the offending value as written, empty where something is missing.
        message: what is wrong.
        remedy: what to do.
        customary: the same in inches, where it says measured lengths; None where there are none, or once it is shown.

    """

    file: str
    line: int
    key: str
    value: str
    message: str
    remedy: str
    customary: ProblemWords | None = field(default=None, compare=False)

    def shown_first(self, system: str) -> Problem:
        """Return the problem as it is said where ``system`` of units comes first."""
        words = self.customary if system == "US customary" else None
        return replace(self, **(words._asdict() if words else {}), customary=None)

    @property
    def data(self) -> dict[str, str | int]:
        """The problem as data for JSON."""
        return {key: value for key, value in asdict(self).items() if key != "customary"}

    @property
    def place(self) -> str:
        """The file, with the line where one is known."""
        return f"{self.file}:{self.line}" if self.line else self.file

    def __str__(self) -> str:
        """Return the problem in one paragraph: place, key, value, fault, remedy."""
        place = self.place
        subject = f" {self.key}" if self.key else ""
        shown = f"{' =' if subject else ''} {shorten(self.value)!r}" if self.value else ""
        head = f"{place}:{subject}{shown}" if place else f"{subject}{shown}".strip() + ":"
        return f"{head}\n    {self.message}\n    -> {self.remedy}"


def unplaced(key: str, value: str, message: str, remedy: str) -> Problem:
    """Return a problem of which file and line are not known yet, or of a command, which has none."""
    return Problem("", 0, key, value, message, remedy)


def shorten(text: str) -> str:
    """Return ``text`` cut to what a line has room for, with an ellipsis."""
    return text if len(text) <= _SHORT else text[: _SHORT - 1] + "…"


class PacketError(Exception):
    """Any refusal that the user can correct; carries every problem found, not only the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[type[PacketError], tuple[tuple[Problem, ...]]]:
        """Let another process hand its problems over, and not their text."""
        return type(self), (self.problems,)


class SourceError(PacketError):
    """A source file that cannot be read or does not say what it must."""


class OutOfRangeError(PacketError):
    """A value outside a chart, a machine's range or plausible physics; never clamped."""


def refusal(message: str, remedy: str, *, key: str = "", value: object = "") -> OutOfRangeError:
    """Return an OutOfRangeError whose place is filled in later by ``located`` or ``Gathering``."""
    as_typed = str(value).replace("\N{NO-BREAK SPACE}", " ")
    return OutOfRangeError([unplaced(key, as_typed, message, remedy)])


def unread(message: str, remedy: str) -> SourceError:
    """Return a SourceError of a value whose place, and what is written there, are filled in later."""
    return SourceError([unplaced("", "", message, remedy)])


@contextmanager
def located(file: str = "", line: int = 0, key: str = "") -> Iterator[None]:
    """Add the place to problems that rise without one, and put ``key`` before their key path."""
    try:
        yield
    except PacketError as error:
        placed = (_place(problem, file, line, key) for problem in error.problems)
        raise type(error)(placed) from None


def _place(problem: Problem, file: str, line: int, key: str) -> Problem:
    joined = ".".join(part for part in (key, problem.key) if part)
    return replace(problem, file=problem.file or file, line=problem.line or line, key=joined)


def refuse(problems: Iterable[Problem]) -> None:
    """Raise PacketError with all of ``problems``, if there are any."""
    if found := list(problems):
        raise PacketError(found)


class Gathering:
    """Collects the problems of several independent steps and raises them together."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def add(self, problem: Problem) -> None:
        """Keep ``problem`` for the end."""
        self.problems.append(problem)

    @contextmanager
    def step(self, file: str = "", line: int = 0, key: str = "") -> Iterator[None]:
        """Run one independent step; a refusal inside is kept and the next step goes on."""
        try:
            yield
        except PacketError as error:
            self.problems.extend(_place(problem, file, line, key) for problem in error.problems)

    def finish(self, kind: type[PacketError] = SourceError) -> None:
        """Raise ``kind`` with everything gathered, in file order, if there is anything."""
        if self.problems:
            raise kind(sorted(set(self.problems)))
