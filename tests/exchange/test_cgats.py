"""Published values of charts, as ISO 28178 (CGATS.17) writes them."""

import numpy as np
import pytest

from dyeshade.cie.lab import lab_to_xyz
from dyeshade.errors import DyeshadeError
from dyeshade.exchange.cgats import read_chart
from dyeshade.measure.chart import D50, carried_chart, d50_to_d65

HEAD = 'CGATS.17\nORIGINATOR "Hollow Weir, an invented workshop"\n# made up\n'


def text_of(rows, fields="SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B", head=HEAD):
    lines = "\n".join(" ".join(str(one) for one in row) for row in rows)
    return (
        f"{head}NUMBER_OF_FIELDS 5\nBEGIN_DATA_FORMAT\n{fields}\nEND_DATA_FORMAT\n"
        f"NUMBER_OF_SETS {len(rows)}\nBEGIN_DATA\n{lines}\nEND_DATA\n"
    )


def six(name="{letter}{number}"):
    return [
        (
            3 * row + column + 1,
            name.format(letter="AB"[row], number=column + 1),
            20 + 10 * row + column,
            5,
            -5,
        )
        for row in range(2)
        for column in range(3)
    ]


@pytest.fixture
def written(tmp_path):
    def write(text):
        path = tmp_path / "studio chart.txt"
        path.write_text(text, encoding="latin-1")
        return path

    return write


def test_patches_named_by_letter_and_number_stand_in_their_grid(written):
    rows = six()
    chart = read_chart(written(text_of(rows[::-1])))
    assert (chart.name, chart.rows, chart.columns) == ("studio chart", 2, 3)
    in_d50 = np.array([row[2:] for row in rows], dtype=float)
    assert chart.lab == pytest.approx(d50_to_d65(in_d50))


def test_values_for_d65_are_left_alone_where_the_file_says_so(written):
    chart = read_chart(
        written(text_of(six(), head=HEAD + 'WEIGHTING_FUNCTION "ILLUMINANT, D65"\n'))
    )
    assert chart.lab[0] == pytest.approx([20, 5, -5])


def test_xyz_counts_to_a_hundred(written):
    rows = [(*row[:2], *np.round(100 * lab_to_xyz(np.array(row[2:]), D50), 6)) for row in six()]
    fields = "SAMPLE_ID SAMPLE_NAME XYZ_X XYZ_Y XYZ_Z"
    found = read_chart(written(text_of(rows, fields)))
    assert found.lab == pytest.approx(read_chart(written(text_of(six()))).lab, abs=1e-3)


def test_a_scale_beside_the_grid_is_left_out(written):
    assert read_chart(written(text_of([*six(), (7, "GS1", 90, 0, 0)]))).rows == 2


def test_a_grid_that_is_not_told_can_be_typed(written):
    path = written(text_of(six('"patch {letter} {number}"')))
    with pytest.raises(DyeshadeError) as refused:
        read_chart(path)
    assert refused.value.code == "chart_grid_unknown"
    assert read_chart(path, (3, 2)).columns == 2


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "chart_not_cgats"),
        ("\x00\xff" * 50, "chart_not_cgats"),
        (text_of(six())[:-20], "chart_not_cgats"),
        (text_of(six(), "SAMPLE_ID SAMPLE_NAME CMYK_C CMYK_M CMYK_Y"), "chart_without_colours"),
        (text_of([*six()[:5], (6, "B3", "dark", 5, 5)]), "chart_number"),
        (text_of([*six()[:5], (6, "B3", "nan", 5, 5)]), "chart_not_cgats"),
    ],
)
def test_what_is_no_chart_is_refused(written, text, code):
    with pytest.raises(DyeshadeError) as refused:
        read_chart(written(text))
    assert refused.value.code == code


def test_a_file_that_is_not_there_is_refused(tmp_path):
    for path, code in ((tmp_path / "no", "chart_missing"), (tmp_path, "chart_unreadable")):
        with pytest.raises(DyeshadeError) as refused:
            read_chart(path)
        assert refused.value.code == code


def test_the_chart_at_hand_has_the_values_that_its_maker_publishes():
    # Patch 19 (white) and 24 (black), L* for D50: 95.19 and 20.64 (the maker's table for charts
    # made since November 2014, from memory; colour-science carries it as xyY). L* hardly moves
    # from D50 to D65.
    lab = carried_chart("24").lab
    assert lab[[18, 23], 0] == pytest.approx([95.19, 20.64], abs=0.05)


def test_a_file_as_programs_write_it_is_read_with_all_that_is_beside_the_colours(written):
    # ISO 28178:2009 and ANSI CGATS.17-2009, from memory: keywords that a file adds are declared by
    # KEYWORD, a data format may run over lines, values are parted by tabs or blanks, and a second
    # table may follow. Tabs, carriage returns, spectra beside Lab and "D50" in a sentence are
    # common practice, no source. Made up throughout; the values are those of the chart at hand.
    lab = [[38.02, 14.0, 14.0], [65.7, 18.1, 17.8], [49.9, -4.9, -21.9], [43.1, -13.1, 21.9]]
    rows = []
    for number in (2, 0, 3, 1):
        name = f'"{"AB"[number // 2]}{number % 2 + 1:02d}"'
        spectrum = [f"{0.1 + 0.01 * band:.4f}" for band in range(3)]
        cells = [str(number + 1), name, *spectrum, *(f"{one:.2f}" for one in lab[number]), "0.21"]
        rows.append("\t".join(cells))
    lines = [
        "CGATS.17",
        'ORIGINATOR\t"A program for charts, made up"',
        'DESCRIPTOR\t"Studio chart, four patches, 2 x 2"',
        'CREATED\t"2026-03-12"',
        'INSTRUMENTATION\t"made up"',
        'MEASUREMENT_SOURCE\t"Illumination=D50\tObserverAngle=2\xb0\tWhiteBase=Abs"',
        'KEYWORD\t"MEAN_DE"',
        "",
        "NUMBER_OF_FIELDS\t9",
        "BEGIN_DATA_FORMAT",
        "SampleID\tSAMPLE_NAME\tSPECTRAL_NM400\tSPECTRAL_NM410\tSPECTRAL_NM420",
        "LAB_L\tLAB_A\tLAB_B\tMEAN_DE",
        "END_DATA_FORMAT",
        "NUMBER_OF_SETS\t4",
        "BEGIN_DATA",
        *rows,
        "END_DATA",
        "BEGIN_DATA_FORMAT",
        "SAMPLE_ID\tLAB_L\tLAB_A\tLAB_B",
        "END_DATA_FORMAT",
        "BEGIN_DATA",
        "1\t99\t0\t0",
        "END_DATA",
    ]
    chart = read_chart(written("\r\n".join(lines)))
    assert (chart.rows, chart.columns) == (2, 2)
    assert chart.lab == pytest.approx(d50_to_d65(np.array(lab)))
