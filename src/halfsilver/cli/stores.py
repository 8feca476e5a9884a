"""Verbs of the store: back it up, restore it, take jobs out and in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from halfsilver.errors import StoreError

if TYPE_CHECKING:
    from halfsilver.store.archive import Counted
    from halfsilver.store.store import Store

store_option = click.option(
    "--store", "url", default=None, metavar="URL", help="Address of the store; HALFSILVER_STORE, else a file in your own data folder."
)


@click.command()
@click.argument("file", type=click.Path(dir_okay=False))
@store_option
def backup(file: str, url: str | None) -> int:
    """Write everything in the store to one file, also while it is served; it is proved by restoring it.

    Example: halfsilver backup monday.zip
    """
    from halfsilver.store.archive import back_up

    with _open(url) as store:
        click.echo(f"{file}: {_told(back_up(store, Path(file)))}, restored to try it")
    return 0


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False))
@click.option("--replace", is_flag=True, help="Everything that is in the store now gives way to the backup.")
@store_option
def restore(file: str, replace: bool, url: str | None) -> int:
    """Put a backup into an empty store; with --replace, in the place of all that is there.

    Example: halfsilver restore monday.zip --store sqlite:///again.sqlite
    """
    from halfsilver.store.archive import read_archive
    from halfsilver.store.values import Kind

    with _open(url) as store:
        if not replace and (store.heads(Kind.JOB, most=1) or store.heads(Kind.WORKSHOP, most=1)):
            raise StoreError("This store is not empty. Restore into a new one, or say --replace, and all that is in it gives way.")
        click.echo(f"{file}: {_told(read_archive(store, Path(file), replace=replace))}")
    return 0


@click.command()
@click.argument("job", metavar="JOBID")
@click.argument("file", type=click.Path(dir_okay=False))
@store_option
def export(job: str, file: str, url: str | None) -> int:
    """Write one job with its options, history and packs to one file.

    Example: halfsilver export night-sky-for-the-foyer-1a2b3c foyer.zip
    """
    from halfsilver.services.desk_exchange import export_job

    with _open(url) as store:
        click.echo(f"{file}: {_told(export_job(store, job, Path(file)))}")
    return 0


@click.command("import")
@click.argument("file", type=click.Path(exists=True, dir_okay=False))
@store_option
def import_(file: str, url: str | None) -> int:
    """Take in a job: a job file, or an archive that export wrote.

    Example: halfsilver import examples/foyer.yaml
    """
    from halfsilver.files.places import cache_folder
    from halfsilver.services.desk import Desk
    from halfsilver.services.desk_exchange import import_file

    with _open(url) as store:
        click.echo(f"{file}: {import_file(Desk(store=store, cache=cache_folder()), Path(file)).words}")
    return 0


def _open(url: str | None) -> Store:
    from halfsilver.files.places import store_address
    from halfsilver.store.store import Store

    return Store(store_address(url))


def _told(counted: Counted) -> str:
    return f"{counted.records} records, {counted.states} states, {counted.packs} packs, {counted.contents} contents"
