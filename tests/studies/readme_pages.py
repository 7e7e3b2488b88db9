"""Which pages does README show? Those that this makes, from the demo library.

    python -m tests.studies.readme_pages [DEMO LIBRARY]

Takes a minute where there is no demo library yet. Its result goes to
``resources/readme/papers.png``.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

import pypdfium2
from PIL import Image, ImageOps

ROOT = Path(__file__).resolve().parent.parent.parent
OUT = ROOT / "resources" / "readme" / "papers.png"

_HIGH_PX = 700
_GAP_PX = 22

PAPERS = (
    ("card", "--dyestuff", "cochineal", "--fibre", "wool", "--title", "Cochineal on wool",
     "--maker", "Hollow Weir Dye Room (invented)"),
    ("pot-card", "--like", "W-003", "--fibre", "W-041: wool 240 g", "--maker",
     "Hollow Weir Dye Room (invented)"),
    ("piece-sheet", "--piece", "HW-27"),
    ("tags", "--size", "middle", *(f"--piece=W-{number:03d}" for number in range(1, 25)
                                   if number not in range(9, 18))),
)  # fmt: skip


def dyeshade(*arguments: str) -> None:
    command = [sys.executable, "-m", "dyeshade", *arguments]
    subprocess.run(command, check=True, cwd=ROOT)


def first_page(pdf: Path) -> Image.Image:
    document = pypdfium2.PdfDocument(pdf)
    try:
        page = document[0].render(scale=2.0).to_pil().convert("RGB")
    finally:
        document.close()
    size = round(page.width * _HIGH_PX / page.height), _HIGH_PX
    return ImageOps.expand(page.resize(size, Image.Resampling.LANCZOS), 1, (150, 150, 150))


def main() -> None:
    with tempfile.TemporaryDirectory() as place:
        library = sys.argv[1] if len(sys.argv) > 1 else f"{place}/demo"
        if len(sys.argv) < 2:
            dyeshade("demo", "--no-window", "--library", library)
        pages = []
        for command, *more in PAPERS:
            pdf = Path(place) / f"{command}.pdf"
            dyeshade(command, "--library", library, *more, "--out", str(pdf))
            pages.append(first_page(pdf))
    width = sum(page.width for page in pages) + _GAP_PX * (len(pages) + 1)
    sheet = Image.new("RGB", (width, pages[0].height + 2 * _GAP_PX), (236, 236, 233))
    x = _GAP_PX
    for page in pages:
        sheet.paste(page, (x, _GAP_PX))
        x += page.width + _GAP_PX
    OUT.parent.mkdir(exist_ok=True)
    # Flat colours and greys: a palette is enough, but for the photos.
    sheet.quantize(200, Image.Quantize.MEDIANCUT).save(OUT, optimize=True)
    print(f"{OUT.relative_to(ROOT)}: {OUT.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
