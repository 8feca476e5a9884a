"""JSON Schemas follow the dataclasses, and agree with the reader about the examples."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML

from halfsilver.files.encode import encode
from halfsilver.files.schema import schema_of, schema_of_list
from halfsilver.files.shape import Leaf, example_text
from halfsilver.model.finding import Finding, Severity
from halfsilver.model.job import Job
from halfsilver.model.quantities import Quantity
from halfsilver.model.workshop import WorkshopFile
from halfsilver.units.quantities import READERS

EXAMPLES = Path(__file__).parents[2] / "examples"
JOB = schema_of(Job, "job")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """A name and what it comes from."""

    name: str
    value_mm: float = field(metadata={"doc": "how long"})
    inputs: tuple[Reason, ...] = ()
    note: str | None = None
    shares: dict[str, float] = field(default_factory=dict)


def valid(document: Any, schema: dict[str, Any] = JOB) -> bool:
    return jsonschema.Draft202012Validator(schema).is_valid(document)


@pytest.mark.parametrize("cls", [Job, WorkshopFile, Finding, Reason])
@pytest.mark.parametrize("output", [False, True])
def test_each_is_a_schema_by_the_standards_own_schema(cls: type, output: bool) -> None:
    schema = schema_of(cls, "x", output=output)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert json.loads(json.dumps(schema)) == schema
    assert schema["title"] == "halfsilver/x/1"


@pytest.mark.parametrize("name", ["foyer", "foyer-measured", "archive-mirror"])
def test_an_example_as_another_yaml_reader_sees_it_is_valid(name: str) -> None:
    document = json.loads(json.dumps(YAML(typ="safe", pure=True).load(EXAMPLES / f"{name}.yaml"), default=str))
    jsonschema.Draft202012Validator(JOB).validate(document)
    assert not valid({**document, "gab": "auto"})
    assert not valid({**document, "gap": "100"})
    assert not valid({**document, "gap": 100})
    assert not valid({**document, "scope": "some"})
    assert not valid({key: value for key, value in document.items() if key != "title"})
    assert valid({**document, "gap": "auto"})


@pytest.mark.parametrize("kind", sorted(READERS))
def test_the_example_of_each_kind_is_read_and_is_valid(kind: str) -> None:
    shape = Leaf(float, Quantity(kind))
    READERS[kind](example_text(shape))
    schema = schema_of(_holder(kind), "x")
    assert valid({"value": example_text(shape)}, schema)
    assert example_text(shape) in schema["properties"]["value"]["description"]


@pytest.mark.parametrize(
    "text",
    ["57 3/4 in", '57-3/4"', "57¾″", "4' 9 3/4\"", "4 ft 9 3/4 in", "1467 mm", "146.7 cm", "-1/8 in", ".5 in", "½ in"],
)
def test_every_spelling_of_a_length_that_is_read_is_valid(text: str) -> None:
    READERS["length"](text)
    assert valid({"value": text}, schema_of(_holder("length"), "x"))


def test_an_output_carries_its_name_and_every_key_that_may_not_be_absent() -> None:
    schema = schema_of(Reason, "why", output=True)
    reason = Reason(name="a", value_mm=1.0, inputs=(Reason(name="b", value_mm=float("inf")),), shares={"x": 0.5})
    document = {"schema": "halfsilver/why/1", **encode(reason)}
    assert document["inputs"][0]["value_mm"] is None
    assert valid(document, schema)
    assert not valid({**document, "schema": "halfsilver/why/2"}, schema)
    assert valid({key: value for key, value in document.items() if key != "note"}, schema)
    assert not valid({key: value for key, value in document.items() if key != "inputs"}, schema)
    assert not valid({**document, "inputs": [{"name": "b"}]}, schema)
    assert schema["properties"]["value_mm"]["title"] == "how long"


def test_a_list_stands_under_its_key() -> None:
    schema = schema_of_list(Finding, "findings", under="findings")
    finding = Finding(rule="a.b", source="common practice", status="practice", severity=Severity.NOTE, advice="Look.")
    assert valid({"schema": "halfsilver/findings/1", "findings": [encode(finding)]}, schema)
    assert not valid({"schema": "halfsilver/findings/1", "findings": [{**encode(finding), "more": 1}]}, schema)


def _holder(kind: str) -> type:
    from typing import Annotated

    namespace = {"__annotations__": {"value": Annotated[float, Quantity(kind)]}}
    return dataclass(frozen=True, kw_only=True)(type("Holder", (), namespace))
