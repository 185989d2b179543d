"""crib labels: a sheet of labels with name, mark, code and QR code."""

import click

from crib.cli.output import Output, with_output, with_store


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
    from crib.report.labels import layout_of, save_labels

    layout = layout_of(size=size, margin=margin, gap=gap, paper=paper)
    printed = save_labels(db, pdf, tags, at=at, words=words, layout=layout, skip=skip, lines=lines)
    shown = ("saved", "labels", "across", "down")
    out.give({key: getattr(printed, key) for key in shown}, lambda: (printed.verdict, printed.advice))
