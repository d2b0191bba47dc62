"""Writes the report: which files a format gives, each written whole or not at all.

Not here: what stands in the files (one module per format).
"""

import contextlib
import errno
import os
import tempfile
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path

from fieldapp.errors import FieldAppError
from fieldapp.report.condition_json import render_condition_json
from fieldapp.report.csv_files import render_csv_files
from fieldapp.report.deciding import decide
from fieldapp.report.face_pictures import render_maps
from fieldapp.report.html_page import render_html
from fieldapp.report.layout_dxf import render_dxf
from fieldapp.report.numbers import ConditionNumbers, build_numbers
from fieldapp.report.paper import Paper
from fieldapp.report.pdf_page import render_pdf
from fieldapp.report.rerun_input import FILE_NAME, render_rerun_input
from fieldapp.report.sections.order import build_sections
from fieldapp.report.site_sheet import render_site_sheet
from fieldapp.report.xlsx_file import render_xlsx
from model.condition.states import FoldedBoiler, FoldedInspection
from model.decision.advice import Advice
from model.record.line import Record
from model.store.loading import load_boiler
from model.store.queries import inspection_digest, record_ids_of_inspection
from model.store.store import Store

FORMATS = ("pdf", "html", "json", "toml", "xlsx", "csv", "dxf", "png", "svg", "site")
_SHOW_ADVICE = {"pdf", "html", "json", "xlsx"}


def write_report(
    store: Store,
    boiler: str,
    inspection: str,
    out: Path,
    formats: Sequence[str],
    printed_at: datetime,
    paper: Paper = Paper.A4,
) -> list[Path]:
    """Write the report of one inspection into a folder; gives the files.

    Raises FieldAppError for a format that is not made, a folder that cannot be written, or an
    inspection that does not exist; then no file of the report is left half-written.
    """
    for name in formats:
        if name not in FORMATS:
            known = ", ".join(FORMATS)
            raise FieldAppError(f"{name} is not a format of the report; choose from: {known}.")
    numbers = numbers_of(store, load_boiler(store, boiler), inspection, printed_at)
    return write_files(out, render_files(numbers, store, formats, paper))


def numbers_of(
    store: Store, boiler: FoldedBoiler, inspection: str, printed_at: datetime
) -> ConditionNumbers:
    """The numbers of the inspection with this id."""
    folded = _inspection(boiler, inspection)
    ids = record_ids_of_inspection(store, boiler.members, folded.facts.members)
    return build_numbers(boiler, folded, printed_at=printed_at, digest=inspection_digest(ids))


def render_files(
    numbers: ConditionNumbers,
    store: Store,
    formats: Sequence[str],
    paper: Paper = Paper.A4,
    advice: Advice | None = None,
) -> Mapping[str, bytes]:
    """File names to bytes, of all the formats asked for.

    Without ``advice`` it is worked out here, where a format shows it.
    """

    def photo_path(record: Record) -> Path | None:
        path = store.photos.path_of(record.body["sha256"], record.body["media"])
        return path if path.is_file() else None

    files: dict[str, bytes] = {}
    if _SHOW_ADVICE & {*formats}:
        advice = decide(numbers) if advice is None else advice
        sections = build_sections(numbers, advice)
        if "pdf" in formats:
            files["condition.pdf"] = render_pdf(numbers, sections, photo_path, paper)
        if "html" in formats:
            files["condition.html"] = render_html(numbers, sections, photo_path)
        if "json" in formats:
            files["condition.json"] = render_condition_json(numbers, advice)
        if "xlsx" in formats:
            files["condition.xlsx"] = render_xlsx(numbers, advice)
    if "toml" in formats:
        files[FILE_NAME] = render_rerun_input(numbers)
    if "csv" in formats:
        files.update(render_csv_files(numbers))
    if "dxf" in formats:
        files["layout.dxf"] = render_dxf(numbers)
    if "site" in formats:
        files.update(render_site_sheet(numbers, paper))
    for kind in ("svg", "png"):
        if kind in formats:
            files.update(render_maps(numbers, kind))
    return files


def write_files(out: Path, files: Mapping[str, bytes]) -> list[Path]:
    """Write every file beside its place first, then move all into place."""
    made: list[Path] = []
    try:
        made = [folder for folder in (out, *out.parents) if not folder.exists()]
        for name in files:
            if (out / name).is_dir():
                raise IsADirectoryError(errno.EISDIR, f"{name} is a folder there")
        out.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".report-", dir=out) as staging:
            for name, content in files.items():
                with (Path(staging) / name).open("wb") as file:
                    file.write(content)
                    file.flush()
                    os.fsync(file.fileno())
            for name in files:
                (Path(staging) / name).replace(out / name)
    except OSError as error:
        for folder in made:
            with contextlib.suppress(OSError):  # never made, or somebody put something there
                folder.rmdir()
        raise FieldAppError(
            f"The report could not be written into {out} ({error.strerror or error}); choose a "
            "folder that can be written with --out."
        ) from None
    return [out / name for name in files]


def _inspection(boiler: FoldedBoiler, inspection: str) -> FoldedInspection:
    wanted = boiler.inspection_class(inspection)
    for each in boiler.inspections:
        if each.facts.inspection == wanted:
            return each
    raise FieldAppError(f"There is no inspection {inspection} of this boiler.")
