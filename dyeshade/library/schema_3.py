"""What version 3 adds: commissions with what they came to, and home fastness tests under way.

Conventions as in version 1 (`dyeshade.library.schema`). An agreed shade is kept as numbers, so that
it stays when the reading that it was taken from is removed.
"""

VERSION_3 = """
CREATE TABLE commission (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    code TEXT NOT NULL COLLATE NOCASE UNIQUE,
    what TEXT NOT NULL, for_whom TEXT NOT NULL,
    lab_l REAL NOT NULL, lab_a REAL NOT NULL, lab_b REAL NOT NULL,
    covariance BLOB NOT NULL,
    tolerance REAL NOT NULL, agreed TEXT NOT NULL, due TEXT, weight_g REAL,
    reading_id INTEGER REFERENCES reading (id),
    note TEXT NOT NULL
) STRICT;
CREATE INDEX commission_reading ON commission (reading_id);

CREATE TABLE commission_result (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    commission_id INTEGER NOT NULL REFERENCES commission (id),
    reading_id INTEGER NOT NULL REFERENCES reading (id),
    delta_e REAL NOT NULL, low REAL NOT NULL, high REAL NOT NULL, chance REAL NOT NULL,
    judged TEXT NOT NULL
) STRICT;
CREATE INDEX commission_result_commission ON commission_result (commission_id);
CREATE INDEX commission_result_reading ON commission_result (reading_id);

CREATE TABLE home_test (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    piece_id INTEGER NOT NULL REFERENCES piece (id),
    treatment_id INTEGER REFERENCES treatment (id),
    kind TEXT NOT NULL, begun TEXT NOT NULL,
    white INTEGER NOT NULL, blue_wools TEXT NOT NULL,
    ended TEXT, note TEXT NOT NULL
) STRICT;
CREATE INDEX home_test_piece ON home_test (piece_id);
CREATE INDEX home_test_treatment ON home_test (treatment_id);

CREATE TABLE home_test_pair (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    home_test_id INTEGER NOT NULL REFERENCES home_test (id),
    what TEXT NOT NULL, blue_wool INTEGER,
    untreated_id INTEGER NOT NULL REFERENCES reading (id),
    treated_id INTEGER NOT NULL REFERENCES reading (id)
) STRICT;
CREATE INDEX home_test_pair_test ON home_test_pair (home_test_id);
CREATE INDEX home_test_pair_untreated ON home_test_pair (untreated_id);
CREATE INDEX home_test_pair_treated ON home_test_pair (treated_id);
"""
