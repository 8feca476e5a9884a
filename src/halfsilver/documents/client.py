"""The client's document: what they get, in plain words, with a drawing, key numbers, price, and what they have to know."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from halfsilver.documents.bill_sheet import amount, share
from halfsilver.documents.chart_parts import Chart
from halfsilver.documents.charts import chart_rows
from halfsilver.documents.client_words import care, describing, key_numbers, provided, tiles, to_mind, to_settle
from halfsilver.documents.cut_rows import Row
from halfsilver.documents.drawings import papers
from halfsilver.documents.embedded import framed_png
from halfsilver.documents.front_view import front_view
from halfsilver.documents.looks import Look, for_client, look_rows
from halfsilver.documents.more import template
from halfsilver.documents.picture import plain
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.summary import mass_text
from halfsilver.documents.typesetting import typeset
from halfsilver.documents.words import printable, sentence, shortened
from halfsilver.drawing.fit import fitted, sheet_of
from halfsilver.drawing.scene import Item, Line, Scene, Side, rectangle
from halfsilver.drawing.sheets import PAPERS
from halfsilver.drawing.style import Material, Role
from halfsilver.drawing.svg import sheet_svg
from halfsilver.drawing.view import Scale
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show
from halfsilver.model.bill import ClientBill
from halfsilver.model.finding import Finding
from halfsilver.model.job import MountingKind
from halfsilver.model.results import OptionRecord
from halfsilver.units.rounding import decimal_text

RUNNING_MM, RUNNING_CAPITAL_MM = 100.0, 2.05
DRAWING_MM = (174.0, 112.0)
DRAWING_SMALL_MM = (150.0, 56.0)
SCALES = tuple(Scale(d) for d in (2.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 200.0))
PICTURE = "picture.svg"


def client_pdf(
    design: Design,
    findings: Sequence[Finding],
    bill: ClientBill | None,
    *,
    show: Show,
    date: str,
    revision: int,
    version: str,
    options: Sequence[OptionRecord] = (),
    picture: bytes | None = None,
    looks: Sequence[Look] = (),
    charts: Sequence[Chart] = (),
) -> bytes:
    """The client's document as a PDF.

    Parameters
    ----------
    design : Design
        What is offered.
    findings : sequence of Finding
        What the checks found; told in plain words.
    bill : ClientBill, optional
        The client's view: without it no price is printed.
    show : Show
        Writes a value in the job's own units.
    date : str
        Date of issue, YYYY-MM-DD; also the file's own time stamp.
    revision : int
        Revision of the pack.
    version : str
        Version of the program.
    options : sequence of OptionRecord
        Other ways to make it, side by side.
    picture : bytes, optional
        A PNG picture for the first page, in place of the first of the stills.
    looks : sequence of Look
        Stills: the first stands on the first page, the others on a page of their own.
    charts : sequence of Chart
        Shown with what they say in plain words.

    Returns
    -------
    bytes
        The same for the same arguments, anywhere and at any time.

    Raises
    ------
    RenderError
        If a drawing does not fit its place, the picture is not a PNG, or the document cannot be typeset.
    """
    job, sizes = design.facts.job, Sizes(design, show)
    picture = picture or (looks[0].png if looks else None)
    box = DRAWING_SMALL_MM if picture else DRAWING_MM
    drawing = sheet_svg(sheet_of(fitted(client_scene(sizes), box=(0, 0, *box), scales=SCALES), margin_mm=1.0)).encode()
    told, pictures = chart_rows(charts)
    seen, stills = look_rows(sizes, for_client(looks))
    data: Row = {
        "title": printable(job.title),
        "running": shortened(job.title, room_mm=RUNNING_MM, size_mm=RUNNING_CAPITAL_MM),
        "client": printable(job.client),
        "date": date,
        "revision": revision,
        "version": version,
        "digest": design.digest[:12],
        "paper": PAPERS[papers(job).words],
        "picture": PICTURE if picture else "",
        "looks": seen,
        "what": describing(sizes),
        "tiles": tiles(sizes),
        "numbers": key_numbers(sizes),
        "provided": provided(sizes),
        "settle": to_settle(findings),
        "mind": to_mind(sizes, findings),
        "care": care(sizes),
        "charts": told,
        "options": [_option(sizes, option) for option in options],
        "price": _price(bill) if bill is not None else {},
        "included": [sentence(printable(words)) for words in bill.included] if bill is not None else [],
        "left_out": [sentence(printable(words)) for words in bill.not_included] if bill is not None else [],
    }
    hero = {PICTURE: framed_png(picture)} if picture else {}
    files = {"look.typ": template("look.typ"), "drawing.svg": drawing, **pictures, **stills, **hero}
    return typeset("client.typ", data, pictures=files)


def client_scene(sizes: Sizes) -> Scene:
    """The front and the side with the three outside sizes, nothing of the workshop."""
    wide, high, deep = sizes["outside.width"], sizes["outside.height"], sizes["outside.depth"]
    left = wide / 2 + max(0.16 * wide, 0.9 * deep)
    items: tuple[Item, ...] = (
        *plain(front_view(sizes)).items,
        sizes.dimension("outside.width", (-wide / 2, -high / 2), (wide / 2, -high / 2), side=Side.BELOW),
        sizes.dimension("outside.height", (-wide / 2, -high / 2), (-wide / 2, high / 2), side=Side.LEFT),
        rectangle(
            x_mm=left, y_mm=-high / 2, width_mm=deep, height_mm=high, material=Material.TIMBER_LONG, grain_deg=90.0, title="From the side"
        ),
        *_wall(sizes, left + deep, high),
        sizes.dimension("outside.depth", (left, -high / 2), (left + deep, -high / 2), side=Side.BELOW),
    )
    return Scene(items=items, title="Front and side")


def _wall(sizes: Sizes, x: float, high: float) -> Iterator[Item]:
    """The wall behind what hangs on it."""
    if sizes.design.facts.job.mounting.kind is MountingKind.HUNG:
        yield Line(start=(x, -0.56 * high), end=(x, 0.56 * high), role=Role.CUT)


def _price(bill: ClientBill) -> Row:
    rows = [{"label": "Price", "value": amount(bill.price)}]
    if bill.tax:
        rows.append({"label": f"Tax, {share(bill.tax_share)}", "value": amount(bill.tax)})
    terms = [f"{amount(bill.deposit)} {bill.currency} is due with the order", f"{amount(bill.balance)} {bill.currency} before shipping"]
    told = [", ".join(terms) + "."] if bill.deposit else []
    told += [f"The offer stands for {bill.valid_days} days from its date."] if bill.valid_days else []
    told.append("Work begins when the order, the deposit and what we need from you are here. Changes after that are priced anew.")
    return {"rows": rows, "total": amount(bill.total), "currency": printable(bill.currency), "pieces": bill.pieces, "terms": told}


def _option(sizes: Sizes, option: OptionRecord) -> Row:
    outside = option.sizes.get("outside")
    made = option.scope.replace("-", " ") + (f", {option.pieces} pieces" if option.pieces > 1 else "")
    facts = [
        ("Made", made),
        ("Size", outside.shown if outside else ""),
        ("Depth and weight", f"{option.depth_shown}, {mass_text(sizes, option.mass_kg)}"),
    ]
    if option.gap_shown:
        facts.append(("Space between the sheets", option.gap_shown))
    if option.hidden_share is not None:
        facts.append(("Picture behind the rim", f"{decimal_text(100 * option.hidden_share, 1)} %"))
    facts += [("Price", f"{option.price} {option.currency}"), ("With tax", f"{option.total} {option.currency}")]
    return {"title": printable(option.title), "facts": [{"label": label, "value": printable(value)} for label, value in facts]}
