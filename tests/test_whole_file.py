"""Files are there whole or not at all."""

from pathlib import Path

from dyeshade.whole_file import write_whole


def test_a_link_stays_a_link_and_what_it_points_at_is_replaced(tmp_path: Path):
    there, link = tmp_path / "there.txt", tmp_path / "link.txt"
    there.write_text("old")
    link.symlink_to(there)
    write_whole(b"new", link)
    assert link.is_symlink()
    assert there.read_text() == "new"
