"""Edits of a job file: one thing changes, every other byte stays."""

from __future__ import annotations

from pathlib import Path

import pytest

from halfsilver.errors import JobError
from halfsilver.files.edit import append_reading, edit_file, set_values, without_values
from halfsilver.files.jobs import job_from_text, read_job
from halfsilver.model.job import Reading

EXAMPLES = Path(__file__).parents[2] / "examples"
READING = Reading(name="gap", value=101.6, at="top", when="2026-03-04", by="AB")
ITEM = "{name: gap, value: 4 in, at: top, when: 2026-03-04, by: AB}"
OLD = "{name: gap, value: 1 mm}"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a: 1\n", f"a: 1\nmeasured:\n  - {ITEM}\n"),
        ("a: 1", f"a: 1\nmeasured:\n  - {ITEM}"),
        ("a: 1\r\nb: 2\r\n", f"a: 1\r\nb: 2\r\nmeasured:\r\n  - {ITEM}\r\n"),
        ("a: 1  # one\n# the end\n", f"a: 1  # one\nmeasured:\n  - {ITEM}\n# the end\n"),
        ("a: |\n  x\n\n  y\n\nb: >\n  z\n\n\n", f"a: |\n  x\n\n  y\n\nb: >\n  z\nmeasured:\n  - {ITEM}\n\n\n"),
        ("---\na: 1\n...\n", f"---\na: 1\nmeasured:\n  - {ITEM}\n...\n"),
        ("  a: 1\n  b:\n    c: 1\n", f"  a: 1\n  b:\n    c: 1\n  measured:\n    - {ITEM}\n"),
        ("{a: 1}", f"{{a: 1, measured: [{ITEM}]}}"),
        ("{a: 1, measured: []}\n", f"{{a: 1, measured: [{ITEM}]}}\n"),
        ("measured: []  # none yet\nb: 1\n", f"measured: [{ITEM}]  # none yet\nb: 1\n"),
        ("measured:  # note: none yet\nb: 1\n", f"measured: [{ITEM}]  # note: none yet\nb: 1\n"),
        ("b: 1\nmeasured:", f"b: 1\nmeasured: [{ITEM}]"),
        ("measured:\n\nb: 1\n", f"measured: [{ITEM}]\n\nb: 1\n"),
        (f"measured: [{OLD}] # c\nb: 1\n", f"measured: [{OLD}, {ITEM}] # c\nb: 1\n"),
        (f"measured: [{OLD},]\n", f"measured: [{OLD}, {ITEM},]\n"),
        (f"measured: [ {OLD} ]\n", f"measured: [ {OLD}, {ITEM} ]\n"),
        (f"measured: [\n  {OLD},  # first\n  {OLD}  # second\n]\n", f"measured: [\n  {OLD},  # first\n  {OLD},  # second\n  {ITEM}\n]\n"),
        (f"measured: [\n  {OLD},\n]\n", f"measured: [\n  {OLD},\n  {ITEM}\n]\n"),
        (f"measured: [\n  {OLD}]\n", f"measured: [\n  {OLD}, {ITEM}]\n"),
        (f"measured:\n- {OLD}\nb: 1\n", f"measured:\n- {OLD}\n- {ITEM}\nb: 1\n"),
        (f"measured:\n  - {OLD}  # here\n  # and there\n\nb: 1\n", f"measured:\n  - {OLD}  # here\n  - {ITEM}\n  # and there\n\nb: 1\n"),
        ("measured:\n  - name: gap\n    value: 1 mm # c\n\nb: 1", f"measured:\n  - name: gap\n    value: 1 mm # c\n  - {ITEM}\n\nb: 1"),
        ("measured:\n  -\n    name: gap\n    value: 1 mm\n", f"measured:\n  -\n    name: gap\n    value: 1 mm\n  - {ITEM}\n"),
        (f"measured:\n  - {OLD}", f"measured:\n  - {OLD}\n  - {ITEM}"),
        (f'"measured":\n    - {OLD}\n', f'"measured":\n    - {OLD}\n    - {ITEM}\n'),
        ("b: 'ends here'", f"b: 'ends here'\nmeasured:\n  - {ITEM}"),
        ("b: ends\n  here # c\n", f"b: ends\n  here # c\nmeasured:\n  - {ITEM}\n"),
        ("b:\n", f"b:\nmeasured:\n  - {ITEM}\n"),
        ("b: # c: d\n", f"b: # c: d\nmeasured:\n  - {ITEM}\n"),
        ("b:\n  c:\n  d: # e\n", f"b:\n  c:\n  d: # e\nmeasured:\n  - {ITEM}\n"),
    ],
)
def test_a_reading_is_appended_and_nothing_else_changes(before: str, after: str) -> None:
    assert append_reading(before, READING) == after


@pytest.mark.parametrize("name", ["foyer", "foyer-measured", "archive-mirror"])
def test_the_examples_gain_one_line_or_two(name: str) -> None:
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    once = append_reading(text, READING)
    twice = append_reading(once, READING, value="101.6 mm")
    old, new = job_from_text(text), job_from_text(twice)
    assert new.measured == (*old.measured, READING, READING)
    added = [line for line in twice.splitlines() if line not in text.splitlines()]
    assert added[-1].endswith("value: 101.6 mm, at: top, when: 2026-03-04, by: AB}")
    assert set(text.splitlines()) <= set(twice.splitlines())


def test_the_value_stays_as_the_person_wrote_it() -> None:
    text = append_reading("a: 1\n", Reading(name="gap", value=34.1875 * 25.4), value='34 3/16"')
    assert '{name: gap, value: 34 3/16"}' in text


def test_a_value_that_reads_otherwise_is_refused() -> None:
    with pytest.raises(JobError, match="edit-refused"):
        append_reading("a: 1\n", READING, value="5 in")


@pytest.mark.parametrize("text", ["measured: later\n", "measured: {name: gap}\n", "a: 1\n? b\n: c\n...\n# x\n---\n"])
def test_what_cannot_be_extended_is_refused_with_the_line_to_add(text: str) -> None:
    with pytest.raises(JobError):
        append_reading(text, READING)


def test_words_in_a_reading_are_quoted_where_they_must_be() -> None:
    reading = Reading(name="gap", value=1.0, at="left: low", by="#3, [new]")
    text = append_reading("a: 1\n", reading, units="mm")
    assert text.endswith("- {name: gap, value: 1 mm, at: 'left: low', by: '#3, [new]'}\n")


@pytest.mark.parametrize(
    ("before", "values", "after"),
    [
        ("gap: auto # c\n", {"gap": "100 mm"}, "gap: 100 mm # c\n"),
        ("gap: 'auto'\nb: {c: auto}\n", {"gap": "4 in", "b.c": "top-left"}, "gap: 4 in\nb: {c: top-left}\n"),
        ("a: 1\n# end\n", {"gap": "4 in"}, "a: 1\ngap: 4 in\n# end\n"),
        ("a: {b: 1}\n", {"a.c": "2 mm"}, "a: {b: 1, c: 2 mm}\n"),
        ("a: {}\n", {"a.c": "2 mm"}, "a: {c: 2 mm}\n"),
        ("a:\nb: 1\n", {"a.c.d": "2 mm"}, "a: {c: {d: 2 mm}}\nb: 1\n"),
        ("a:\n  b: 1 # c\n\nd: 1\n", {"a.c": "2 mm", "a.e": "x: y"}, "a:\n  b: 1 # c\n  c: 2 mm\n  e: 'x: y'\n\nd: 1\n"),
        ("v: [{d: 1}, {d: 2}]\r\n", {"v[1].d": "3 mm"}, "v: [{d: 1}, {d: 3 mm}]\r\n"),
        ("v:\n  - {d: 1}\n  - d: 2\n", {"v[1].e": "3 mm"}, "v:\n  - {d: 1}\n  - d: 2\n    e: 3 mm\n"),
        ("a: 1", {"b.c": "2 mm", "b.d": "3 mm"}, "a: 1\nb: {c: 2 mm, d: 3 mm}"),
    ],
)
def test_values_are_set_where_they_stand_and_added_where_they_do_not(before: str, values: dict[str, str], after: str) -> None:
    assert set_values(before, values) == after


@pytest.mark.parametrize("path", ["a.b", "v[3].d", "v.d", "a[0]"])
def test_a_path_that_leads_nowhere_is_refused(path: str) -> None:
    with pytest.raises(JobError, match="Add it yourself"):
        set_values("a: 1\nv: [{d: 1}]\n", {path: "2 mm"})


def test_a_file_keeps_its_mark_its_mode_and_its_line_ends(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"\xef\xbb\xbfgap: auto\r\n# \xc3\xa4\r\n")
    path.chmod(0o640)
    edit_file(path, lambda text: set_values(text, {"gap": "4 in"}))
    assert path.read_bytes() == b"\xef\xbb\xbfgap: 4 in\r\n# \xc3\xa4\r\n"
    assert path.stat().st_mode & 0o777 == 0o640
    assert [p.name for p in tmp_path.iterdir()] == ["job.yaml"]


def test_a_change_that_fails_leaves_the_file(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text((EXAMPLES / "foyer.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    with pytest.raises(JobError):
        edit_file(path, lambda text: append_reading(text, READING, value="5 kg"))
    assert read_job(path) == read_job(EXAMPLES / "foyer.yaml")


@pytest.mark.parametrize(
    "slip",
    [
        f"a: 1\nmeasured:\n  - {OLD[:-4]}2 mm}}\n  - {ITEM}\n",
        f"a: 2\nmeasured:\n  - {OLD}\n  - {ITEM}\n",
        f"a: 1\nmeasured:\n  - {ITEM}\n",
        f"a: 1\nmeasured:\n  - {OLD}\n  - {ITEM.replace('4 in', '5 in')}\n",
        f"a: 1\nmeasured:\n  - {OLD}\n  - {ITEM}\n  - {ITEM}\n",
        f"a: 1\nmeasured:\n  - {OLD}\n - {ITEM}\n",
    ],
)
def test_a_slip_of_the_splicing_is_caught_by_reading_again(slip: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("halfsilver.files.edit._with_reading", lambda *_: slip)
    with pytest.raises(JobError, match="edit-refused"):
        append_reading(f"a: 1\nmeasured:\n  - {OLD}\n", READING)


@pytest.mark.parametrize(
    ("path", "gone"),
    [
        ("fit.glass", ", glass: 1/8 in"),
        ("terms.margin", "margin: 35 %, "),
        ("viewers[1].sideways", ", sideways: 600 mm"),
        ("fraction", "fraction: 1/32             # the finest fraction in print\n"),
        ("screen.outline.depth", ", depth: 1 3/4 in"),
    ],
)
def test_a_key_is_taken_out_and_nothing_else(path: str, gone: str) -> None:
    text = (EXAMPLES / "foyer.yaml").read_text("utf-8")
    assert gone in text
    assert without_values(text, [path]) == text.replace(gone, "", 1)


def test_a_group_goes_with_its_last_key_and_an_absent_key_is_passed() -> None:
    assert without_values("title: x\nfit:\n  glass: 3 mm\ngap: auto\n", ["fit.glass", "case.fan"]) == "title: x\ngap: auto\n"
