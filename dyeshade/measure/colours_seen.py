"""The colours of a reference sheet, as a photo shows them."""

from __future__ import annotations

from dataclasses import replace

from dyeshade.measure.seen import ColoursSeen, PatchesSeen
from dyeshade.measure.signals import sample_boxes
from dyeshade.photo.photo import Photo
from dyeshade.sheet.place import SheetPlace


def with_colours(patches: PatchesSeen, photo: Photo, place: SheetPlace) -> PatchesSeen:
    """What is kept of a photo's greys, with the sheet's colours beside them where it has any.

    What a printer made of the colours is not known, so that they tell nothing of one photo alone;
    in two photos of one sheet they are the same, and tell what light and camera changed.

    Parameters
    ----------
    patches : PatchesSeen
    photo : Photo
    place : SheetPlace

    Returns
    -------
    PatchesSeen
    """
    boxes = place.layout.colours
    if not boxes:
        return patches
    seen = sample_boxes(photo, place, boxes)
    names = tuple(box.name for box in boxes)
    return replace(
        patches,
        colours=ColoursSeen(
            names,
            seen.centre_mm,
            seen.mean,
            seen.spread,
            seen.pixels,
            seen.clipped,
            seen.patchy,
        ),
    )
