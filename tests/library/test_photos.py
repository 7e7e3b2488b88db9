"""Photos are kept beside the library under the hash of their bytes."""

import errno
import hashlib
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.faults import fault_of_os, told_of_files
from dyeshade.library.library import Library, open_library
from dyeshade.library.photos import keep_file, keep_photo, photo_path, photos_gone
from dyeshade.library.shade_records import KeptPhoto


def kept(library: Library, source: Path) -> KeptPhoto:
    photo = keep_file(library, source, "JPEG")
    with library.edit("keep") as edit:
        return keep_photo(edit, photo)


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "Weld Series.JPG"
    path.write_bytes(b"the bytes of a photo" * 1000)
    return path


def test_a_photo_lies_in_the_folder_under_its_hash(library: Library, photo: Path):
    record = kept(library, photo)
    content = photo.read_bytes()
    digest = hashlib.sha256(content).hexdigest()
    assert photo_path(library, record) == library.folder / "photos" / digest[:2] / f"{digest}.jpg"
    assert photo_path(library, record).read_bytes() == content
    assert (record.name, record.size_bytes) == ("Weld Series.JPG", len(content))


def test_the_same_photo_under_another_name_is_kept_once(library: Library, photo: Path):
    first = kept(library, photo)
    copy = photo.with_name("copy.jpeg")
    copy.write_bytes(photo.read_bytes())
    assert kept(library, copy) == first
    files = [path for path in (library.folder / "photos").rglob("*") if path.is_file()]
    assert len(files) == 1


def test_the_original_is_left_alone(library: Library, photo: Path):
    before = photo.read_bytes()
    kept(library, photo)
    assert photo.read_bytes() == before


def test_a_photo_that_is_gone_or_changed_is_told(library: Library, photo: Path):
    record = kept(library, photo)
    assert photos_gone(library) == ()
    path = photo_path(library, record)
    path.write_bytes(b"x" + path.read_bytes()[1:])
    assert photos_gone(library) == (record,)
    path.unlink()
    assert photos_gone(library) == (record,)
    with pytest.raises(DyeshadeError) as caught:
        photo_path(library, record)
    assert caught.value.code == "photo_gone"
    # Saving it again brings it back.
    kept(library, photo)
    assert photos_gone(library) == ()


def test_a_photo_cut_short_by_a_crash_is_copied_anew(library: Library, photo: Path):
    record = keep_file(library, photo)
    (library.folder / record.relative_path).write_bytes(b"the bytes")
    kept(library, photo)
    assert photos_gone(library) == ()


def test_a_photo_that_cannot_be_read_is_told(library: Library, tmp_path: Path):
    with pytest.raises(DyeshadeError) as caught:
        keep_file(library, tmp_path / "gone.jpg")
    assert (caught.value.code, caught.value.facts["name"]) == ("photo_not_kept", "gone.jpg")


def test_nothing_is_copied_into_a_library_opened_to_read(library: Library, photo: Path):
    folder = library.folder
    library.close()
    with open_library(folder, read_only=True) as opened, pytest.raises(DyeshadeError) as caught:
        keep_file(opened, photo)
    assert caught.value.code == "library_read_only"
    assert not (folder / "photos").exists()


def test_the_camera_s_clock_counts_whatever_its_zone(library: Library, photo: Path):
    zone = timezone(timedelta(hours=2))
    record = keep_file(library, photo, taken=datetime(2026, 3, 1, 11, 0, tzinfo=zone))
    assert record.taken == datetime(2026, 3, 1, 11, 0)


def test_a_full_disk_is_told_as_what_it_is(tmp_path: Path):
    def write_where_nothing_fits() -> None:
        # Linux's /dev/full refuses every byte as a full disk does.
        with told_of_files(tmp_path), open("/dev/full", "wb", buffering=0) as full:
            full.write(b"x")

    with pytest.raises(DyeshadeError) as caught:
        write_where_nothing_fits()
    assert caught.value.code == "disk_full"
    assert fault_of_os(OSError(errno.EROFS, ""), tmp_path).code == "library_read_only"
    assert fault_of_os(OSError(errno.EIO, ""), tmp_path).code == "library_unreachable"


def test_a_hash_is_nothing_but_a_hash():
    # It becomes a path: no file name of anyone's making may get in.
    with pytest.raises(ValueError, match="hash"):
        KeptPhoto("../../etc/passwd", ".jpg", "x")
    with pytest.raises(ValueError, match="suffix"):
        KeptPhoto("0" * 64, "/../x", "x")
