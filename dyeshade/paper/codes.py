"""Square codes as rectangles to fill."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.graphics.barcode import qrencoder

from dyeshade.paper.page import Rect

_LEVELS = (
    qrencoder.QRErrorCorrectLevel.H,
    qrencoder.QRErrorCorrectLevel.Q,
    qrencoder.QRErrorCorrectLevel.M,
)


def qr_modules(text: str) -> tuple[tuple[bool, ...], ...]:
    """Which modules of a QR code are dark, row by row (ISO/IEC 18004).

    Parameters
    ----------
    text : str

    Returns
    -------
    tuple of tuple of bool
        As few modules as level M of repair needs, and of the levels that need no more the one
        that repairs most. The quiet zone is left to whoever draws it.
    """
    made = [_made(text, level) for level in _LEVELS]
    fewest = min(len(one) for one in made)
    return next(one for one in made if len(one) == fewest)


def _made(text: str, level: int) -> tuple[tuple[bool, ...], ...]:
    code = qrencoder.QRCode(None, level)
    code.addData(text)
    code.make()
    count = code.getModuleCount()
    return tuple(
        tuple(bool(code.isDark(row, column)) for column in range(count)) for row in range(count)
    )


def qr_rects(text: str, x: float, y: float, side: float) -> tuple[Rect, ...]:
    """A QR code's dark modules at a place; left, top and side in mm."""
    dark = qr_modules(text)
    return tuple(runs(dark, x, y, side / len(dark)))


def runs(dark: Sequence[Sequence[bool]], x: float, y: float, module: float) -> Iterator[Rect]:
    """The dark modules of a square code, row by row in runs."""
    for row, values in enumerate(dark):
        start = None
        for column, value in enumerate([*values, False]):
            if value and start is None:
                start = column
            elif not value and start is not None:
                yield x + start * module, y + row * module, (column - start) * module, module
                start = None
