"""The command line. Every file of a folder beside this one is a command; what several need is in `shared`.

Exit status: 0 good, 1 the sources are wrong (or a check found something), 2 usage error, 3 internal error,
130 stopped with Ctrl+C.
"""

from __future__ import annotations

import ast
import os
import sys
from collections.abc import Sequence
from difflib import get_close_matches
from functools import cache
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

import click
from click.shell_completion import shell_complete

from weld_packets import __version__
from weld_packets.commands.shared.code_version import commit_of
from weld_packets.commands.shared.failures import report
from weld_packets.commands.shared.memory import kept
from weld_packets.commands.shared.root import NAMED_PATH
from weld_packets.commands.shared.terminal import prepare_streams, wants_json


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command, print what goes wrong to standard error, and return the exit status."""
    prepare_streams()
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")  # no other package has a say in what a record may hold
    if instruction := os.environ.get(_COMPLETE):  # a shell asks what may follow
        return shell_complete(packets, {}, "packets", _COMPLETE, instruction)
    debug, noted = False, dict[str, Any]()
    try:
        with packets.make_context("packets", list(sys.argv[1:] if arguments is None else arguments)) as context:
            debug, noted = context.params["debug"], context.meta
            status = packets.invoke(context)
        sys.stdout.flush()
    except (Exception, KeyboardInterrupt) as error:  # noqa: BLE001 (the last line of defence: every end has a status)
        return report(error, debug=debug, as_json=wants_json(noted))
    return status or 0


_COMPLETE = "_PACKETS_COMPLETE"
_OUT_OF_USE = {"new": "init"}
_SECTIONS = {
    "writing": "Write and check the files of a plant",
    "building": "Build the websites",
    "recording": "Approve, release and file",
    "looking_up": "Look up what was released",
}
"""The folders of the commands, in the order of the help, with the title of each there."""


class _Commands(click.Group):
    """Finds a command in the file of its name, and reads that file only when it is called: some load for a second."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of all commands."""
        del ctx
        return sorted(_files())

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return the command of a name, None where there is none."""
        del ctx
        file = _files().get(cmd_name)
        if file is None:
            return None
        command: click.Command = _loaded(f"{__name__}.{file.parent.name}.{file.stem}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the command that is called; raise UsageError with the nearest name for an unknown one."""
        names = self.list_commands(ctx)
        if args[0] not in names:
            near = [_OUT_OF_USE[args[0]]] if args[0] in _OUT_OF_USE else get_close_matches(args[0], names, 1)
            raise click.UsageError(
                f"there is no command {args[0]!r}" + (f": did you mean {near[0]!r}?" if near else ""), ctx
            )
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands by what they are for, each with the first line of its file."""
        del ctx
        for folder, title in _SECTIONS.items():
            with formatter.section(title):
                formatter.write_dl(
                    [(name, _purpose(file)) for name, file in _files().items() if file.parent.name == folder],
                )


@cache  # once: what a process has made between two commands is not to be kept
def _loaded(module: str) -> ModuleType:
    return kept(lambda: import_module(module))


@cache
def _files() -> dict[str, Path]:
    """Return the file of each command by its name."""
    files = (file for folder in _SECTIONS for file in Path(__path__[0], folder).glob("[!_]*.py"))
    return {file.stem.replace("_", "-"): file for file in sorted(files)}


def _purpose(file: Path) -> str:
    return (ast.get_docstring(ast.parse(file.read_text(encoding="utf-8"))) or "").partition("\n")[0]


def _print_version(context: click.Context, _: click.Parameter, wanted: object) -> None:
    if wanted:
        print(f"packets {__version__}, commit {commit_of()}")
        context.exit()


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--root", type=NAMED_PATH, help="The plant's folder, which holds instructions/ and tables/.")
@click.option("--debug", is_flag=True, help="Show where an internal error arose.")
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_version,
    help="Print the version and the commit of this program.",
)
@click.pass_context
def packets(context: click.Context, /, root: Path | None, **_: bool) -> None:
    """Make an instruction website for each work order of robotic welding cells."""
    context.obj = root
