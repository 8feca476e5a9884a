"""Any published formula of the program by its listed name: what it takes, where it is from, and its result."""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import math
import pkgutil
import warnings
from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from halfsilver.errors import JobError, Problem, RangeError
from halfsilver.model.formula import Formula
from halfsilver.model.results import FormulaRecord, FormulasRecord, ParameterRecord, ReckonRecord
from halfsilver.units.words import nearest_word

DEEPEST = 12
PACKAGES = ("geometry", "optics", "engineering", "costing")

UNITS = {
    "mm": "mm",
    "m": "m",
    "deg": "deg",
    "kg": "kg",
    "n": "N",
    "mpa": "MPa",
    "pa": "Pa",
    "w": "W",
    "v": "V",
    "a": "A",
    "k": "K",
    "degc": "degC",
    "nm": "nm",
    "lx": "lx",
    "s": "s",
    "h": "h",
    "min": "min",
    "j": "J",
    "lm": "lm",
    "ohm": "ohm",
    "m2": "m2",
    "cm2": "cm2",
}
LONG_UNITS = {
    "_cd_m2": "cd/m2",
    "_kg_m3": "kg/m3",
    "_sq_ft": "sq ft",
    "_per_k": "1/K",
    "_w_mk": "W/(m K)",
    "_n_mm": "N mm",
    "_n_m": "N m",
    "_j_k": "J/K",
    "_m3_s": "m3/s",
    "_m2_s": "m2/s",
    "_w_m2k": "W/(m2 K)",
    "_lm_m": "lm/m",
    "_w_m": "W/m",
    "_ohm_km": "ohm/km",
    "_w_m2": "W/m2",
    "_w_m2_k": "W/(m2 K)",
}


@cache
def formulas() -> dict[str, Callable[..., Any]]:
    """Every marked function of the pure layers, by its listed name.

    Raises
    ------
    ValueError
        If one name stands for two functions.
    """
    found: dict[str, Callable[..., Any]] = {}
    for module in _modules():
        for function in vars(module).values():
            mark = getattr(function, "__formula__", None)
            if isinstance(mark, Formula) and function.__module__ == module.__name__:
                if mark.name in found:
                    raise ValueError(f"two formulas are called {mark.name}")
                found[mark.name] = function
    return dict(sorted(found.items()))


def _modules() -> Iterator[Any]:
    for name in PACKAGES:
        package = importlib.import_module(f"halfsilver.{name}")
        for info in pkgutil.iter_modules(package.__path__):
            if not info.ispkg:
                yield importlib.import_module(f"halfsilver.{name}.{info.name}")


def listed() -> FormulasRecord:
    """All formulas with their parameters, units, sources and ranges."""
    return FormulasRecord(formulas=tuple(_record(function) for function in formulas().values()))


def _record(function: Callable[..., Any]) -> FormulaRecord:
    mark: Formula = function.__formula__  # type: ignore[attr-defined]
    summary = (inspect.getdoc(function) or "").partition("\n")[0]
    parameters = tuple(
        ParameterRecord(name=p.name, unit=unit_of(p.name), default=None if p.default is inspect.Parameter.empty else _json(p.default))
        for p in inspect.signature(function).parameters.values()
    )
    return FormulaRecord(
        name=mark.name,
        summary=summary,
        parameters=parameters,
        unit=mark.unit,
        source=mark.source,
        status=mark.status,
        validity=mark.validity,
    )


def unit_of(name: str) -> str:
    """Unit that a parameter's name carries; empty for a pure number. One letter below a symbol of one letter is no unit: T_s."""
    for ending, unit in LONG_UNITS.items():
        if name.endswith(ending):
            return unit
    stem, _, ending = name.rpartition("_")
    return UNITS.get(ending, "") if stem and len(stem) + len(ending) > 2 else ""


def reckon(name: str, inputs: Mapping[str, Any], *, file: str = "") -> ReckonRecord:
    """Evaluate one formula.

    Parameters
    ----------
    name : str
        Its listed name.
    inputs : mapping
        Its parameters, in the units that their names carry.
    file : str
        Where the inputs were read, for messages.

    Raises
    ------
    JobError
        For an unknown formula, a parameter it does not have or that is missing, a value it cannot take, or one outside its range.
    """
    known = formulas()
    if name not in known:
        near = nearest_word(name, known)
        raise JobError(
            [
                Problem(
                    code="unknown-formula",
                    read=name,
                    allowed="Known names: halfsilver reckon --list.",
                    advice=f"Did you mean {near}?" if near else "",
                )
            ]
        )
    function = known[name]
    mark: Formula = function.__formula__  # type: ignore[attr-defined]
    problems = tuple(_misfits(function, inputs, file))
    if problems:
        raise JobError(problems)
    try:
        hints = get_type_hints(function)
        with warnings.catch_warnings():
            warnings.simplefilter("error", RuntimeWarning)  # an overflow is a value outside the range
            result = function(**{key: _fitting(hints[key], value) for key, value in inputs.items()})
    except (RangeError, ValueError, TypeError, KeyError, ArithmeticError, IndexError, AttributeError, RuntimeWarning) as error:
        raise JobError(
            [
                Problem(
                    code="out-of-range",
                    file=file,
                    path=getattr(error, "path", "") or name,
                    allowed=str(error).strip("'\"") or type(error).__name__,
                    advice=f"Valid: {mark.validity or 'see reckon --list'}.",
                )
            ]
        ) from None
    return ReckonRecord(
        name=name,
        inputs={key: _json(value) for key, value in inputs.items()},
        result=_json(result),
        unit=mark.unit,
        source=mark.source,
        status=mark.status,
        validity=mark.validity,
    )


def _misfits(function: Callable[..., Any], inputs: Mapping[str, Any], file: str) -> Iterator[Problem]:
    parameters = inspect.signature(function).parameters
    names = ", ".join(f"{p} [{unit_of(p)}]" if unit_of(p) else p for p in parameters)
    for key, value in inputs.items():
        if _depth(value) > DEEPEST:
            yield Problem(
                code="too-deep",
                file=file,
                path=key,
                allowed=f"Lists and groups may lie {DEEPEST} deep.",
                advice=f"It takes: {names}.",
            )
        elif key not in parameters:
            near = nearest_word(key, parameters)
            yield Problem(
                code="unknown-parameter",
                file=file,
                path=key,
                read=str(value)[:60],
                allowed=f"It takes: {names}.",
                advice=f"Did you mean {near}?" if near else "Leave it out.",
            )
        elif not _finite(value):
            yield Problem(
                code="not-finite",
                file=file,
                path=key,
                read=str(value)[:60],
                allowed="Every number is finite.",
                advice="Write an ordinary number.",
            )
    for key, parameter in parameters.items():
        if parameter.default is inspect.Parameter.empty and parameter.kind is not inspect.Parameter.VAR_KEYWORD and key not in inputs:
            yield Problem(code="missing-parameter", file=file, path=key, allowed=f"It takes: {names}.", advice=f"Add {key}.")


def _depth(value: Any) -> int:
    """How deep lists and groups lie in each other, counted level by level."""
    level, depth = [value], 0
    while level:
        level = [
            inner for outer in level if isinstance(outer, (list, Mapping))
            for inner in (outer.values() if isinstance(outer, Mapping) else outer)
        ]  # fmt: skip
        depth += 1
    return depth


def _finite(value: Any) -> bool:
    if isinstance(value, Mapping):
        return all(_finite(inner) for inner in value.values())
    if isinstance(value, (list, tuple)):
        return all(_finite(inner) for inner in value)
    return not isinstance(value, float) or math.isfinite(value)


def _fitting(hint: Any, value: Any) -> Any:
    """A value as its parameter takes it: money in decimals, a group as its dataclass, a word as its enum."""
    if get_origin(hint) in (Union, UnionType):
        return value if value is None else _fitting(next(inner for inner in get_args(hint) if inner is not NoneType), value)
    if get_origin(hint) is Annotated:
        return _fitting(get_args(hint)[0], value)
    if isinstance(value, list) and isinstance(get_origin(hint), type) and issubclass(get_origin(hint), Iterable):
        return [_fitting(get_args(hint)[0], inner) for inner in value]
    if hint is Decimal and isinstance(value, (int, float, str)):
        return Decimal(str(value))
    if dataclasses.is_dataclass(hint) and isinstance(hint, type) and isinstance(value, Mapping):
        hints = get_type_hints(hint)
        return hint(**{key: _fitting(hints.get(key), inner) for key, inner in value.items()})
    return hint(value) if isinstance(hint, type) and issubclass(hint, Enum) else value


def _json(value: Any) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: _json(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(key): _json(inner) for key, inner in value.items()}
    if hasattr(value, "tolist"):
        return _json(value.tolist())
    if isinstance(value, (list, tuple)):
        return [_json(inner) for inner in value]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
