"""read(write(job)) = job for any job, in both units; what the reader takes, the schema takes."""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import Any

import jsonschema
from hypothesis import given, settings
from hypothesis import strategies as st

from halfsilver.files.edit import append_reading
from halfsilver.files.encode import encode, encode_file
from halfsilver.files.jobs import job_from_text
from halfsilver.files.located import MappingNode, Node, ScalarNode, locate
from halfsilver.files.schema import schema_of
from halfsilver.files.shape import Choice, Items, Leaf, Record, Shape, Truth, Words, kind_of, record_of
from halfsilver.model.job import Job, Reading

LETTERS = st.characters(codec="utf-8", exclude_categories=("Cc", "Cf", "Cs", "Cn", "Co", "Zl", "Zp"))
AWKWARD = ["a: b", "- x", "#", "a #b", "&x", "*x", "!t", "{", "]", "'", '"', "null", "no", "%", "@", "a\nb", "~", "a:", "? b", "---", "..."]
TEXTS = st.one_of(st.text(LETTERS, max_size=30), st.sampled_from(AWKWARD))
SCHEMA = jsonschema.Draft202012Validator(schema_of(Job, "job"))


def floats(least: float | None, most: float | None) -> st.SearchStrategy[float]:
    low, high = -1e6 if least is None else least, 1e6 if most is None else most
    steps = st.integers(int(low * 64), int(high * 64)).map(lambda n: min(max(n / 64, low), high))
    inches = st.integers(0, 40_000).map(lambda n: min(max(n * 25.4 / 64, low), high))
    return st.one_of(st.floats(low, high, allow_nan=False).map(lambda x: x if abs(x) > 1e-9 else max(0.0, low)), steps, inches)


def leaves(leaf: Leaf) -> st.SearchStrategy[Any]:
    kind, quantity = kind_of(leaf), leaf.quantity
    if kind == "date":
        return st.dates(datetime.date(1990, 1, 1), datetime.date(2100, 1, 1)).map(str)
    if kind == "currency":
        return st.sampled_from(["USD", "EUR", "CHF"])
    if kind == "aspect":
        return st.sampled_from([(16, 9), (4, 3), (21, 9), (9, 16)])
    if kind == "pattern":
        return st.tuples(st.integers(50, 900).map(float), st.integers(50, 900).map(float))
    if kind == "fraction":
        return st.sampled_from([2, 4, 8, 16, 32, 64])
    if kind == "count":
        least, most = (quantity.least, quantity.most) if quantity else (None, None)
        return st.integers(int(least or 1), int(most or 500))
    if quantity is not None:
        return floats(quantity.least, quantity.most)
    return TEXTS.map(str.strip)


def values(shape: Shape) -> st.SearchStrategy[Any]:
    if isinstance(shape, Record):
        return records(shape)
    if isinstance(shape, Items):
        return st.lists(values(shape.each), max_size=2).map(tuple)
    if isinstance(shape, Choice):
        return st.one_of([values(each) for each in shape.shapes])
    if isinstance(shape, Words):
        return st.sampled_from(list(shape.values.values()))
    if isinstance(shape, Truth):
        return st.booleans()
    assert isinstance(shape, Leaf)
    return leaves(shape)


def records(shape: Record) -> st.SearchStrategy[Any]:
    needed = {key.attribute: values(key.shape) for key in shape.keys.values() if key.required}
    others = {key.attribute: values(key.shape) for key in shape.keys.values() if not key.required}
    if "halfsilver" in needed:
        needed["halfsilver"] = st.just("job/1")
    return st.fixed_dictionaries(needed, optional=others).map(lambda given: shape.cls(**given))


JOBS = records(record_of(Job))


def plain(node: Node) -> Any:
    if isinstance(node, ScalarNode):
        return node.text
    if isinstance(node, MappingNode):
        return {entry.key: plain(entry.value) for entry in node.entries}
    return [plain(item) for item in node.items]


@settings(max_examples=150)
@given(JOBS, st.sampled_from(["in", "mm"]))
def test_a_written_job_reads_as_the_same_job(job: Job, units: Any) -> None:
    assert job_from_text(encode_file(job, units=units)) == job


@settings(max_examples=100)
@given(JOBS, records(record_of(Reading)), st.sampled_from(["\n", "\r\n"]), st.booleans())
def test_a_reading_is_added_at_the_end_of_any_job(job: Job, reading: Reading, end: str, closed: bool) -> None:
    text = encode_file(job).rstrip("\n" if not closed else "").replace("\n", end)
    longer = append_reading(text, reading)
    assert job_from_text(longer) == replace(job, measured=(*job.measured, reading))
    assert len(longer) > len(text)


@settings(max_examples=60)
@given(JOBS)
def test_what_the_reader_takes_the_schema_takes(job: Job) -> None:
    SCHEMA.validate(plain(locate(encode_file(job))))


@settings(max_examples=60)
@given(JOBS)
def test_the_json_form_holds_every_key_under_its_file_name(job: Job) -> None:
    found = encode(job)
    assert list(found) == list(record_of(Job).keys)
    assert found["window"] == {name: value if isinstance(value, str) else None for name, value in found["window"].items()}
    for viewer in found["viewers"]:
        assert viewer["distance"].endswith("mm")
