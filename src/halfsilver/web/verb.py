"""The verb that opens the workshop: named in the command line's table, and loaded from there like every other."""

from __future__ import annotations

import click

PORT = 8321
LOOPBACK = ("127.0.0.1", "::1", "localhost")


@click.command()
@click.option("--port", default=PORT, show_default=True, type=click.IntRange(0, 65535), help="0 takes any that is free.")
@click.option("--host", default="127.0.0.1", show_default=True, help="This machine only.")
@click.option(
    "--store", "url", default=None, metavar="URL", help="Address of the store; HALFSILVER_STORE, else a file in your data folder."
)
def serve(port: int, host: str, url: str | None) -> int:
    """Open the workshop in a browser, on this machine only.

    Example: halfsilver serve --port 8321
    """
    if host not in LOOPBACK:
        raise click.UsageError(
            f"{host} would open the workshop to a network. There are no accounts yet: whoever reaches it could read and change every job. "
            "It opens on 127.0.0.1 only."
        )
    from halfsilver.files.places import store_address
    from halfsilver.web.run import run

    return run(host=host, port=port, url=store_address(url), say=click.echo)
