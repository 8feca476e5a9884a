"""The program as a server: one process, this machine only, until it is told to stop."""

from __future__ import annotations

import gc
import logging
import socket
from collections.abc import Callable
from threading import Timer
from typing import Final

import uvicorn
from fastapi import FastAPI

from halfsilver.errors import StoreError
from halfsilver.files.places import cache_folder
from halfsilver.services.desk import Desk
from halfsilver.store.store import Store
from halfsilver.web.app import create_app
from halfsilver.web.quiet import quieten

FIRST_PAGE_S: Final = 0.5


def run(*, host: str, port: int, url: str, say: Callable[[str], None]) -> int:
    """Serve a store.

    Parameters
    ----------
    host, port : str, int
        Where; port 0 takes any that is free.
    url : str
        Address of the store.
    say : callable
        Told the address, once it answers.

    Raises
    ------
    StoreError
        If the store cannot be opened, or the port is taken.
    """
    store = Store(url)
    try:
        listening = _socket(host, port)
        name = "localhost" if host == "localhost" else f"[{host}]" if ":" in host else host
        app = create_app(Desk(store=store, cache=cache_folder()))
        config = uvicorn.Config(app, log_level=logging.WARNING, access_log=False, server_header=False, timeout_graceful_shutdown=3)
        quieten()
        rest = Timer(FIRST_PAGE_S, get_ready, (app,))
        rest.daemon = True
        rest.start()
        say(f"The workshop is open at http://{name}:{listening.getsockname()[1]}  (stop it with Ctrl-C)")
        uvicorn.Server(config).run(sockets=[listening])
    finally:
        store.close()
    return 0


def get_ready(app: FastAPI) -> None:
    """Load the other pages while somebody looks at the first one; the collector of garbage leaves alone what stays to the end."""
    app.state.rest.load()
    warm()
    gc.collect()
    gc.freeze()


def warm() -> None:
    """Do once, for the invented job, what a page of a job does."""
    from halfsilver.files.workshop import DEFAULT, read_workshop
    from halfsilver.services.desk_new import example_text
    from halfsilver.services.desk_reckoned import Reckoned
    from halfsilver.services.findings import examined
    from halfsilver.services.load import load_text
    from halfsilver.web.shown import environment

    reckoned = Reckoned(load_text(example_text(), file="job.yaml", workshop=read_workshop(DEFAULT)))
    examined(reckoned.design, reckoned.show)
    reckoned.svg("front")
    environment().get_template("brief.html")


def _socket(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    made = socket.socket(family, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
        made.listen(128)
    except OSError as error:
        made.close()
        words = f"Port {port} cannot be taken ({error.strerror}). Perhaps the workshop is open already; else say --port."
        raise StoreError(words) from None
    return made
