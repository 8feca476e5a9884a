"""The pack: the documents of one revision, in a folder that is replaced as a whole."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.metadata import version
from importlib.resources import files
from pathlib import Path
from typing import Any

from halfsilver import __version__
from halfsilver.costing.bill import client_view
from halfsilver.errors import JobError, QuantityError
from halfsilver.files.atomic import whole_folder
from halfsilver.layout.design import Design
from halfsilver.model.results import FileRecord, ManifestRecord
from halfsilver.services.compare import option
from halfsilver.services.findings import examined
from halfsilver.services.load import Loaded, resolve
from halfsilver.services.making import Making, making_of
from halfsilver.services.records import as_text, bill_record, cut_plan_record, design_record, document, findings_record
from halfsilver.services.revisions import CHANGES, changes_text, lines_of, previous_pack, revision_of
from halfsilver.units.quantities import read_quantity

MANIFEST = "manifest.json"
Say = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenPack:
    """What was written, and where."""

    folder: str
    revision: int
    files: tuple[str, ...]
    design: Design


def demo_job() -> Path:
    """The invented job that ships with the program."""
    return Path(str(files("halfsilver") / "data" / "demo" / "foyer.yaml"))


def write_pack(
    loaded: Loaded, folder: str, *, date: str, others: Sequence[Loaded] = (), pictures: bool = True, say: Say = lambda stage: None
) -> WrittenPack:
    """Write the pack of a job.

    Parameters
    ----------
    loaded : Loaded
        The job and its workshop.
    folder : str
        Where it goes. A pack that lies there is replaced when the new one is whole; a folder that is not a pack is refused.
    date : str
        Date printed on the documents, YYYY-MM-DD.
    others : sequence of Loaded
        Other ways to make the piece, told to the client beside this one.
    pictures : bool
        Whether stills are drawn and shown.
    say : callable
        Told the name of each stage as it begins.

    Raises
    ------
    JobError
        If the job, the date or the folder cannot be used.
    NoDesignError, RenderError
        If there is no design, or a document cannot be made.
    """
    _check_date(date)
    say("Sizes")
    design = resolve(loaded)
    say("Cut plan and bill")
    work = making_of(design, folder=loaded.folder)
    with whole_folder(folder, mark=MANIFEST) as built:
        previous = previous_pack(Path(folder))
        told = document("bill", bill_record(work.bill))
        revision = revision_of(previous, design, told)
        changed = changes_text(previous, design, work.bill, told, loaded.show)
        contents = pack_files(loaded, design, work, changed, date=date, revision=revision, others=others, pictures=pictures, say=say)
        for name, data in contents.items():
            path = built / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        (built / MANIFEST).write_bytes(_manifest(loaded, design, contents, date=date, revision=revision))
    return WrittenPack(folder=folder, revision=revision, files=(*contents, MANIFEST), design=design)


def pack_files(
    loaded: Loaded,
    design: Design,
    work: Making,
    changed: bytes,
    *,
    date: str,
    revision: int,
    others: Sequence[Loaded] = (),
    pictures: bool = True,
    say: Say = lambda stage: None,
) -> dict[str, bytes]:
    """Every file of the pack but its manifest, by path within the folder."""
    from halfsilver.documents.charts import chart_files, chart_pages, charts, telling
    from halfsilver.documents.client import client_pdf
    from halfsilver.documents.drawings import drawing_files, drawn
    from halfsilver.documents.full_size import templates_pdf
    from halfsilver.documents.labels import labels_pdf
    from halfsilver.documents.letter import findings_pdf
    from halfsilver.documents.more import more_pages
    from halfsilver.documents.shop import shop_pdf
    from halfsilver.documents.workings import workings_pdf
    from halfsilver.services.appearance.charts import charts_of
    from halfsilver.services.appearance.findings import appearance_findings, with_appearance
    from halfsilver.services.appearance.predict import predicted
    from halfsilver.services.pack_pictures import pack_pictures

    show = loaded.show
    say("Appearance")
    appearance = predicted(loaded, design)
    held = examined(design, show)
    found = with_appearance(held.findings, appearance_findings(design, appearance, show))
    contents = {
        "appearance.json": as_text(document("appearance", appearance)).encode(),
        "design.json": as_text(document("design", design_record(design, show))).encode(),
        "findings.json": as_text(document("findings", findings_record(found, held.workings))).encode(),
        "cut_plan.json": as_text(document("cut_plan", cut_plan_record(work.plan))).encode(),
        "bill.json": as_text(document("bill", bill_record(work.bill))).encode(),
        CHANGES: changed,
    }
    say("Drawings")
    done = drawn(design, show)
    contents |= {f"drawings/{name}": data for name, data in drawing_files(done).items()}
    say("Charts")
    shown = charts(charts_of(design, appearance, folder=loaded.folder), units=design.facts.job.units)
    contents |= {f"charts/{name}": data for name, data in chart_files(shown).items()}
    looks = pack_pictures(design, folder=loaded.folder, say=say) if pictures else ()
    contents |= {f"pictures/{look.name}": look.png for look in looks}
    say("Documents")
    more = more_pages(design, work.plan, work.steps, work.scheduled, work.bill, lines_of(changed) or (), show)
    issued: dict[str, Any] = {"show": show, "date": date, "revision": revision}
    contents["shop.pdf"] = shop_pdf(
        design, found, **issued, version=__version__, workings=held.workings, more={**more, **chart_pages(shown)}, done=done, looks=looks
    )
    options = [option(other, resolve(other)) for other in (loaded, *others)] if others else []
    bill, told = client_view(design, work.bill), telling(shown)
    shows: dict[str, Any] = {"options": options, "charts": told, "looks": looks}
    contents["client.pdf"] = client_pdf(design, found, bill, **issued, version=__version__, **shows)
    contents["findings.pdf"] = findings_pdf(design, found, held.workings, **issued, version=__version__)
    contents["workings.pdf"] = workings_pdf(design, found, held.workings, **issued, version=__version__)
    contents["labels.pdf"] = labels_pdf(design, work.plan, **issued, job=design.digest[:12])
    templates = templates_pdf(design, **issued, version=__version__)
    if templates is not None:
        contents["templates.pdf"] = templates
    return dict(sorted(contents.items()))


def _check_date(date: str) -> None:
    try:
        read_quantity("date", date)
    except QuantityError as error:
        raise JobError([error.at(file="", line=0, column=0, path="--date")]) from None


def _manifest(loaded: Loaded, design: Design, contents: dict[str, bytes], *, date: str, revision: int) -> bytes:
    told = ManifestRecord(
        title=loaded.job.title,
        date=date,
        revision=revision,
        design=design.digest,
        job=loaded.digest,
        workshop=loaded.workshop.head.name,
        program=__version__,
        engines={name: version(name) for name in ("ezdxf", "highspy", "typst")},
        files=tuple(FileRecord(path=name, sha256=hashlib.sha256(data).hexdigest(), size=len(data)) for name, data in contents.items()),
    )
    return as_text(document("manifest", told)).encode()
