"""Window and README warn of the same things."""

from pathlib import Path

from dyeshade.words.safety import CAUTIONS_FOR_DYERS, LIMITS

README = Path(__file__).parents[2] / "README.md"


def test_cautions_are_those_of_the_readme():
    told = " ".join(README.read_text(encoding="utf-8").split())
    section = told.split("## Cautions", 1)[1].split("## ", 1)[0]
    for text in (LIMITS, *CAUTIONS_FOR_DYERS):
        assert text in section
    assert section.count(" - ") == len(CAUTIONS_FOR_DYERS)
