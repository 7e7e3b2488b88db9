"""What version 5 adds: kinds of strips with their printed scales, and the photo a pH was read in.

Conventions as in version 1 (`dyeshade.library.schema`). `scale` is JSON: the blocks' pH row by row,
and what colours they had in the photo in which they were marked.
"""

VERSION_5 = """
ALTER TABLE log_reading ADD COLUMN photo_id INTEGER REFERENCES photo (id);
CREATE INDEX log_reading_photo ON log_reading (photo_id);

CREATE TABLE strip_kind (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL COLLATE NOCASE UNIQUE,
    scale TEXT NOT NULL, made TEXT
) STRICT;
"""
