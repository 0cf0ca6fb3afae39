"""What MkDocs and the theme's templates object to, as problems of the workspace's mkdocs.yml and site_overrides/."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from jinja2 import TemplateError, TemplateSyntaxError
from mkdocs.exceptions import MkDocsException

from weld_packets.errors import Problem, SourceError

_CONFIGURATION = "mkdocs.yml"
_OVERRIDES = "site_overrides"
_REMEDY = "mend it, or take this file from the program's own folder"


@contextmanager
def theme_faults_told(workspace: Path) -> Iterator[None]:
    """Turn refusals of MkDocs and of templates inside into a SourceError that names the file to mend."""
    heard = _Heard()
    logger = logging.getLogger("mkdocs")
    logger.addHandler(heard)
    try:
        yield
    except MkDocsException as error:
        said = "; ".join(heard.words) or " ".join(error.format_message().split())
        raise SourceError([Problem(_CONFIGURATION, 0, "", "", said, _REMEDY)]) from None
    except TemplateError as error:
        raise SourceError([_in_template(error, workspace)]) from None
    finally:
        logger.removeHandler(heard)


class _Heard(logging.Handler):
    """Keeps what MkDocs reports as an error, which it raises without saying why."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self.words: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.words.append(" ".join(record.getMessage().split()))


def _in_template(error: TemplateError, workspace: Path) -> Problem:
    file, line = _OVERRIDES, 0
    if isinstance(error, TemplateSyntaxError) and error.filename:
        path = Path(error.filename)
        file = str(path.relative_to(workspace)) if path.is_relative_to(workspace) else str(path)
        line = error.lineno
    return Problem(file, line, "", "", f"the template cannot be used: {error.message}", _REMEDY)
