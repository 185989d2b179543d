"""crib labels: a sheet of labels with name, mark, code and QR code."""

import click

from crib.cli.output import Output, with_output, with_store
from crib.errors import InputError


@click.command()
@click.argument("tags", nargs=-1)
@click.option("--pdf", required=True, type=click.Path(), help="The file to write; none is written over.")
@click.option("--at", default="", metavar="PLACE", help="All tools of a place.")
@click.option("--find", "words", default="", metavar="WORDS", help="Tools in shop talk; with --at, of there.")
@click.option("--size", default="62x29", metavar="WxH", help="Of a label, in mm.")
@click.option("--margin", default="8x10", metavar="LEFTxTOP", help="To the first label, in mm.")
@click.option("--gap", default="2x2", metavar="AxB", help="Between labels, side by side and below, in mm.")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4")
@click.option("--skip", type=click.IntRange(0), default=0, help="So many at the beginning are used already.")
@click.option("--lines", is_flag=True, help="Draw the edge of each label.")
@with_store
@with_output
def command(
    tags: tuple[str, ...],
    pdf: str,
    at: str,
    words: str,
    size: str,
    margin: str,
    gap: str,
    paper: str,
    skip: int,
    lines: bool,
    out: Output,
    db: str,
) -> None:
    """Print labels: tag, name, code, mark, and a QR code that holds the tag.

    \b
    crib labels H03 H04 --pdf labels.pdf
    crib labels --at "drawer 1" --size 70x37 --margin 0x0.5 --gap 0x0 --pdf l.pdf

    Scanned into crib find, the Ask line or any line that takes a tag, the code is the tool.
    """
    from crib.desk.dates import now
    from crib.desk.intake.labels import labels
    from crib.desk.outside import save_new
    from crib.report.labels import Layout, labels_pdf

    wide, high = _two(size, "size")
    left, top = _two(margin, "margin")
    gap_x, gap_y = _two(gap, "gap")
    layout = Layout(
        paper=paper, wide_mm=wide, high_mm=high, left_mm=left, top_mm=top, gap_x_mm=gap_x, gap_y_mm=gap_y
    )
    across, down = layout.grid()
    found = labels(db, tags, at=at, words=words)
    saved = save_new(pdf, labels_pdf(found, layout, skip=skip, lines=lines, made=now()))
    answer = {"saved": saved, "labels": found, "across": across, "down": down}
    told = f"{len(found)} label{'s' * (len(found) != 1)} in {saved}, {across} x {down} on a sheet of {paper}."
    out.give(answer, lambda: (told, "Print it at 100 %, not fitted to the page; try plain paper first."))


def _two(text: str, what: str) -> tuple[float, float]:
    """Read two millimetres: 62x29, 62,5 x 29."""
    try:
        parts = text.lower().replace("mm", "").replace(",", ".").split("x")
        one, other = (float(part) for part in parts)
    except ValueError:
        raise InputError(f"the {what} {text!r} can't be read", "two numbers of mm, like 62x29") from None
    if not (0 <= one < 1000 and 0 <= other < 1000):
        raise InputError(f"the {what} {text!r} is no size of paper", "two numbers of mm, like 62x29")
    return one, other
