"""What the camera noted: when, which camera, flash, orientation, colour space.

References
----------
CIPA DC-008 (Exif 2.32), 4.6: tags 271 Make, 272 Model, 274 Orientation, 36867 DateTimeOriginal,
36868 DateTimeDigitized, 36881 OffsetTimeOriginal, 36882 OffsetTimeDigitized, 37385 Flash,
40961 ColorSpace, 40965 Interoperability. CIPA DC-010 (DCF 2.0): "R03" is Adobe RGB.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from typing import Literal

from dyeshade.photo.tags import Tags, first_directory, read_tags

_DATE = re.compile(r"(\d{4}):(\d{2}):(\d{2}) (\d{2}):(\d{2}):(\d{2})")
_OFFSET = re.compile(r"([+-])(\d{2}):(\d{2})")
_FIRM_WORDS = {
    "ag", "camera", "co", "coltd", "company", "computer", "corp", "corporation", "electronics",
    "gmbh", "imaging", "inc", "kg", "ltd", "optical", "technologies",
}  # fmt: skip


@dataclass(frozen=True)
class CameraNotes:
    """What Exif says of a photo.

    Attributes
    ----------
    taken : datetime or None
        With a time zone where the camera noted one.
    camera : str or None
        Maker and model, the maker once.
    flash : bool or None
        Whether it fired.
    orientation : int
        The tag's value, 1 where there is none.
    colour_space : "sRGB", "Adobe RGB" or None
        None where Exif does not say.
    """

    taken: datetime | None = None
    camera: str | None = None
    flash: bool | None = None
    orientation: int = 1
    colour_space: Literal["sRGB", "Adobe RGB"] | None = None


def read_exif(data: bytes) -> CameraNotes:
    """The camera's notes from an Exif block or a TIFF file.

    Parameters
    ----------
    data : bytes
        From the byte order mark on. Damaged or empty data give empty notes.

    Returns
    -------
    CameraNotes
    """
    main = read_tags(data, first_directory(data))
    exif = read_tags(data, main.number(34665))
    return notes_of(main, exif, read_tags(data, exif.number(40965)))


def notes_of(main: Tags, exif: Tags, interoperability: Tags) -> CameraNotes:
    """The camera's notes from the three directories that hold them.

    Parameters
    ----------
    main, exif, interoperability : Tags
        Empty ones where there are none.

    Returns
    -------
    CameraNotes
    """
    flash = exif.number(37385)
    return CameraNotes(
        taken=_taken(exif),
        camera=_camera(main.text(271), main.text(272)),
        flash=None if flash is None else bool(flash & 1),
        orientation=main.number(274) or 1,
        colour_space=_colour_space(exif.number(40961), interoperability.text(1)),
    )


def _taken(exif: Tags) -> datetime | None:
    for date_tag, offset_tag in ((36867, 36881), (36868, 36882)):
        date = _DATE.fullmatch(exif.text(date_tag) or "")
        if date is None:
            continue
        try:
            moment = datetime.strptime(date[0], "%Y:%m:%d %H:%M:%S")
        except ValueError:
            # Cameras whose clock was never set write 0000:00:00.
            continue
        offset = _OFFSET.fullmatch(exif.text(offset_tag) or "")
        if offset is None or int(offset[2]) > 14 or int(offset[3]) > 59:
            return moment
        distance = timedelta(hours=int(offset[2]), minutes=int(offset[3]))
        return moment.replace(tzinfo=timezone(-distance if offset[1] == "-" else distance))
    return None


def _camera(make: str | None, model: str | None) -> str | None:
    if make is None or model is None:
        return model or make
    words = make.split()
    if model.casefold().startswith(words[0].casefold()):
        return model
    while len(words) > 1 and re.sub(r"\W", "", words[-1]).casefold() in _FIRM_WORDS:
        words.pop()
    return f"{' '.join(words).rstrip(',')} {model}"


def _colour_space(
    number: int | None, interoperability: str | None
) -> Literal["sRGB", "Adobe RGB"] | None:
    if number == 1:
        return "sRGB"
    # 2 is not in the standard, but is what several makers write for Adobe RGB.
    if number == 2 or (number == 0xFFFF and interoperability == "R03"):
        return "Adobe RGB"
    return None
