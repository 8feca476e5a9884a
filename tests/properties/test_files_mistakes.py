"""For every key that a job or a workshop's head file may hold: one mistake there is one problem, at its place and path."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from halfsilver.files.decode import decode_all
from halfsilver.files.located import Entry, MappingNode, Node, Place, ScalarNode, SequenceNode, locate
from halfsilver.files.shape import Choice, Item, Items, Leaf, Record, Shape, Table, Truth, Words, example_text, kind_of, record_of
from halfsilver.model.job import Job
from halfsilver.model.workshop import MeasuredScreen, WorkshopFile

CLASSES = (Job, WorkshopFile, MeasuredScreen)
SPECIAL = {"halfsilver": "job/1"}
# Where a narrow field does not take the usual example.
IN_RANGE = {("angle", 5.0): "1 deg", ("voltage", 60.0): "24 V", ("count", 18): "16", ("count", 14): "10", ("number", 0.73): "0.42"}


def document(shape: Shape) -> Any:
    """A document in which every key of a shape stands, with a value that is allowed there."""
    if isinstance(shape, Record):
        return {name: SPECIAL.get(name) or document(key.shape) for name, key in shape.keys.items()}
    if isinstance(shape, Items):
        return [document(shape.each)]
    if isinstance(shape, Item):
        return [document(each) for each in shape.shapes]
    if isinstance(shape, Table):
        return {"name": document(shape.value)}
    if isinstance(shape, Choice):
        return document(shape.shapes[0])
    if isinstance(shape, Leaf) and shape.quantity is not None and shape.quantity.most is not None:
        return IN_RANGE.get((shape.quantity.kind, shape.quantity.most), example_text(shape))
    return example_text(shape)


def places(shape: Shape, steps: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Shape]]:
    """Every path of the document with its shape."""
    yield steps, shape
    if isinstance(shape, Record):
        for name, key in shape.keys.items():
            yield from places(key.shape, (*steps, name))
    elif isinstance(shape, Items):
        yield from places(shape.each, (*steps, 0))
    elif isinstance(shape, Choice) and not isinstance(shape.shapes[0], Leaf | Words):
        yield from places(shape.shapes[0], steps)


def changed(node: Node, steps: tuple[str | int, ...], value: Node) -> Node:
    """A tree with another value at a path."""
    if not steps:
        return value
    step, rest = steps[0], steps[1:]
    if isinstance(node, SequenceNode):
        return SequenceNode(items=(changed(node.items[0], rest, value),), flow=node.flow, start=node.start, end=node.end)
    assert isinstance(node, MappingNode)
    entries = [Entry(key=e.key, place=e.place, value=changed(e.value, rest, value) if e.key == step else e.value) for e in node.entries]
    if step not in [e.key for e in node.entries]:
        entries.append(Entry(key=str(step), place=MISTAKE, value=value))
    return MappingNode(entries=tuple(entries), flow=node.flow, start=node.start, end=node.end)


def dotted(steps: tuple[str | int, ...]) -> str:
    return "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps).removeprefix(".")


MISTAKE = Place(4711, 17, 0)
CASES = {cls: list(places(record_of(cls))) for cls in CLASSES}
TREES = {cls: locate(json.dumps(document(record_of(cls)), indent=1, ensure_ascii=False)) for cls in CLASSES}


def scalar(text: str) -> ScalarNode:
    return ScalarNode(text=text, quoted=False, start=MISTAKE, end=MISTAKE)


def cases(*kinds: type) -> list[Any]:
    found = [(cls, steps, shape) for cls in CLASSES for steps, shape in CASES[cls] if isinstance(shape, kinds)]
    return [pytest.param(cls, steps, shape, id=f"{cls.__name__}:{dotted(steps)}") for cls, steps, shape in found]


def is_text(shape: Shape) -> bool:
    return isinstance(shape, Leaf) and not kind_of(shape)


@pytest.mark.parametrize("cls", CLASSES)
def test_the_document_with_every_key_has_no_mistake(cls: type) -> None:
    assert decode_all(TREES[cls], cls)[1] == ()


@pytest.mark.parametrize(("cls", "steps", "shape"), cases(Record))
def test_an_unknown_sibling_is_one_problem(cls: type, steps: tuple[str | int, ...], shape: Record) -> None:
    value, problems = decode_all(changed(TREES[cls], (*steps, "unheard_of"), scalar("1")), cls)
    assert value is None
    assert [(p.code, p.path, p.line, p.column) for p in problems] == [("unknown-key", dotted((*steps, "unheard_of")), 4711, 17)]
    assert all(name in problems[0].allowed for name in shape.keys)


@pytest.mark.parametrize("text", [".nan", "NaN", "inf", "-.inf"])
@pytest.mark.parametrize(("cls", "steps", "shape"), cases(Leaf, Words, Truth, Choice))
def test_a_number_that_is_none_is_one_problem(cls: type, steps: tuple[str | int, ...], shape: Shape, text: str) -> None:
    if is_text(shape):
        assert decode_all(changed(TREES[cls], steps, scalar(text)), cls)[1] == ()
        return
    problems = decode_all(changed(TREES[cls], steps, scalar(text)), cls)[1]
    assert [(p.path, p.line, p.column, p.read) for p in problems] == [(dotted(steps), 4711, 17, text)]
    assert problems[0].allowed


@pytest.mark.parametrize(("cls", "steps", "shape"), cases(Leaf, Words, Truth, Choice))
def test_a_wrong_unit_is_one_problem(cls: type, steps: tuple[str | int, ...], shape: Shape) -> None:
    problems = decode_all(changed(TREES[cls], steps, scalar("2 furlongs")), cls)[1]
    assert [(p.path, p.line, p.column) for p in problems] == ([] if is_text(shape) else [(dotted(steps), 4711, 17)])


@pytest.mark.parametrize(("cls", "steps", "shape"), cases(Leaf, Words, Truth, Choice, Items, Record)[1:])
def test_a_list_or_a_group_in_the_wrong_place_is_one_problem(cls: type, steps: tuple[str | int, ...], shape: Shape) -> None:
    if not steps:
        return
    wrong: Node = SequenceNode(items=(scalar("1 mm"), scalar("x")), flow=True, start=MISTAKE, end=MISTAKE)
    if isinstance(shape, Items):
        wrong = MappingNode(entries=(), flow=True, start=MISTAKE, end=MISTAKE)
    problems = decode_all(changed(TREES[cls], steps, wrong), cls)[1]
    assert [(p.code, p.path, p.line, p.column) for p in problems] == [("wrong-shape", dotted(steps), 4711, 17)]


@pytest.mark.parametrize("cls", CLASSES)
def test_all_mistakes_are_told_together(cls: type) -> None:
    tree: Node = TREES[cls]
    leaves = [steps for steps, shape in CASES[cls] if isinstance(shape, Leaf) and kind_of(shape) and 0 not in steps][:60]
    for steps in leaves:
        tree = changed(tree, steps, scalar(".nan"))
    assert sorted(p.path for p in decode_all(tree, cls)[1]) == sorted(map(dotted, leaves))
