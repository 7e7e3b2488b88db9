"""What a dyer says of a photo's samples is kept whole, once, and in one step of undo."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.photos import photo_path
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import KeptPhoto, Reading, SheetReading
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.work.keep_readings import ToKeep, keep_readings, said_before
from dyeshade.work.known import said_of_piece
from dyeshade.work.said import Said, SaidBath, SaidDye, SaidTreatment
from tests.library.workshop import dump
from tests.work.saving import TAKEN, measured, photo_file, to_keep

WELD = SaidBath("bath-001", (SaidDye("weld", "tops", "dried", 1.0),), phs=(("bath_start", 8.5),))
ALUM = SaidTreatment("mordant", substance="alum", amount=12.0, unit="% wof")
VINEGAR = SaidTreatment("rinse", substance="white vinegar", ph=4.5)
ON_WOOL = Said("W-001", fibre="wool", mordant="alum", mordant_percent_wof=12.0, bath="bath-001")


def kinds(library: Library, code: str) -> list[str]:
    said = said_of_piece(library, code)
    assert said is not None
    return [one.kind for one in said.treatments]


def test_one_bath_takes_wool_and_silk_and_all_is_found_by_its_conditions(
    library: Library, tmp_path: Path
) -> None:
    silk = Said("", fibre="silk", mordant="alum", mordant_percent_wof=12.0, bath="bath-001")
    kept = keep_readings(library, [to_keep(tmp_path, A=ON_WOOL, B=silk)], [WELD])
    assert kept.pieces == kept.new_pieces == ("W-001", "S-002")
    assert kept.new_baths == ("bath-001",)
    asked = ShadeQuery(dyestuff="weld", form="dried", ratio_least=1, ph_least=8, ph_most=9.5)
    found = find_shades(library, asked)
    assert [one.history.piece.code for one in found] == ["W-001", "S-002"]
    assert found[0].reading.lab == (62.0, -4.0, 55.0)
    assert found[0].reading.read == TAKEN
    assert found[0].reading.method_version == METHOD_VERSION
    (photo,) = library.where(KeptPhoto)
    assert photo_path(library, photo).read_bytes() == b"bytes of weld.jpg"
    assert photo.file_format == "JPEG"


def test_all_of_it_is_one_step_of_undo(library: Library, tmp_path: Path) -> None:
    before = dump(library)
    two = [to_keep(tmp_path, A=ON_WOOL), to_keep(tmp_path, "again.jpg", A=ON_WOOL)]
    keep_readings(library, two, [WELD])
    assert library.undo_job == "save_readings"
    library.undo()
    assert dump(library) == before


def test_the_same_photo_saved_twice_makes_no_double(library: Library, tmp_path: Path) -> None:
    said = replace(ON_WOOL, treatments=(ALUM, VINEGAR), weight_g=50.0)
    keep_readings(library, [to_keep(tmp_path, A=said)], [WELD])
    before = dump(library)
    copy = photo_file(tmp_path, "weld.jpg").rename(tmp_path / "copy.jpg")
    again = keep_readings(library, [ToKeep(copy, measured("A"), {"A": said})], [WELD])
    assert not again.changes
    assert dump(library) == before


def test_a_sample_saved_again_without_a_piece_keeps_its_own(
    library: Library, tmp_path: Path
) -> None:
    plain = ToKeep(photo_file(tmp_path), measured("A", taken=None), {"A": Said()})
    first = keep_readings(library, [plain], now=datetime(2026, 3, 4, 9))
    second = keep_readings(library, [plain], now=datetime(2026, 3, 5, 9))
    assert first.pieces == second.pieces == ("P-001",)
    (reading,) = library.where(Reading)
    # No photo told its time: that of the first saving stays.
    assert reading.read == datetime(2026, 3, 4, 9)


def test_a_rinse_comes_after_the_first_reading_and_before_the_second(
    library: Library, tmp_path: Path
) -> None:
    keep_readings(library, [to_keep(tmp_path, A=ON_WOOL)], [WELD])
    rinsed = Said("w-001", treatments=(VINEGAR,), state="after_rinse")
    keep_readings(library, [to_keep(tmp_path, "rinsed.jpg", l_star=66.0, A=rinsed)])
    assert kinds(library, "W-001") == ["bath", "rinse"]
    first, second = find_shades(library)
    assert (first.conditions.acted, first.conditions.ph()) == ("bath_start", 8.5)
    assert (second.conditions.acted, second.conditions.ph()) == ("rinse", 4.5)
    # Saved again with less said, the first stays where it was.
    keep_readings(library, [to_keep(tmp_path, A=Said())])
    assert find_shades(library)[0].conditions.acted == "bath_start"


def test_all_treatments_or_only_the_new_ones_may_be_said(library: Library, tmp_path: Path) -> None:
    keep_readings(library, [to_keep(tmp_path, A=ON_WOOL)], [WELD])
    later = replace(ON_WOOL, treatments=(SaidTreatment("wash"), VINEGAR))
    keep_readings(library, [to_keep(tmp_path, "later.jpg", A=later)])
    # The mordant is remembered last; it readied the piece for its bath all the same.
    keep_readings(library, [to_keep(tmp_path, "last.jpg", A=Said("W-001", treatments=(ALUM,)))])
    assert kinds(library, "W-001") == ["mordant", "bath", "wash", "rinse"]
    two_dips = (SaidTreatment("dip", ph=4.0), SaidTreatment("dip", ph=8.0))
    dipped = Said("W-001", treatments=two_dips)
    keep_readings(library, [to_keep(tmp_path, "dipped.jpg", A=dipped)])
    assert kinds(library, "W-001") == ["mordant", "bath", "wash", "rinse", "dip", "dip"]


def test_a_second_bath_is_an_overdye(library: Library, tmp_path: Path) -> None:
    keep_readings(library, [to_keep(tmp_path, A=ON_WOOL)], [WELD])
    madder = SaidBath("bath-002", (SaidDye("madder"),))
    over = Said("W-001", bath="bath-002")
    keep_readings(library, [to_keep(tmp_path, "over.jpg", A=over)], [madder])
    keep_readings(library, [to_keep(tmp_path, "over.jpg", A=over)])
    assert kinds(library, "W-001") == ["bath", "overdye"]


def test_treatments_with_dates_stand_in_their_order(library: Library, tmp_path: Path) -> None:
    wash = SaidTreatment("wash", started=datetime(2026, 3, 9))
    light = SaidTreatment("light", started=datetime(2026, 3, 7))
    keep_readings(library, [to_keep(tmp_path, A=Said("W-001", treatments=(wash,)))])
    keep_readings(library, [to_keep(tmp_path, A=Said("W-001", treatments=(light,)))])
    assert kinds(library, "W-001") == ["light", "wash"]


@pytest.mark.parametrize(
    "otherwise",
    [
        {"fibre": "silk"},
        {"mordant": "tannin"},
        {"mordant_percent_wof": 8.0},
        {"name": "the other one"},
        {"weight_g": 20.0},
    ],
)
def test_a_piece_that_is_known_otherwise_is_refused_and_nothing_kept(
    library: Library, tmp_path: Path, otherwise: dict[str, object]
) -> None:
    whole = replace(ON_WOOL, name="first skein", weight_g=50.0)
    keep_readings(library, [to_keep(tmp_path, A=whole)], [WELD])
    before = dump(library)
    said = Said("W-001", treatments=(VINEGAR,), **otherwise)
    with pytest.raises(DyeshadeError) as refused:
        keep_readings(library, [to_keep(tmp_path, "b.jpg", A=Said("N-1"), B=said)])
    assert refused.value.code == "piece_said_otherwise"
    assert dump(library) == before


def test_blanks_of_a_known_piece_are_filled(library: Library, tmp_path: Path) -> None:
    keep_readings(library, [to_keep(tmp_path, A=Said("W-001", fibre="wool"))])
    more = Said("W-001", fibre="Wool", fibre_make="4-ply yarn", mordant="alum", weight_g=50.0)
    keep_readings(library, [to_keep(tmp_path, "b.jpg", A=more)])
    said = said_of_piece(library, "W-001")
    assert said is not None
    assert (said.fibre, said.fibre_make, said.mordant) == ("wool", "4-ply yarn", "alum")
    assert said.weight_g == 50.0


def test_a_sample_given_to_another_piece_moves(library: Library, tmp_path: Path) -> None:
    keep_readings(library, [to_keep(tmp_path, A=ON_WOOL)], [WELD])
    keep_readings(library, [to_keep(tmp_path, A=Said("W-009", treatments=(VINEGAR,)))])
    assert not readings_of(library, find_piece(library, "W-001").id)
    (moved,) = readings_of(library, find_piece(library, "W-009").id)
    assert moved.after_treatment_id is not None


def test_what_was_said_of_a_photo_can_be_asked_for(library: Library, tmp_path: Path) -> None:
    said = replace(ON_WOOL, treatments=(ALUM,), state="wet", note="still damp")
    one = to_keep(tmp_path, A=said)
    assert said_before(library, one.photo_file) == {}
    keep_readings(library, [one], [WELD])
    rinsed = Said("W-001", treatments=(VINEGAR,))
    keep_readings(library, [to_keep(tmp_path, "later.jpg", A=rinsed)])
    (before,) = said_before(library, one.photo_file).values()
    assert (before.piece, before.state, before.note) == ("W-001", "wet", "still damp")
    assert [step.kind for step in before.treatments] == ["mordant", "bath"]
    assert before.bath == "bath-001"


def test_a_file_that_holds_another_photo_now_is_seen_to(library: Library, tmp_path: Path) -> None:
    one = to_keep(tmp_path, A=ON_WOOL)
    keep_readings(library, [one], [WELD])
    assert said_before(library, one.photo_file)
    Path(one.photo_file).write_bytes(b"another photo")
    assert said_before(library, one.photo_file) == {}
    Path(one.photo_file).unlink()
    with pytest.raises(DyeshadeError) as caught:
        said_before(library, one.photo_file)
    assert caught.value.code == "photo_not_kept"


def test_a_sample_renamed_after_saving_is_no_second_one(library: Library, tmp_path: Path) -> None:
    def saved(**outlines: float) -> list[str]:
        one = to_keep(tmp_path, **dict.fromkeys(outlines, ON_WOOL))
        samples = tuple(
            replace(sample, outline_px=outlines[sample.name] + np.eye(3, 2))
            for sample in one.measurement.samples
        )
        keep_readings(
            library, [replace(one, measurement=replace(one.measurement, samples=samples))]
        )
        return [reading.sample for reading in readings_of(library, find_piece(library, "W-001").id)]

    assert saved(spot=10.0, other=50.0) == ["spot", "other"]
    assert saved(warp=10.0, other=50.0) == ["warp", "other"]
    # Elsewhere on the photo it is another sample.
    assert saved(weft=90.0, other=50.0) == ["warp", "other", "weft"]


def test_a_rinse_without_a_date_comes_after_readings_from_before_it_was_told(
    library: Library, tmp_path: Path
) -> None:
    # The first photo is of a piece of which no treatment was said.
    first = to_keep(tmp_path, A=Said("W-001", fibre="wool", read=datetime(2026, 3, 8)))
    keep_readings(library, [first])
    rinsed = Said("W-001", treatments=(VINEGAR,), state="after_rinse", read=datetime(2026, 3, 10))
    later = to_keep(tmp_path, "later.jpg", A=rinsed)
    keep_readings(library, [later])
    (before,) = said_before(library, first.photo_file).values()
    (after,) = said_before(library, later.photo_file).values()
    assert before.treatments == ()
    assert [step.kind for step in after.treatments] == ["rinse"]
    # A third photo from between both, saved last, is from before the rinse as well.
    between = to_keep(tmp_path, "between.jpg", A=Said("W-001", read=datetime(2026, 3, 9)))
    keep_readings(library, [between])
    (said,) = said_before(library, between.photo_file).values()
    assert said.treatments == ()


def test_a_bath_without_a_date_made_the_shade_of_every_photo(
    library: Library, tmp_path: Path
) -> None:
    first = to_keep(tmp_path, A=Said("W-001", fibre="wool", read=datetime(2026, 3, 8)))
    keep_readings(library, [first])
    again = replace(ON_WOOL, read=datetime(2026, 3, 10))
    keep_readings(library, [to_keep(tmp_path, "later.jpg", A=again)], [WELD])
    (before,) = said_before(library, first.photo_file).values()
    assert before.bath == "bath-001"


def test_signals_are_kept_with_the_sheet(library: Library, tmp_path: Path) -> None:
    keep_readings(library, [to_keep(tmp_path, A=Said())])
    (sheet,) = library.where(SheetReading)
    assert (sheet.serial, sheet.method_version) == ("K7QF-3M9T", METHOD_VERSION)


def test_a_sample_that_was_not_measured_is_our_mistake(library: Library, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no such sample"):
        keep_readings(library, [ToKeep(photo_file(tmp_path), measured("A"), {"B": Said()})])


def test_an_earlier_photo_may_be_saved_later(library: Library, tmp_path: Path) -> None:
    rinse = replace(VINEGAR, started=datetime(2026, 3, 9))
    later = Said("W-001", treatments=(rinse,), state="after_rinse", read=datetime(2026, 3, 10))
    keep_readings(library, [to_keep(tmp_path, "later.jpg", A=later)])
    first = replace(ON_WOOL, treatments=(SaidTreatment("scour"), SaidTreatment("wash"), ALUM))
    keep_readings(library, [to_keep(tmp_path, A=replace(first, bath="bath-001"))], [WELD])
    assert kinds(library, "W-001") == ["scour", "wash", "mordant", "bath", "rinse"]
    acted = [one.conditions.acted for one in find_shades(library)]
    assert acted == ["bath_start", "rinse"]
