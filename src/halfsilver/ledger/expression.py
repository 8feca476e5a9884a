"""The expression tree of a formula: plain arithmetic over named entries, and a few explicit operators.

One tree serves five readers: its ``value``, its ``words``, its ``partials``, the sampling of gaps (``value`` again, with deviations
drawn) and its JSON. A new operator is one class here with those methods, so that words and arithmetic cannot drift apart.

Conventions: lengths in millimetres, derivatives with respect to the names directly referred to. Rounding has derivative 1 towards what
it rounds: a target does not vary, and what follows a measurement follows it to within a step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from halfsilver.units.rounding import down_to, nearest, up_to

Values = Mapping[str, float]
Partials = dict[str, float]


@dataclass(frozen=True, slots=True)
class Voice:
    """How a formula is spoken: how a value with its unit is written, and what stands for a name."""

    quantity: Callable[[float, str], str]
    name: Callable[[str], str] = str


@dataclass(frozen=True, slots=True)
class Function:
    """A named pure function that formulas may call: a sight line, the whole segments of a strip.

    Parameters
    ----------
    name : str
        Its name in JSON and in words.
    call : callable
        Takes the arguments as keywords, returns a float.
    """

    name: str
    call: Callable[..., float]


class Expression:
    """A node of the tree. Operators build new nodes, so a formula reads like arithmetic."""

    __slots__ = ()

    def children(self) -> tuple[Expression, ...]:
        """The nodes directly below."""
        return ()

    def value(self, values: Values) -> float:
        """Value with every name looked up in ``values``."""
        raise NotImplementedError

    def partials(self, values: Values) -> Partials:
        """Derivatives with respect to the names and deviations in the tree."""
        raise NotImplementedError

    def words(self, voice: Voice) -> str:
        """The formula as a person reads it."""
        raise NotImplementedError

    def as_json(self) -> object:
        """The tree as nested lists."""
        raise NotImplementedError

    def walk(self) -> Iterator[Expression]:
        """Yield the node and all below, depth first."""
        waiting: list[Expression] = [self]
        while waiting:
            node = waiting.pop()
            yield node
            waiting.extend(reversed(node.children()))

    def names(self) -> tuple[str, ...]:
        """Names referred to, in order of appearance, each once."""
        return tuple(dict.fromkeys(node.name for node in self.walk() if isinstance(node, Name)))

    def __add__(self, other: Operand) -> Expression:
        return Arithmetic("+", self, as_expression(other))

    def __radd__(self, other: Operand) -> Expression:
        return Arithmetic("+", as_expression(other), self)

    def __sub__(self, other: Operand) -> Expression:
        return Arithmetic("-", self, as_expression(other))

    def __rsub__(self, other: Operand) -> Expression:
        return Arithmetic("-", as_expression(other), self)

    def __mul__(self, other: Operand) -> Expression:
        return Arithmetic("*", self, as_expression(other))

    def __rmul__(self, other: Operand) -> Expression:
        return Arithmetic("*", as_expression(other), self)

    def __truediv__(self, other: Operand) -> Expression:
        return Arithmetic("/", self, as_expression(other))


Operand = Expression | float | int


@dataclass(frozen=True, slots=True, eq=True)
class Number(Expression):
    """A factor, or with ``unit`` "mm" a fixed length."""

    number: float
    unit: str = ""

    def value(self, values: Values) -> float:
        return self.number

    def partials(self, values: Values) -> Partials:
        return {}

    def words(self, voice: Voice) -> str:
        return voice.quantity(self.number, self.unit) if self.unit else f"{self.number:g}"

    def as_json(self) -> object:
        return [self.number, self.unit] if self.unit else self.number


@dataclass(frozen=True, slots=True, eq=True)
class Name(Expression):
    """Another entry of the ledger."""

    name: str

    def value(self, values: Values) -> float:
        return values[self.name]

    def partials(self, values: Values) -> Partials:
        return {self.name: 1.0}

    def words(self, voice: Voice) -> str:
        return voice.name(self.name)

    def as_json(self) -> object:
        return self.name


@dataclass(frozen=True, slots=True, eq=True)
class Arithmetic(Expression):
    """Sum, difference, product or quotient of two."""

    sign: Literal["+", "-", "*", "/"]
    left: Expression
    right: Expression

    def children(self) -> tuple[Expression, ...]:
        return self.left, self.right

    def value(self, values: Values) -> float:
        a, b = self.left.value(values), self.right.value(values)
        if self.sign == "+":
            return a + b
        if self.sign == "-":
            return a - b
        return a * b if self.sign == "*" else a / b

    def partials(self, values: Values) -> Partials:
        a, b = self.left.value(values), self.right.value(values)
        by_sign = {"+": (1.0, 1.0), "-": (1.0, -1.0), "*": (b, a)}
        da, db = by_sign[self.sign] if self.sign != "/" else (1.0 / b, -a / (b * b))
        return _combined(((da, self.left), (db, self.right)), values)

    def words(self, voice: Voice) -> str:
        sign = {"*": "×", "-": "−"}.get(self.sign, self.sign)
        return f"{self._side(self.left, voice)} {sign} {self._side(self.right, voice, right=True)}"

    def _side(self, node: Expression, voice: Voice, *, right: bool = False) -> str:
        text = node.words(voice)
        if not isinstance(node, Arithmetic):
            return text
        weaker = node.sign in "+-" and (self.sign in "*/" or (right and self.sign == "-"))
        return f"({text})" if weaker or (right and self.sign == "/") else text

    def as_json(self) -> object:
        return [self.sign, self.left.as_json(), self.right.as_json()]


@dataclass(frozen=True, slots=True, eq=True)
class Extreme(Expression):
    """The least or the greatest of several branches; each branch may have a label that says what it is."""

    which: Literal["least", "greatest"]
    branches: tuple[Expression, ...]
    labels: tuple[str, ...] = ()

    def children(self) -> tuple[Expression, ...]:
        return self.branches

    def value(self, values: Values) -> float:
        pick = min if self.which == "least" else max
        return pick(branch.value(values) for branch in self.branches)

    def governing(self, values: Values) -> int:
        """Index of the branch that decides; the first at a tie."""
        found = [branch.value(values) for branch in self.branches]
        return found.index(min(found) if self.which == "least" else max(found))

    def partials(self, values: Values) -> Partials:
        return self.branches[self.governing(values)].partials(values)

    def words(self, voice: Voice) -> str:
        labels = self.labels or ("",) * len(self.branches)
        parts = [
            f"{label}: {branch.words(voice)}" if label else branch.words(voice) for label, branch in zip(labels, self.branches, strict=True)
        ]
        return f"{self.which} of ({'; '.join(parts)})"

    def as_json(self) -> object:
        return [self.which, *(branch.as_json() for branch in self.branches), {"labels": list(self.labels)}]


@dataclass(frozen=True, slots=True, eq=True)
class Rounded(Expression):
    """A target brought to a step that can be cut: down, up or to the nearest."""

    way: Literal["down", "up", "nearest"]
    step: Expression
    inner: Expression

    def children(self) -> tuple[Expression, ...]:
        return self.step, self.inner

    def value(self, values: Values) -> float:
        rounding = {"down": down_to, "up": up_to, "nearest": nearest}[self.way]
        return rounding(self.inner.value(values), self.step.value(values))

    def partials(self, values: Values) -> Partials:
        return self.inner.partials(values)

    def words(self, voice: Voice) -> str:
        step = self.step.words(voice)
        return f"{self.way} to {step} ({self.inner.words(voice)})"

    def as_json(self) -> object:
        return [self.way, self.step.as_json(), self.inner.as_json()]


@dataclass(frozen=True, slots=True, eq=True)
class Chosen(Expression):
    """A value that was chosen, with the reason and what came second."""

    inner: Expression
    reason: str
    runner_up: str = ""

    def children(self) -> tuple[Expression, ...]:
        return (self.inner,)

    def value(self, values: Values) -> float:
        return self.inner.value(values)

    def partials(self, values: Values) -> Partials:
        return self.inner.partials(values)

    def words(self, voice: Voice) -> str:
        return self.inner.words(voice)

    def as_json(self) -> object:
        return ["choose", self.inner.as_json(), {"reason": self.reason, "runner_up": self.runner_up}]


@dataclass(frozen=True, slots=True, eq=True)
class Deviation(Expression):
    """What an operation may be off: nominally 0, within ``limit`` either way or, when ``sided``, only down or up.

    Parameters
    ----------
    source : str
        Name of the operation and the piece; equal names are one and the same deviation.
    limit : Expression
        Limit of the deviation [mm].
    sided : {"both", "down", "up"}
        Whether it can go both ways.
    tightened_by : str
        Name of the entry whose measurement would replace this deviation by the tape's.
    """

    source: str
    limit: Expression
    sided: Literal["both", "down", "up"] = "both"
    tightened_by: str = ""

    @property
    def key(self) -> str:
        """Name under which a sampled value is looked up."""
        return f"±{self.source}"

    def children(self) -> tuple[Expression, ...]:
        return (self.limit,)

    def value(self, values: Values) -> float:
        return values.get(self.key, 0.0)

    def partials(self, values: Values) -> Partials:
        return {self.key: 1.0}

    def words(self, voice: Voice) -> str:
        sign = {"both": "±", "down": "−0/", "up": "+0/"}[self.sided]
        return f"{sign}{self.limit.words(voice)} {self.source}"

    def as_json(self) -> object:
        return ["deviation", self.source, self.limit.as_json(), {"sided": self.sided, "tightened_by": self.tightened_by}]


@dataclass(frozen=True, slots=True, eq=True)
class Call(Expression):
    """A pure function of several expressions; its derivatives are central differences over a tenth of a millimetre."""

    function: Function
    arguments: tuple[tuple[str, Expression], ...]

    def children(self) -> tuple[Expression, ...]:
        return tuple(argument for _, argument in self.arguments)

    def value(self, values: Values) -> float:
        return self.function.call(**{key: argument.value(values) for key, argument in self.arguments})

    def partials(self, values: Values) -> Partials:
        inner = {key: argument.value(values) for key, argument in self.arguments}
        weighted = []
        for key, argument in self.arguments:
            h = 0.05
            rise = self.function.call(**{**inner, key: inner[key] + h}) - self.function.call(**{**inner, key: inner[key] - h})
            weighted.append((rise / (2 * h), argument))
        return _combined(weighted, values)

    def words(self, voice: Voice) -> str:
        inner = ", ".join(f"{key.replace('_', ' ')} {argument.words(voice)}" for key, argument in self.arguments)
        return f"{self.function.name} ({inner})"

    def as_json(self) -> object:
        return ["call", self.function.name, {key: argument.as_json() for key, argument in self.arguments}]


def _combined(weighted: Sequence[tuple[float, Expression]], values: Values) -> Partials:
    total: Partials = {}
    for weight, node in weighted:
        if weight:
            for name, slope in node.partials(values).items():
                total[name] = total.get(name, 0.0) + weight * slope
    return total


def as_expression(operand: Operand) -> Expression:
    """A number becomes a plain factor; an expression stays itself."""
    return operand if isinstance(operand, Expression) else Number(float(operand))


def ref(name: str) -> Name:
    """The entry called ``name``."""
    return Name(name)


def mm(length_mm: float) -> Number:
    """A fixed length."""
    return Number(float(length_mm), "mm")


def least(*branches: Operand, labels: Sequence[str] = ()) -> Expression:
    """The least of the branches."""
    return Extreme("least", tuple(as_expression(branch) for branch in branches), tuple(labels))


def greatest(*branches: Operand, labels: Sequence[str] = ()) -> Expression:
    """The greatest of the branches."""
    return Extreme("greatest", tuple(as_expression(branch) for branch in branches), tuple(labels))


def rounded(way: Literal["down", "up", "nearest"], inner: Expression, *, step: Operand) -> Expression:
    """``inner`` brought to a multiple of ``step``."""
    return Rounded(way, as_expression(step), inner)


def chosen(inner: Operand, reason: str, *, runner_up: str = "") -> Expression:
    """A decision with its reason."""
    return Chosen(as_expression(inner), reason, runner_up)


def call(function: Function, **arguments: Operand) -> Expression:
    """A call of a named pure function."""
    return Call(function, tuple((key, as_expression(argument)) for key, argument in arguments.items()))


def from_json(tree: object, *, functions: Mapping[str, Function]) -> Expression:
    """The tree that :meth:`Expression.as_json` wrote.

    Raises
    ------
    ValueError
        If the nested lists are not such a tree, or call a function that is not in ``functions``.
    """
    if isinstance(tree, str):
        return Name(tree)
    if isinstance(tree, (int, float)):
        return Number(float(tree))
    if not isinstance(tree, list) or not tree:
        raise ValueError(f"not an expression: {tree!r}")
    head, *rest = tree
    if isinstance(head, (int, float)):
        return Number(float(head), str(rest[0]))
    inner = [from_json(part, functions=functions) for part in rest if not isinstance(part, dict) and head not in ("call", "deviation")]
    extra = rest[-1] if rest and isinstance(rest[-1], dict) else {}
    if head in ("+", "-", "*", "/"):
        return Arithmetic(head, *inner)
    if head in ("least", "greatest"):
        return Extreme(head, tuple(inner), tuple(extra["labels"]))
    if head in ("down", "up", "nearest"):
        return Rounded(head, *inner)
    if head == "choose":
        return Chosen(inner[0], extra["reason"], extra["runner_up"])
    if head == "deviation":
        return Deviation(rest[0], from_json(rest[1], functions=functions), extra["sided"], extra["tightened_by"])
    if head == "call" and rest[0] in functions:
        return Call(functions[rest[0]], tuple((key, from_json(part, functions=functions)) for key, part in rest[1].items()))
    raise ValueError(f"not an expression: {tree!r}")
