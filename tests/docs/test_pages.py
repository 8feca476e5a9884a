"""What the pages promise: every verb is described, every shown command exists, every link leads somewhere."""

from __future__ import annotations

import re
from pathlib import Path

import click
import pytest

from halfsilver.cli.main import cli

ROOT = Path(__file__).resolve().parents[2]
PAGES = sorted([*ROOT.glob("*.md"), *ROOT.glob("docs/**/*.md"), *ROOT.glob("changelog.d/*.md"), *ROOT.glob("benchmarks/*.md")])
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMING = set(re.findall(r"`([\w-]+)", README[at : README.index("\n\n", at)])) if (at := README.find("Still to come:")) >= 0 else set()
FENCED = re.compile(r"^(?:       |    )(?:python3 run )?halfsilver ([\w-]+)(.*)$", flags=re.MULTILINE)


def listed() -> set[str]:
    return set(cli.list_commands(click.Context(cli)))


def shown() -> list[tuple[str, str, str]]:
    return [(page.name, *found) for page in PAGES for found in FENCED.findall(page.read_text(encoding="utf-8"))]


def test_every_verb_stands_in_the_table_of_the_readme() -> None:
    table = set(re.findall(r"^\| `([\w-]+)", README, flags=re.MULTILINE))
    assert table == listed()


def test_what_is_still_to_come_is_not_there_yet() -> None:
    assert COMING & listed() == set()


def test_commands_are_shown() -> None:
    assert {verb for _, verb, _ in shown()} >= {"check", "why", "measure", "pack"}


@pytest.mark.parametrize(("page", "verb", "rest"), shown())
def test_a_shown_command_has_its_verb_options_and_files(page: str, verb: str, rest: str) -> None:
    command = cli.get_command(click.Context(cli), verb)
    assert command is not None, f"{page} shows {verb}"
    inner = getattr(command, "commands", {}).get((rest.split() or [""])[0], command)
    options = {option for parameter in inner.params for option in (*parameter.opts, *parameter.secondary_opts)}
    assert set(re.findall(r"(?<!\S)(--?[a-z][\w-]*)", rest)) <= options
    assert all((ROOT / name).is_file() for name in re.findall(r"examples/\S+", rest))


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(page: Path) -> None:
    text = re.sub(r"<!--.*?-->", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", text):
        assert "://" in target or (page.parent / target).exists(), target


@pytest.mark.parametrize("path", sorted((ROOT / "docs/decisions").glob("0*.md")), ids=lambda path: path.stem)
def test_a_decision_says_context_options_choice_consequences_and_date(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert re.findall(r"^## (.*)$", text, flags=re.MULTILINE) == ["Context", "Options", "Choice", "Consequences"]
    assert re.search(r"^20\d\d-\d\d-\d\d$", text, flags=re.MULTILINE)
    assert f"]({path.name})" in (path.parent / "README.md").read_text(encoding="utf-8")


def test_every_package_stands_in_the_map() -> None:
    text = (ROOT / "ARCHITECTURE.md").read_text(encoding="utf-8")
    packages = {path.parent.name for path in ROOT.glob("src/halfsilver/*/__init__.py")}
    assert {name for name in packages if f"`{name}`" not in text} == set()


def test_the_glossary_names_each_word_once() -> None:
    words = re.findall(r"^\| (?!word|---)([^|]+?) \|", (ROOT / "docs/glossary.md").read_text(encoding="utf-8"), flags=re.MULTILINE)
    assert len(words) >= 60
    assert sorted(words) == sorted(set(words))
