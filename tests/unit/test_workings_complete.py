"""Every working of every example, as it is printed: inputs, formula, numbers put in, result, limit, source, assumed, who confirms."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from halfsilver.documents.workings import chapters, numbers_of
from halfsilver.engineering.working import Working
from halfsilver.services.findings import examined
from halfsilver.services.load import load, resolve

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
PRINTED = ("given", "formula", "numbers", "result", "source", "limit_source", "status", "assumptions", "confirms")


@cache
def held(path: Path) -> tuple[tuple[Working, ...], list[dict[str, object]]]:
    loaded = load(str(path))
    found = examined(resolve(loaded), loaded.show)
    printed = [
        working
        for chapter in chapters(found.findings, found.workings, loaded.show)
        for entry in chapter["entries"]
        for working in entry["workings"]
    ]
    return tuple(working for workings in found.workings.values() for working in workings), printed


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_every_working_is_printed_in_full(path: Path) -> None:
    workings, printed = held(path)
    assert len(printed) == len(workings) > 20
    assert [(working["title"], key) for working in printed for key in PRINTED if not working[key]] == []


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_every_input_has_name_symbol_and_origin(path: Path) -> None:
    workings, _ = held(path)
    bare = [(working.rule, given) for working in workings for given in working.given if not (given.name and given.symbol and given.origin)]
    assert bare == []
    twice = [working.rule for working in workings if len({given.symbol for given in working.given}) != len(working.given)]
    assert twice == []


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_the_numbers_put_in_are_numbers(path: Path) -> None:
    workings, _ = held(path)
    for working in workings:
        told = "".join(run["text"] for run in numbers_of(working))
        assert any(sign.isdigit() for sign in told), working.rule
        assert "nan" not in told
