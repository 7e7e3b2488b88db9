"""The library's tables as version 1 has them, for whoever opens the file with any SQLite tool.

Dates and times are text (ISO 8601, wall-clock time without zone). Names of columns carry units.
`covariance_*` are six little-endian float64: L*L*, L*a*, L*b*, a*a*, a*b*, b*b*. Lists are JSON.
Nothing is removed by the database itself: who removes a piece removes its readings, so that all of
it can be put back.
"""

APPLICATION_ID = 0x44594553
"""Marks the file as a shade library: "DYES" in ASCII, at byte 68 of the file."""

VERSION_1 = """
CREATE TABLE dyestuff_lot (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL, part TEXT NOT NULL, form TEXT NOT NULL, origin TEXT NOT NULL,
    lot_date TEXT, note TEXT NOT NULL
) STRICT;
CREATE INDEX dyestuff_lot_name ON dyestuff_lot (name COLLATE NOCASE);

CREATE TABLE fibre_lot (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL, make TEXT NOT NULL, origin TEXT NOT NULL,
    lot_date TEXT, note TEXT NOT NULL
) STRICT;

CREATE TABLE mordant (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL, percent_wof REAL, note TEXT NOT NULL
) STRICT;

CREATE TABLE piece (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    code TEXT NOT NULL COLLATE NOCASE UNIQUE,
    name TEXT NOT NULL,
    fibre_lot_id INTEGER REFERENCES fibre_lot (id),
    mordant_id INTEGER REFERENCES mordant (id),
    weight_g REAL, note TEXT NOT NULL
) STRICT;
CREATE INDEX piece_fibre_lot ON piece (fibre_lot_id);
CREATE INDEX piece_mordant ON piece (mordant_id);

CREATE TABLE bath (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    code TEXT NOT NULL COLLATE NOCASE UNIQUE,
    started TEXT, water TEXT NOT NULL, vessel TEXT NOT NULL,
    liquor_ratio REAL, temperature_c REAL, minutes REAL,
    exhaust_number INTEGER NOT NULL,
    parent_bath_id INTEGER REFERENCES bath (id),
    note TEXT NOT NULL
) STRICT;
CREATE INDEX bath_parent ON bath (parent_bath_id);

CREATE TABLE bath_dyestuff (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    dyestuff_lot_id INTEGER NOT NULL REFERENCES dyestuff_lot (id),
    ratio REAL, place INTEGER NOT NULL
) STRICT;
CREATE INDEX bath_dyestuff_bath ON bath_dyestuff (bath_id);
CREATE INDEX bath_dyestuff_lot ON bath_dyestuff (dyestuff_lot_id);

CREATE TABLE addition (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    substance TEXT NOT NULL, amount REAL NOT NULL, unit TEXT NOT NULL,
    ph_after REAL, place INTEGER NOT NULL, added TEXT
) STRICT;
CREATE INDEX addition_bath ON addition (bath_id);

CREATE TABLE treatment (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    piece_id INTEGER NOT NULL REFERENCES piece (id),
    kind TEXT NOT NULL,
    bath_id INTEGER REFERENCES bath (id),
    substance TEXT NOT NULL, amount REAL, unit TEXT NOT NULL,
    started TEXT, minutes REAL, temperature_c REAL,
    note TEXT NOT NULL, place INTEGER NOT NULL
) STRICT;
CREATE INDEX treatment_piece ON treatment (piece_id, place);
CREATE INDEX treatment_bath ON treatment (bath_id);

CREATE TABLE ph_reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    which TEXT NOT NULL, ph REAL NOT NULL, ph_sd REAL, read TEXT,
    bath_id INTEGER REFERENCES bath (id),
    treatment_id INTEGER REFERENCES treatment (id),
    by TEXT NOT NULL,
    CHECK ((bath_id IS NULL) <> (treatment_id IS NULL))
) STRICT;
CREATE INDEX ph_reading_bath ON ph_reading (bath_id);
CREATE INDEX ph_reading_treatment ON ph_reading (treatment_id);

CREATE TABLE photo (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256 TEXT NOT NULL UNIQUE,
    suffix TEXT NOT NULL, name TEXT NOT NULL, file_format TEXT NOT NULL,
    taken TEXT, camera TEXT, size_bytes INTEGER NOT NULL
) STRICT;

CREATE TABLE calibration (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    kind TEXT NOT NULL, name TEXT NOT NULL, made TEXT NOT NULL, payload TEXT NOT NULL
) STRICT;

CREATE TABLE sheet_reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    photo_id INTEGER NOT NULL REFERENCES photo (id),
    method_version INTEGER NOT NULL,
    light TEXT NOT NULL,
    paper TEXT, cells TEXT, serial TEXT, layout_version INTEGER, residual REAL,
    signals TEXT NOT NULL, notices TEXT NOT NULL,
    calibration_id INTEGER REFERENCES calibration (id)
) STRICT;
CREATE UNIQUE INDEX sheet_reading_once
    ON sheet_reading (photo_id, method_version, ifnull(calibration_id, 0));
CREATE INDEX sheet_reading_calibration ON sheet_reading (calibration_id);

CREATE TABLE reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    piece_id INTEGER NOT NULL REFERENCES piece (id),
    sample TEXT NOT NULL, read TEXT NOT NULL, state TEXT NOT NULL,
    lab_l REAL NOT NULL, lab_a REAL NOT NULL, lab_b REAL NOT NULL,
    covariance_photo BLOB NOT NULL, covariance_common BLOB NOT NULL,
    u95 REAL NOT NULL, srgb TEXT NOT NULL, in_gamut INTEGER NOT NULL,
    measured TEXT NOT NULL, method_version INTEGER NOT NULL,
    photo_id INTEGER REFERENCES photo (id),
    sheet_reading_id INTEGER REFERENCES sheet_reading (id),
    calibration_id INTEGER REFERENCES calibration (id),
    after_treatment_id INTEGER REFERENCES treatment (id),
    shades TEXT NOT NULL, outline_px TEXT NOT NULL, notices TEXT NOT NULL, note TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX reading_once
    ON reading (photo_id, sample, method_version, ifnull(calibration_id, 0))
    WHERE photo_id IS NOT NULL;
CREATE INDEX reading_piece ON reading (piece_id, read);
CREATE INDEX reading_read ON reading (read);
CREATE INDEX reading_sheet_reading ON reading (sheet_reading_id);
CREATE INDEX reading_calibration ON reading (calibration_id);
CREATE INDEX reading_after_treatment ON reading (after_treatment_id);

CREATE TABLE draft (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE, changed TEXT NOT NULL, payload TEXT NOT NULL
) STRICT;
"""
