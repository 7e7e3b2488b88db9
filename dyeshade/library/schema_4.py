"""What version 4 adds: the days on which a home fastness test is to be photographed.

Conventions as in version 1 (`dyeshade.library.schema`). A test kept before has the usual days of
its kind, which an empty list stands for.
"""

VERSION_4 = """
ALTER TABLE home_test ADD COLUMN photo_days TEXT NOT NULL DEFAULT '[]';
"""
