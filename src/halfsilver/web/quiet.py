"""What the server writes into its log: where a fault was, never the values that were in hand there."""

from __future__ import annotations

import logging
import traceback
from typing import Final

SERVER: Final = "uvicorn.error"


class PlacesOnly(logging.Filter):
    """Takes an exception's words out of a record: they may hold what a client is called, a cookie, or an address with its password."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Let every record pass, with the lines of the program in place of the exception."""
        if record.exc_info and record.exc_info[0] is not None:
            places = "".join(traceback.format_tb(record.exc_info[2]))
            record.msg, record.args = f"{record.getMessage()}\n{record.exc_info[0].__name__}, in\n{places}", ()
            record.exc_info, record.exc_text = None, None
        return True


def quieten() -> None:
    """Do so with the server's own log, once."""
    server = logging.getLogger(SERVER)
    if not any(isinstance(one, PlacesOnly) for one in server.filters):
        server.addFilter(PlacesOnly())
