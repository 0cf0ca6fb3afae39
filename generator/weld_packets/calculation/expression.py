"""The arithmetic of a printed formula, compiled: what a page shows is what is computed."""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType

FUNCTIONS: Mapping[str, Callable[..., float]] = MappingProxyType(
    {"sqrt": math.sqrt, "tanh": math.tanh, "min": min, "max": max, "ceil": math.ceil, "floor": math.floor}
)
"""What an expression may call."""
CONSTANTS: Mapping[str, float] = MappingProxyType({"pi": math.pi})
"""Numbers that an expression may name."""
_OPERATORS = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow, ast.USub)


def compiled(expression: str, symbols: Sequence[str]) -> Callable[..., float]:
    """Return an expression as a function of its symbols, in their order.

    Raises ValueError for anything but numbers, the symbols, + - * / ** and what may be called or named, and where the
    symbols that it uses are not the given ones.
    """
    tree = ast.parse(expression, mode="eval").body
    used = set(_names(tree))
    if used != set(symbols):
        raise ValueError(f"{expression}: symbols differ: {sorted(used ^ set(symbols))}")
    names = {"__builtins__": {}, **FUNCTIONS, **CONSTANTS}
    # Only what _names let pass is evaluated, and no text of a user comes here.
    function: Callable[..., float] = eval(f"lambda {', '.join(symbols)}: {ast.unparse(tree)}", names)  # noqa: S307
    return function


def _names(node: ast.expr) -> Iterator[str]:
    """Yield the symbols of an expression; raise ValueError where it is more than plain arithmetic."""
    match node:
        case ast.Constant(value=int() | float() as value) if not isinstance(value, bool):
            return
        case ast.Name(id=name):
            if name not in CONSTANTS:
                yield name
        case ast.BinOp(left=left, op=op, right=right) if isinstance(op, _OPERATORS):
            yield from _names(left)
            yield from _names(right)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            yield from _names(operand)
        case ast.Call(func=ast.Name(id=name), args=arguments, keywords=[]) if name in FUNCTIONS:
            for argument in arguments:
                yield from _names(argument)
        case _:
            raise ValueError(f"{ast.unparse(node)} is not plain arithmetic")
