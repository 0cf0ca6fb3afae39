"""What the theme objects to in a plant's own templates, as problems of their files."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from jinja2 import TemplateError, TemplateSyntaxError

from weld_packets.errors import Problem, SourceError

_REMEDY = "correct it, or delete the file: the program's own then takes its place"


@contextmanager
def theme_faults_reported(overrides: Path) -> Iterator[None]:
    """Turn the refusal of a template inside into a SourceError, where the plant has templates in ``overrides``."""
    try:
        yield
    except TemplateError as error:
        if not overrides.is_dir():
            raise
        raise SourceError([_problem(error, overrides)]) from None


def _problem(error: TemplateError, overrides: Path) -> Problem:
    file, line = overrides.name, 0
    if isinstance(error, TemplateSyntaxError) and error.filename:
        path = Path(error.filename)
        file = str(path.relative_to(overrides.parent)) if path.is_relative_to(overrides) else str(path)
        line = error.lineno
    return Problem(file, line, "", "", f"the template cannot be used: {error.message}", _REMEDY)
