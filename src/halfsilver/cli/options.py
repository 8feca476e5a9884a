"""Options that several verbs share."""

from __future__ import annotations

import click

job_argument = click.argument("job", type=click.Path())
workshop_option = click.option(
    "--workshop", type=click.Path(), default=None, metavar="DIR", help="Folder of the workshop; the invented one if absent."
)
json_option = click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
