"""The program as a server: one process, this machine only, until it is told to stop."""

from __future__ import annotations

import logging
import socket
from collections.abc import Callable

import uvicorn

from halfsilver.errors import StoreError
from halfsilver.files.places import cache_folder
from halfsilver.services.desk import Desk
from halfsilver.store.store import Store
from halfsilver.web.app import create_app


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
        say(f"The workshop is open at http://{name}:{listening.getsockname()[1]}  (stop it with Ctrl-C)")
        uvicorn.Server(config).run(sockets=[listening])
    finally:
        store.close()
    return 0


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
