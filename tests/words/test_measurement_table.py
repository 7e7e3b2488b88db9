"""The table for people."""

from dyeshade.errors import DyeshadeError
from dyeshade.words.measurement_table import measured, refused
from tests.words import measurements


def test_a_measured_photo_reads_as_a_table():
    assert measured("folder/weld.jpg", measurements.with_sheet()) == [
        "folder/weld.jpg",
        "  Reference sheet A4, six cells, serial K7QF-3M9T; daylight from a window",
        "  taken 2026-03-02 11:20, Maker Model",
        "",
        "  sample     L*     a*     b*   C*ab    hab  sRGB      sure to",
        "  A1       52.0   10.0   33.0   34.5   73.1  #967445   about 2: just visible",
        "  B2       52.0   10.0   33.0   34.5   73.1  #967445*  about 2: just visible",
        "  White D65, 2 degree observer; sure to: CIEDE2000, 95 times in 100",
        "  * sRGB cannot show B2; the nearest that it can is given",
        ("  B2 has several shades: 70 % L* 60.0, a* 5.0, b* 40.0; 30 % L* 30.0, a* 20.0, b* 10.0"),
        "",
        "  Mind:",
        "  - The light was taken to be daylight from a window. If it was another, name it with",
        "    --light: lamps shift colours, and the number would claim too much.",
        "  - B2: It is darker than the darkest grey, where the camera's curve is a guess. L* is",
        "    less sure than that of lighter pieces.",
    ]


def test_long_names_of_samples_keep_the_columns_in_line():
    lines = measured("card.png", measurements.by_hand())
    assert lines[1] == "  Greys drawn by hand; LED lamps"
    head, row = lines[3:5]
    assert head.index("L*") + len("L*") == row.index("52.0") + len("52.0")


def test_a_refused_photo_says_why():
    lines = refused("x.jpg", DyeshadeError("photo_missing"))
    assert lines == ["x.jpg", "  Not measured. There is no such file."]
