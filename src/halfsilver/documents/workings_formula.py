"""Formulas of workings as runs of type: proper signs, raised powers, lowered indices; and the same with the numbers put in."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from halfsilver.documents.letter_quantities import figures, typographic
from halfsilver.engineering.working import Given

Run = dict[str, str]
TOKEN = re.compile(r"[A-Za-z][A-Za-z0-9_]*'?[A-Za-z]?|\d+(?:\.\d+)?|<=|>=|\s+|.")
POWER = re.compile(r"\^(?:\(([^()]*)\)|([A-Za-z0-9.]+))")
SIGNS = {
    "<=": "≤", ">=": "≥", "x": "×", "*": "×", "sqrt": "√", "sum": "Σ", "dT": "ΔT",
    "pi": "π", "alpha": "α", "beta": "β", "rho": "ρ", "nu": "ν", "degC": "°C",
}  # fmt: skip
FUNCTIONS = ("tan", "cos", "sin", "atan", "hypot", "min", "max", "ln", "log10", "deg", "in", "mm", "kPa", "VA", "degC")
PLAIN = (*(sign for sign in SIGNS if sign != "dT"), *FUNCTIONS)
INDICES = ("cp", "Cd", "Ti", "Ib", "Td")  # letters of the formulas that are no inputs
WORD = re.compile(r"[a-z]{2,}")
INDEXED = re.compile(r"([A-Za-z])_?([a-z]+|\d)(')?")


def symbol_runs(symbol: str) -> list[Run]:
    """A symbol, all after its first letter lowered: ``k_mod``, ``Ts``.

    Examples
    --------
    >>> symbol_runs("Ts")
    [{'text': 'T', 'at': ''}, {'text': 's', 'at': 'sub'}]
    """
    if symbol in SIGNS:
        return [{"text": SIGNS[symbol], "at": ""}]
    found = INDEXED.fullmatch(symbol)
    if found is None:
        return [{"text": symbol, "at": ""}]
    return [{"text": found[1] + (found[3] or ""), "at": ""}, {"text": found[2], "at": "sub"}]


def formula_runs(formula: str, given: Sequence[Given]) -> list[Run]:
    """A formula in symbols.

    Parameters
    ----------
    formula : str
        As a working writes it, for example ``W e/(h n) <= 0.9 x 2850 G^2 D p``.
    given : sequence of Given
        Its inputs: only what is one of these, or has an underscore, is read as an indexed symbol and not as a word.
    """
    return list(_joined(run for part in _powers(formula) for run in _typed(part, {one.symbol for one in given})))


def numbers_runs(formula: str, given: Sequence[Given]) -> list[Run]:
    """The formula's first clause with value and unit of each input in its place; nothing where it is words, or mostly other symbols."""
    values = {one.symbol: _value(one) for one in given}
    clause = _clause(formula)
    names = [token for token in TOKEN.findall(POWER.sub("", clause)) if token[0].isalpha() and token not in PLAIN]
    known = [name for name in names if name in values]
    if not known or 2 * len(known) <= len(names) or any(WORD.fullmatch(name) for name in names if name not in values):
        return []
    return list(_joined(_filled(clause, values)))


def _clause(formula: str) -> str:
    """What stands before the first comma, semicolon or colon outside brackets."""
    depth = 0
    for k, sign in enumerate(formula):
        depth += {"(": 1, ")": -1}.get(sign, 0)
        if sign in ",;:" and not depth:
            return formula[:k]
    return formula


def _value(one: Given) -> str:
    unit = one.unit.replace("1/", "per ")
    shown = typographic(f"{figures(one.value, 4)} {unit}".strip())
    return shown.replace(" ", "\u00a0")


def _powers(formula: str) -> Iterator[tuple[str, str]]:
    at = 0
    for found in POWER.finditer(formula):
        yield formula[at : found.start()], ""
        yield found[1] or found[2], "sup"
        at = found.end()
    yield formula[at:], ""


def _typed(part: tuple[str, str], symbols: set[str]) -> Iterator[Run]:
    text, at = part
    for token in TOKEN.findall(text):
        if not at and token in symbols:
            yield from symbol_runs(token)
        else:
            yield from _sign(token, at)


def _sign(token: str, at: str) -> Iterator[Run]:
    """A token that no input stands for."""
    indexed = "_" in token or token in INDICES or re.fullmatch(r"[A-Z]\d", token)
    yield from symbol_runs(token) if indexed and not at else [{"text": SIGNS.get(token, token), "at": at}]


def _filled(clause: str, values: dict[str, str]) -> Iterator[Run]:
    """Tokens with values in their places, and a times sign where two of them were only set side by side."""
    tokens = [(token, at) for text, at in _powers(clause) for token in ([text] if at else TOKEN.findall(text))]
    before = ""
    for k, (token, at) in enumerate(tokens):
        after = tokens[k + 1][0] if k + 1 < len(tokens) else ""
        if token.isspace() and _operand(before, values, end=")") and _operand(after, values, end="("):
            yield {"text": " × ", "at": at}
        elif token in values:
            raised = k + 1 < len(tokens) and tokens[k + 1][1] == "sup" and "\u00a0" in values[token]
            yield {"text": f"({values[token]})" if raised else values[token], "at": at}
        else:
            yield from _sign(token, at)
        if not at:
            before = token


def _operand(token: str, values: dict[str, str], *, end: str) -> bool:
    functions = ("sqrt", "ln", "cos", "sin", "tan") if end == "(" else ()
    return token in values or token == end or token[:1].isdigit() or token in ("pi", "beta", "alpha", "nu", "rho", *functions)


def _joined(runs: Iterator[Run]) -> Iterator[Run]:
    """Neighbours at one height as one run."""
    last: Run | None = None
    for run in runs:
        if last is not None and last["at"] == run["at"]:
            last["text"] += run["text"]
            continue
        if last is not None:
            yield last
        last = dict(run)
    if last is not None:
        yield last
