"""Writing an answer to a file that is not there yet: CSV, XLSX or PDF by its name."""

from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from crib.cli.output import Output
from crib.desk.outside import save_new
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.report.listing import Listing

to_file = click.option(
    "--to", "file", default="", metavar="FILE", help="Write it there: .csv, .xlsx or .pdf."
)


def give_file(out: Output, file: str, listing: "Callable[[], Listing]") -> None:
    """Write a list and say where it is."""
    from crib.report.listing import listing_bytes

    made = listing()
    path = save_new(file, listing_bytes(made, file))
    told = {"file": path, "rows": len(made.rows)}
    out.give(told, lambda: (f"Written: {path}, {many(len(made.rows), 'line')}.",))
