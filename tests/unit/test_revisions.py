"""What a second pack says of the first: what changed and why; and the same input, the same bytes."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from halfsilver.files.workshop import copy_workshop
from halfsilver.services.load import Loaded, load, resolve
from halfsilver.services.making import making_of
from halfsilver.services.measuring import append
from halfsilver.services.pack import write_pack
from halfsilver.services.records import as_text, bill_record, cut_plan_record, design_record, document
from halfsilver.services.revisions import CHANGES, changes_text, previous_pack, revision_of
from halfsilver.services.schemas import schema

ROOT = Path(__file__).resolve().parents[2]
KEPT = ("design", "bill", "changes")


class Bench:
    """A job, a workshop and the folder of its pack, without the drawings."""

    def __init__(self, place: Path, example: str) -> None:
        self.job, self.shop, self.folder = place / "job.yaml", place / "shop", place / "pack"
        self.job.write_text((ROOT / example).read_text(encoding="utf-8"), encoding="utf-8")
        copy_workshop(self.shop)
        self.folder.mkdir()

    def edit(self, path: Path, old: str, new: str) -> None:
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new, 1), encoding="utf-8")

    def loaded(self) -> Loaded:
        return load(str(self.job), workshop=str(self.shop))

    def pack(self) -> dict[str, Any]:
        """Write what a pack keeps of sizes, price and changes, as the pack does."""
        loaded = self.loaded()
        design = resolve(loaded)
        work = making_of(design)
        told, before = document("bill", bill_record(work.bill)), previous_pack(self.folder)
        revision = revision_of(before, design, told)
        changed = changes_text(before, design, work.bill, told, loaded.show)
        (self.folder / CHANGES).write_bytes(changed)
        (self.folder / "design.json").write_text(as_text(document("design", design_record(design, loaded.show))), encoding="utf-8")
        (self.folder / "bill.json").write_text(as_text(told), encoding="utf-8")
        (self.folder / "manifest.json").write_text(json.dumps({"revision": revision, "design": design.digest}), encoding="utf-8")
        found: dict[str, Any] = json.loads(changed)
        return found

    def lines(self) -> str:
        return "\n".join(self.pack()["lines"])


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("first")
    first = Bench(place, "examples/foyer.yaml").pack()
    assert (first["revision"], first["since"], first["lines"]) == (1, 0, [])
    return place


@pytest.fixture
def foyer(tmp_path: Path, packed: Path) -> Bench:
    bench = Bench(tmp_path, "examples/foyer.yaml")
    shutil.copytree(packed / "pack", bench.folder, dirs_exist_ok=True)
    return bench


@pytest.mark.parametrize("example", ["examples/foyer.yaml", "examples/archive-mirror.yaml"])
def test_what_a_pack_holds_is_as_its_schemas_say(tmp_path: Path, example: str) -> None:
    bench = Bench(tmp_path, example)
    bench.edit(bench.shop / "stock.csv", "bar-20x3-3000,bar-20x3,stick,3000,", "bar-20x3-3000,bar-20x3,stick,300,")
    bench.pack()
    plan = document("cut_plan", cut_plan_record(making_of(resolve(bench.loaded())).plan))
    for name, told in (("cut_plan", plan), *((name, json.loads((bench.folder / f"{name}.json").read_text("utf-8"))) for name in KEPT)):
        assert list(Draft202012Validator(schema(name)).iter_errors(told)) == []
        assert told["schema"] == f"halfsilver/{name}/1"


def test_a_reading_is_the_cause_and_the_price_moves(foyer: Bench) -> None:
    tuple(append(str(foyer.job), name="rear.rebate.height", value="30 9/16 in", at="middle", by=None, when=None, workshop=str(foyer.shop)))
    told = foyer.pack()
    assert (told["revision"], told["since"]) == (2, 1)
    assert "rear glass height 30 1/2 in -> 30 7/16 in: the opening was measured" in told["lines"]
    change = next(one for one in told["sizes"] if one["name"] == "rear.glass.height")
    assert change["roots"] == ["rear.rebate.height"]
    assert not [line for line in told["lines"] if line.startswith("front")]
    price = next(one for one in told["price"] if one["name"] == "bill.price")
    assert price["was"] != price["now"]
    assert "material" in price["reason"]


def test_a_second_reading_and_one_taken_back(foyer: Bench) -> None:
    tuple(append(str(foyer.job), name="rear.rebate.height", value="30 9/16 in", at="", by=None, when=None, workshop=str(foyer.shop)))
    foyer.pack()
    foyer.edit(foyer.job, "30 9/16 in", "30 1/2 in")
    assert "rear glass height 30 7/16 in -> 30 3/8 in: the opening was measured" in foyer.lines()
    text = foyer.job.read_text(encoding="utf-8")
    foyer.job.write_text(text[: text.index("measured:")], encoding="utf-8")
    assert "rear glass height 30 3/8 in -> 30 1/2 in: a reading of the opening was taken back" in foyer.lines()


def test_a_reading_cuts_off_what_was_planned_before_it(foyer: Bench) -> None:
    foyer.edit(foyer.job, "fit: {screen: 1/8 in", "fit: {screen: 1/4 in")
    tuple(append(str(foyer.job), name="rear.rebate.height", value="30 9/16 in", at="", by=None, when=None, workshop=str(foyer.shop)))
    roots = {change["name"]: change["roots"] for change in foyer.pack()["sizes"]}
    assert roots["rear.glass.height"] == ["rear.rebate.height"]
    assert roots["rear.glass.width"] == ["fit.screen"]


def test_an_asked_value_is_the_cause(foyer: Bench) -> None:
    foyer.edit(foyer.job, "glass: 1/8 in, sight", "glass: 3/16 in, sight")
    line = "rear glass width 53 1/4 in -> 53 3/16 in: the job asks for another value, glass clearance 1/8 in -> 3/16 in"
    assert line in foyer.lines()


def test_a_choice_from_the_catalogue_is_the_cause(foyer: Bench) -> None:
    foyer.edit(foyer.job, "front: {moulding: gallery-57", "front: {moulding: slim-19")
    told = foyer.lines()
    assert "front glass width 53 1/4 in -> 56 1/4 in: moulding slim-19 was chosen instead of moulding gallery-57" in told
    assert "front frame, long stick, mitred 45 degrees both ends: gallery-57 -> slim-19" in told


def test_an_allowance_is_the_cause(tmp_path: Path) -> None:
    bench = Bench(tmp_path, "examples/foyer.yaml")
    bench.edit(bench.job, ", glass: 1/8 in, sight", ", sight")
    bench.pack()
    bench.edit(bench.shop / "workshop.yaml", "fit_glass: 1/8 in", "fit_glass: 3/16 in")
    assert "rear glass width 53 1/4 in -> 53 3/16 in: the workshop's allowance changed, glass clearance 1/8 in -> 3/16 in" in bench.lines()


def test_a_changed_catalogue_entry_is_the_cause(foyer: Bench) -> None:
    foyer.edit(foyer.shop / "glass.csv", 'split-t30-4,"Dielectric part mirror, 30 % through, low-iron",4,', "split-t30-4,Part mirror,5,")
    told = foyer.lines()
    assert "rear glass thickness" in told
    assert "the catalogue changed, rear glass thickness" in told


def test_a_price_alone_makes_a_revision(foyer: Bench) -> None:
    foyer.edit(foyer.job, "margin: 35 %", "margin: 40 %")
    told = foyer.pack()
    assert told["revision"] == 2
    assert told["sizes"] == told["parts"] == []
    assert [one["name"] for one in told["price"]] == ["bill.price", "bill.tax", "bill.total"]
    assert "margin 35 % -> 40 %" in told["price"][0]["reason"]


def test_several_pieces_are_named_as_the_cause(foyer: Bench) -> None:
    foyer.edit(foyer.job, "scope: complete", "scope: complete\nquantity: 2")
    assert "1 -> 2 pieces" in foyer.lines()


def test_packing_again_keeps_every_byte(foyer: Bench) -> None:
    foyer.edit(foyer.job, "glass: 1/8 in, sight", "glass: 3/16 in, sight")
    assert foyer.pack()["lines"]
    before = {path.name: path.read_bytes() for path in foyer.folder.iterdir()}
    foyer.pack()
    assert {path.name: path.read_bytes() for path in foyer.folder.iterdir()} == before


def test_going_back_is_told_as_a_change_of_its_own(foyer: Bench) -> None:
    foyer.edit(foyer.job, "margin: 35 %", "margin: 40 %")
    foyer.pack()
    foyer.edit(foyer.job, "margin: 40 %", "margin: 35 %")
    told = foyer.pack()
    assert (told["revision"], told["since"]) == (3, 2)
    assert "margin 40 % -> 35 %" in told["price"][0]["reason"]


@pytest.mark.parametrize(
    "damage", ["", "[]", "{", '{"ledger": 3}', '{"ledger": {"outside.width": 5}}', '{"ledger": {"gap": {"value_mm": "x"}}}']
)
def test_a_damaged_pack_is_no_reason_to_fail(foyer: Bench, damage: str) -> None:
    (foyer.folder / "design.json").write_text(damage, encoding="utf-8")
    (foyer.folder / "bill.json").write_text(damage, encoding="utf-8")
    (foyer.folder / CHANGES).unlink()
    told = foyer.pack()
    assert told["revision"] in (1, 2)


def test_changes_too_small_for_the_fraction_are_shown_finer(foyer: Bench) -> None:
    tuple(append(str(foyer.job), name="rear.rebate.height", value="777.75 mm", at="", by=None, when=None, workshop=str(foyer.shop)))
    change = next(one for one in foyer.pack()["sizes"] if one["name"] == "rear.sight.height")
    assert change["was"] != change["now"]


def test_a_whole_pack_made_again_is_the_same_to_the_byte(foyer: Bench, tmp_path: Path) -> None:
    folder = tmp_path / "whole"
    write_pack(foyer.loaded(), str(folder), date="2026-03-04")
    foyer.edit(foyer.job, "margin: 35 %", "margin: 40 %")
    packs = []
    for _ in range(2):
        assert write_pack(foyer.loaded(), str(folder), date="2026-03-04").revision == 2
        packs.append({path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()})
    assert packs[0] == packs[1]
    assert {Path("cut_plan.json"), Path("bill.json"), Path(CHANGES)} <= packs[0].keys()
