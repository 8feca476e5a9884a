"""Trees become values of the model; each mistake becomes one problem."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path
from typing import Annotated

import pytest

from halfsilver.errors import JobError
from halfsilver.files.decode import decode, decode_all
from halfsilver.files.jobs import job_from_text, read_job, write_job
from halfsilver.files.located import locate
from halfsilver.model.job import Units
from halfsilver.model.quantities import Auto, PositiveLength, Quantity

EXAMPLES = Path(__file__).parents[2] / "examples"


class Colour(Enum):
    RED = "red"
    GREEN = "green"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    start: PositiveLength = field(metadata={"key": "from", "doc": "where it begins"})
    depth: PositiveLength | Auto = Auto.AUTO
    colour: Colour | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cupboard:
    name: str
    shelves: tuple[Shelf, ...] = ()
    locked: bool = False
    rails: Annotated[int, Quantity("count", least=0, most=9)] = 0
    notes: Mapping[str, str] = field(default_factory=dict)
    door: Shelf | None = None

    def __post_init__(self) -> None:
        if self.rails > len(self.shelves):
            raise ValueError("A cupboard has no more rails than shelves.")


def told(text: str) -> list[tuple[str, int, int, str]]:
    return [(p.code, p.line, p.column, p.path) for p in decode_all(locate(text), Cupboard)[1]]


def test_a_tree_becomes_the_value_it_spells() -> None:
    text = "name: oak\nshelves:\n  - {from: 1 in, depth: auto, colour: red}\n  - from: 254 mm\n    depth: 1/2 in\n"
    text += "locked: yes\nrails: 2\nnotes: {a: b}"
    assert decode(locate(text), Cupboard) == Cupboard(
        name="oak",
        shelves=(Shelf(start=25.4, colour=Colour.RED), Shelf(start=254.0, depth=12.7)),
        locked=True,
        rails=2,
        notes={"a": "b"},
    )


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("shelves: []", [("missing-key", 1, 1, "name")]),
        ("nmae: x", [("unknown-key", 1, 1, "nmae")]),
        ("name: x\nName: y", [("unknown-key", 2, 1, "Name")]),
        ("name:", [("empty-value", 1, 1, "name")]),
        ("name: [x]", [("wrong-shape", 1, 7, "name")]),
        ("name: x\nshelves: {from: 1 in}", [("wrong-shape", 2, 10, "shelves")]),
        ("name: x\nshelves: [1 in]", [("wrong-shape", 2, 11, "shelves[0]")]),
        ("name: x\nshelves: [{from: 1 in}, {from: 5}]", [("bare-number", 2, 32, "shelves[1].from")]),
        ("name: x\nshelves: [{from: 0 mm}]", [("out-of-range", 2, 18, "shelves[0].from")]),
        ("name: x\nshelves: [{from: 1 in, depth: atuo}]", [("unreadable", 2, 31, "shelves[0].depth")]),
        ("name: x\nshelves: [{from: 1 in, colour: gren}]", [("unknown-word", 2, 32, "shelves[0].colour")]),
        ("name: x\nlocked: perhaps", [("unknown-word", 2, 9, "locked")]),
        ("name: x\nrails: 3", [("impossible-value", 1, 1, "")]),
        ("name: x\nrails: 1.5\nlocked: [x]", [("not-whole", 2, 8, "rails"), ("wrong-shape", 3, 9, "locked")]),
        ("name: " + "x" * 2001, [("too-long", 1, 7, "name")]),
    ],
)
def test_each_mistake_is_one_problem_in_its_place(text: str, found: list[tuple[str, int, int, str]]) -> None:
    assert [(code, *rest) for code, *rest in told(text)] == found


def test_an_empty_value_is_an_absent_key() -> None:
    assert decode(locate("name: x\nshelves:\ndoor:\nlocked:\nnotes:"), Cupboard) == Cupboard(name="x")


def test_the_message_lists_what_may_stand_there_and_suggests_the_nearest() -> None:
    with pytest.raises(JobError) as caught:
        decode(locate("name: x\nshelfs: []\nshelves: [{form: 1 in}, {from: 1 in, colour: gren}]"), Cupboard, file="c.yaml")
    assert str(caught.value).splitlines() == [
        'c.yaml:2:1  shelfs = "shelfs"  [unknown-key]',
        "  Keys here: name, shelves, locked, rails, notes, door.  Remove it: shelves stands here already.",
        'c.yaml:3:12  shelves[0].form = "form"  [unknown-key]',
        "  Keys here: from, depth, colour.  Did you mean from?",
        'c.yaml:3:46  shelves[1].colour = "gren"  [unknown-word]',
        "  One of: red, green.  Did you mean green?",
    ]


def test_a_text_is_freed_of_characters_that_steer_a_terminal() -> None:
    value = decode(locate('name: "a\\e[31mb\\u202ec\\0d\\nf\\ud800"'), Cupboard)
    assert value.name == "a[31mbcd\nf"


def test_a_hundred_problems_are_enough() -> None:
    assert len(told("name: x\n" + "".join(f"key{n}: 1\n" for n in range(300)))) == 100


@pytest.mark.parametrize("name", ["foyer", "foyer-measured", "archive-mirror"])
def test_the_examples_are_read_and_written_the_same(name: str) -> None:
    job = read_job(EXAMPLES / f"{name}.yaml")
    assert job_from_text(write_job(job)) == job


def test_a_job_reads_as_its_own_words_say() -> None:
    job = read_job(EXAMPLES / "foyer.yaml")
    assert job.units is Units.INCH
    assert job.screen is not None
    assert job.screen.outline is not None
    assert job.screen.outline.width == pytest.approx(53.25 * 25.4, abs=1e-9)  # 53 1/4 in, 25.4 mm to the inch by definition
    assert job.screen.sticks_out[0].start == pytest.approx(25.375 * 25.4, abs=1e-9)
    assert [viewer.distance for viewer in job.viewers] == [2500.0, 2500.0, 1500.0]
    assert job.accept.hidden_share == pytest.approx(0.12)


@pytest.mark.parametrize(
    ("line", "code", "place"),
    [
        ("halfsilver: job/2", "newer-version", (1, 13)),
        ("halfsilver: workshop/1", "wrong-kind", (1, 13)),
        ("halfsilver: x", "unknown-format", (1, 13)),
        ("titel: x", "missing-key", (1, 1)),
        ("halfsilver: [1]", "wrong-shape", (1, 13)),
    ],
)
def test_a_file_of_another_kind_is_told_by_its_first_line_alone(line: str, code: str, place: tuple[int, int]) -> None:
    with pytest.raises(JobError) as caught:
        job_from_text(f"{line}\nwhatever: 1\nelse: 2\n")
    assert [(p.code, (p.line, p.column), p.path) for p in caught.value.problems] == [(code, place, "halfsilver")]
