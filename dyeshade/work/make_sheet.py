"""Makes a reference sheet: its page to print, and the layout that goes with it."""

from __future__ import annotations

import json
from pathlib import Path

from dyeshade.paper.reference_sheet import write_sheet_pdf
from dyeshade.sheet.layout import Layout, build_layout
from dyeshade.sheet.layout_json import layout_to_json
from dyeshade.sheet.serial import new_serial
from dyeshade.whole_file import write_whole


def make_sheet(
    paper: str, cells: str, colours: bool, out: str | Path, layout_out: str | Path | None = None
) -> Layout:
    """Write a new reference sheet with a serial number of its own.

    Parameters
    ----------
    paper : str
        "A4" or "Letter".
    cells : str
        "six" or "one".
    colours : bool
        Whether colour patches are printed around the cells.
    out : str or Path
        Where the PDF goes.
    layout_out : str or Path, optional
        Where the layout as JSON goes (``schemas/layout.schema.json``).

    Returns
    -------
    Layout

    Raises
    ------
    DyeshadeError
        ``cannot_write`` (path, reason).
    """
    layout = build_layout(paper, cells, colours, new_serial())
    write_sheet_pdf(layout, Path(out))
    if layout_out is not None:
        text = json.dumps(layout_to_json(layout), indent=2, ensure_ascii=False)
        write_whole(f"{text}\n".encode(), layout_out)
    return layout
