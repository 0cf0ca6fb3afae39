"""A formula's printed arithmetic as MathML, read by Python's own parser so that no precedence is guessed."""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping

from markupsafe import Markup, escape

Leaf = Callable[[str], str]
_SUM, _PRODUCT, _POWER, _ATOM = 1, 2, 3, 4
_TIMES = "<mo>·</mo>"
_GREEK = {
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "eta": "η",
    "theta": "θ",
    "lambda": "λ",
    "mu": "μ",
    "pi": "π",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "phi": "φ",
    "Delta": "Δ",
}


def symbol_markup(symbol: str) -> str:
    """Return a symbol: what follows the first underscore is its index, ``t_8_5`` reads t with index 8/5."""
    name, _, index = symbol.partition("_")
    head = f"<mi>{escape(_GREEK.get(name, name))}</mi>"
    return f"<msub>{head}<mtext>{escape(index.replace('_', '/'))}</mtext></msub>" if index else head


def symbol_text(symbol: str) -> Markup:
    """Return a symbol for running text, with its index below the line."""
    name, _, index = symbol.partition("_")
    below = Markup("<sub>{}</sub>").format(index.replace("_", "/")) if index else ""
    return Markup("<i>{}{}</i>").format(_GREEK.get(name, name), below)


def formula_markup(symbol: str, expression: str) -> Markup:
    """Return ``symbol = expression`` in symbols."""
    return _equation(symbol_markup(symbol) if symbol else "", expression, symbol_markup)


def numbers_markup(symbol: str, expression: str, numbers: Mapping[str, tuple[str, str]]) -> Markup:
    """Return ``symbol = expression`` with each symbol's value and unit from ``numbers`` put in its place."""

    def put_in(name: str) -> str:
        if name not in numbers:
            return symbol_markup(name)
        value, unit = numbers[name]
        return f"<mrow><mn>{escape(value)}</mn>{_unit(unit)}</mrow>"

    return _equation(symbol_markup(symbol) if symbol else "", expression, put_in)


def _unit(unit: str) -> str:
    return f'<mspace width="0.2em"/><mtext>{escape(unit)}</mtext>' if unit else ""


def _equation(left: str, expression: str, leaf: Leaf) -> Markup:
    right, _ = _node(ast.parse(expression, mode="eval").body, leaf)
    equals = f"{left}<mo>=</mo>" if left else ""
    return Markup(f'<math display="block"><mrow>{equals}{right}</mrow></math>')  # noqa: S704 - leaves are escaped


def _node(node: ast.expr, leaf: Leaf) -> tuple[str, int]:
    """Return a node's markup and how tightly it binds."""
    match node:
        case ast.BinOp():
            return _operation(node, leaf)
        case ast.UnaryOp(op=ast.USub()):
            return f"<mrow><mo>−</mo>{_within(node.operand, leaf, _PRODUCT)}</mrow>", _SUM
        case ast.Call(func=ast.Name(id=name)):
            return _call(name, node.args, leaf), _ATOM
        case ast.Name(id=name):
            return leaf(name), _ATOM
        case ast.Constant(value=value):
            return f"<mn>{escape(value)}</mn>", _ATOM
    raise ValueError(f"a printed formula cannot hold {ast.unparse(node)!r}")


def _operation(node: ast.BinOp, leaf: Leaf) -> tuple[str, int]:
    match node.op:
        case ast.Add():
            return _pair(node, leaf, _SUM, _SUM, "<mo>+</mo>"), _SUM
        case ast.Sub():
            return _pair(node, leaf, _SUM, _PRODUCT, "<mo>−</mo>"), _SUM
        case ast.Mult():
            return _pair(node, leaf, _PRODUCT, _PRODUCT, _TIMES), _PRODUCT
        case ast.Div():
            return f"<mfrac>{_row(node.left, leaf)}{_row(node.right, leaf)}</mfrac>", _PRODUCT
        case ast.Pow():
            return f"<msup>{_within(node.left, leaf, _ATOM)}{_row(node.right, leaf)}</msup>", _POWER
    raise ValueError(f"a printed formula cannot hold {ast.unparse(node)!r}")


def _pair(node: ast.BinOp, leaf: Leaf, left: int, right: int, sign: str) -> str:
    return f"<mrow>{_within(node.left, leaf, left)}{sign}{_within(node.right, leaf, right)}</mrow>"


def _row(node: ast.expr, leaf: Leaf) -> str:
    return f"<mrow>{_node(node, leaf)[0]}</mrow>"


def _within(node: ast.expr, leaf: Leaf, wanted: int) -> str:
    """Return the node, in brackets where it binds less tightly than ``wanted``."""
    text, binding = _node(node, leaf)
    return f"<mrow><mo>(</mo>{text}<mo>)</mo></mrow>" if binding < wanted else text


def _call(name: str, arguments: list[ast.expr], leaf: Leaf) -> str:
    inside = [_node(argument, leaf)[0] for argument in arguments]
    if name == "sqrt":
        return f"<msqrt>{inside[0]}</msqrt>"
    if name == "ceil":
        return f"<mrow><mo>⌈</mo>{inside[0]}<mo>⌉</mo></mrow>"
    listed = "<mo>;</mo>".join(inside)
    return f"<mrow><mi>{escape(name)}</mi><mo>(</mo>{listed}<mo>)</mo></mrow>"
