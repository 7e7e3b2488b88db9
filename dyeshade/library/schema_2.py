"""What version 2 adds for the dye bath: plans, readings on the way to a pH, the day, the store.

Conventions as in version 1 (`dyeshade.library.schema`). Amounts are grams, of water litres; ratios
and shares are weights to the dry weight of fibre. `written` is what was typed for a number, so that
"1 lb 4 oz" comes back as it was written.
"""

VERSION_2 = """
ALTER TABLE addition ADD COLUMN additive TEXT NOT NULL DEFAULT '';
ALTER TABLE addition ADD COLUMN percent REAL;
ALTER TABLE addition ADD COLUMN measured TEXT NOT NULL DEFAULT '';

CREATE TABLE bath_plan (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL UNIQUE REFERENCES bath (id),
    liquor_ratio REAL, pot_l REAL, pot_material TEXT NOT NULL,
    whole INTEGER NOT NULL, foraged INTEGER NOT NULL,
    left_share REAL, temperature_c REAL,
    alkalinity_mg_l REAL, water_ph REAL,
    target_ph REAL, ceiling_ph REAL, floor_ph REAL,
    have TEXT NOT NULL, finished TEXT
) STRICT;

CREATE TABLE bath_piece (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    code TEXT NOT NULL COLLATE NOCASE, fibre TEXT NOT NULL,
    weight_g REAL NOT NULL, written TEXT NOT NULL, place INTEGER NOT NULL
) STRICT;
CREATE INDEX bath_piece_bath ON bath_piece (bath_id);

CREATE TABLE bath_line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    kind TEXT NOT NULL, name TEXT NOT NULL, form TEXT NOT NULL, on_fibre TEXT NOT NULL,
    share REAL NOT NULL, planned REAL NOT NULL, actual REAL,
    written TEXT NOT NULL, written_actual TEXT NOT NULL, place INTEGER NOT NULL
) STRICT;
CREATE INDEX bath_line_bath ON bath_line (bath_id);

CREATE TABLE log_reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    addition_id INTEGER REFERENCES addition (id),
    ph REAL NOT NULL, instrument TEXT NOT NULL, error REAL NOT NULL, bias REAL NOT NULL,
    known_ph REAL, read TEXT
) STRICT;
CREATE INDEX log_reading_bath ON log_reading (bath_id);
CREATE INDEX log_reading_addition ON log_reading (addition_id);

CREATE TABLE day_step (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    treatment TEXT NOT NULL, what TEXT NOT NULL,
    temperature_c REAL, minutes REAL, started TEXT, ended TEXT,
    note TEXT NOT NULL, place INTEGER NOT NULL
) STRICT;
CREATE INDEX day_step_bath ON day_step (bath_id);

CREATE TABLE dyestuff_move (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    dyestuff_lot_id INTEGER NOT NULL REFERENCES dyestuff_lot (id),
    kind TEXT NOT NULL, grams REAL NOT NULL,
    bath_id INTEGER REFERENCES bath (id), moved TEXT
) STRICT;
CREATE INDEX dyestuff_move_lot ON dyestuff_move (dyestuff_lot_id);
CREATE INDEX dyestuff_move_bath ON dyestuff_move (bath_id);

CREATE TABLE own_density (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    substance TEXT NOT NULL COLLATE NOCASE,
    low_g_ml REAL NOT NULL, usual_g_ml REAL NOT NULL, high_g_ml REAL NOT NULL,
    standard_uncertainty_g_ml REAL NOT NULL, spoon_sd REAL NOT NULL, coverage REAL NOT NULL,
    weighed TEXT
) STRICT;

CREATE TABLE own_range (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    substance TEXT NOT NULL, on_fibre TEXT NOT NULL, low REAL NOT NULL, high REAL NOT NULL
) STRICT;

CREATE TABLE own_yield (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    dyestuff TEXT NOT NULL COLLATE NOCASE, form TEXT NOT NULL, share REAL NOT NULL
) STRICT;

CREATE TABLE preference (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE, value TEXT NOT NULL
) STRICT;
"""
