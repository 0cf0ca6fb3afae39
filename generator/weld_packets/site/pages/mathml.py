"""A formula's printed arithmetic as MathML, read by Python's own parser so that no precedence is guessed."""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from functools import lru_cache

from markupsafe import Markup, escape

_SIGNED, _SUM, _PRODUCT, _POWER, _ATOM = 0, 1, 2, 3, 4
Term = tuple[str, int]
"""Markup, and how tightly it binds."""
Leaf = Callable[[str], Term]
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


@lru_cache(maxsize=1024)
def symbol_markup(symbol: str) -> str:
    """Return a symbol: what follows the first underscore is its index, ``t_8_5`` reads t with index 8/5."""
    name, _, index = symbol.partition("_")
    head = f"<mi>{escape(_GREEK.get(name, name))}</mi>"
    return f"<msub>{head}<mtext>{escape(index.replace('_', '/'))}</mtext></msub>" if index else head


@lru_cache(maxsize=1024)
def symbol_text(symbol: str) -> Markup:
    """Return a symbol for running text, with its index below the line."""
    name, _, index = symbol.partition("_")
    below = f"<sub>{escape(index.replace('_', '/'))}</sub>" if index else ""
    return Markup(f"<i>{escape(_GREEK.get(name, name))}{below}</i>")  # noqa: S704 - both parts are escaped


@lru_cache(maxsize=1024)
def formula_markup(symbol: str, expression: str) -> Markup:
    """Return ``symbol = expression`` in symbols."""
    return _equation(symbol_markup(symbol) if symbol else "", expression, _symbol)


def numbers_markup(symbol: str, expression: str, numbers: Mapping[str, tuple[str, str]]) -> Markup:
    """Return ``symbol = expression`` with each symbol's value and unit from ``numbers`` put in its place."""

    def put_in(name: str) -> Term:
        return _amount(*numbers[name]) if name in numbers else _symbol(name)

    return _equation(symbol_markup(symbol) if symbol else "", expression, put_in)


def _symbol(name: str) -> Term:
    return symbol_markup(name), _ATOM


def _amount(value: str, unit: str) -> Term:
    """Return a value with its unit, which a power or a sign before it must not pull apart."""
    markup = f"<mtext>{escape(value)}\u00a0{escape(unit)}</mtext>" if unit else f"<mn>{escape(value)}</mn>"
    if value.startswith(("-", "−")):
        return markup, _SIGNED
    return markup, _PRODUCT if unit else _ATOM


def _equation(left: str, expression: str, leaf: Leaf) -> Markup:
    right, _ = _node(_parsed(expression), leaf)
    equals = f"{left}<mo>=</mo>" if left else ""
    return Markup(f'<math display="block">{equals}{right}</math>')  # noqa: S704 - leaves are escaped


@lru_cache(maxsize=1024)
def _parsed(expression: str) -> ast.expr:
    return ast.parse(expression, mode="eval").body


def _node(node: ast.expr, leaf: Leaf) -> Term:
    """Return a node's markup and how tightly it binds."""
    match node:
        case ast.BinOp():
            return _operation(node, leaf)
        case ast.UnaryOp(op=ast.USub()):
            return f"<mo>−</mo>{_within(node.operand, leaf, _PRODUCT)}", _SIGNED
        case ast.Call(func=ast.Name(id=name)):
            return _call(name, node.args, leaf), _ATOM
        case ast.Name(id=name):
            return leaf(name)
        case ast.Constant(value=value):
            return _number(repr(value))
    raise ValueError(f"a printed formula cannot hold {ast.unparse(node)!r}")


def _number(written: str) -> Term:
    """Return a number; a very small or large one as a power of ten, not as Python writes it."""
    digits, _, tens = written.removesuffix(".0").partition("e")
    if not tens:
        return f"<mn>{digits}</mn>", _ATOM
    return f"<mn>{digits}</mn>{_TIMES}<msup><mn>10</mn><mn>{int(tens)}</mn></msup>".replace("-", "−"), _PRODUCT


def _operation(node: ast.BinOp, leaf: Leaf) -> Term:
    match node.op:
        case ast.Add():
            return _sum(node, leaf, _SUM, "<mo>+</mo>")
        case ast.Sub():
            return _sum(node, leaf, _PRODUCT, "<mo>−</mo>")
        case ast.Mult():
            return _TIMES.join((_within(node.left, leaf, _PRODUCT), _within(node.right, leaf, _PRODUCT))), _PRODUCT
        case ast.Div():
            return f"<mfrac>{_one(_node(node.left, leaf)[0])}{_one(_node(node.right, leaf)[0])}</mfrac>", _PRODUCT
        case ast.Pow():
            return f"<msup>{_one(_within(node.left, leaf, _ATOM))}{_one(_node(node.right, leaf)[0])}</msup>", _POWER
    raise ValueError(f"a printed formula cannot hold {ast.unparse(node)!r}")


def _sum(node: ast.BinOp, leaf: Leaf, right: int, sign: str) -> Term:
    """Return a sum or difference; where it begins with a sign, no other sign may precede it."""
    first, binding = _node(node.left, leaf)
    return f"{first}{sign}{_within(node.right, leaf, right)}", min(binding, _SUM)


def _one(markup: str) -> str:
    """Return ``markup`` as a single element, as the parts of a fraction or power must be."""
    return markup if markup.count("<m") == 1 else f"<mrow>{markup}</mrow>"


def _within(node: ast.expr, leaf: Leaf, wanted: int) -> str:
    """Return the node, in brackets where it binds less tightly than ``wanted``."""
    text, binding = _node(node, leaf)
    return f"<mo>(</mo>{text}<mo>)</mo>" if binding < wanted else text


def _call(name: str, arguments: list[ast.expr], leaf: Leaf) -> str:
    inside = [_node(argument, leaf)[0] for argument in arguments]
    if name == "sqrt":
        return f"<msqrt>{inside[0]}</msqrt>"
    if name == "ceil":
        return f"<mo>⌈</mo>{inside[0]}<mo>⌉</mo>"
    if name == "floor":
        return f"<mo>⌊</mo>{inside[0]}<mo>⌋</mo>"
    listed = "<mo>;</mo>".join(inside)
    return f"<mi>{escape(name)}</mi><mo>(</mo>{listed}<mo>)</mo>"
