-- A small library as version 5 wrote it; invented. Never changed: tomorrow's program must open it.
PRAGMA application_id = 1146701139;
PRAGMA user_version = 5;
BEGIN TRANSACTION;
CREATE TABLE addition (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    substance TEXT NOT NULL, amount REAL NOT NULL, unit TEXT NOT NULL,
    ph_after REAL, place INTEGER NOT NULL, added TEXT
, additive TEXT NOT NULL DEFAULT '', percent REAL, measured TEXT NOT NULL DEFAULT '') STRICT;
INSERT INTO "addition" VALUES(1,1,'washing soda',2.0,'g',7.0,1,NULL,'',NULL,'');
INSERT INTO "addition" VALUES(2,1,'washing soda',1.0,'g',7.4,2,'2026-03-01T09:20:00','soda_anhydrous',NULL,'weighed');
CREATE TABLE bath (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    code TEXT NOT NULL COLLATE NOCASE UNIQUE,
    started TEXT, water TEXT NOT NULL, vessel TEXT NOT NULL,
    liquor_ratio REAL, temperature_c REAL, minutes REAL,
    exhaust_number INTEGER NOT NULL,
    parent_bath_id INTEGER REFERENCES bath (id),
    note TEXT NOT NULL
) STRICT;
INSERT INTO "bath" VALUES(1,'bath-001','2026-03-01T09:00:00','rain water','steel pot',30.0,80.0,60.0,0,NULL,'');
CREATE TABLE bath_dyestuff (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    dyestuff_lot_id INTEGER NOT NULL REFERENCES dyestuff_lot (id),
    ratio REAL, place INTEGER NOT NULL
) STRICT;
INSERT INTO "bath_dyestuff" VALUES(1,1,1,1.0,1);
CREATE TABLE bath_line (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    kind TEXT NOT NULL, name TEXT NOT NULL, form TEXT NOT NULL, on_fibre TEXT NOT NULL,
    share REAL NOT NULL, planned REAL NOT NULL, actual REAL,
    written TEXT NOT NULL, written_actual TEXT NOT NULL, place INTEGER NOT NULL
) STRICT;
INSERT INTO "bath_line" VALUES(1,1,'dyestuff','weld','dried','',1.0,50.0,48.0,'1:1','48 g',1);
INSERT INTO "bath_line" VALUES(2,1,'water','water','','',30.0,1.5,NULL,'30:1','',2);
CREATE TABLE bath_piece (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    code TEXT NOT NULL COLLATE NOCASE, fibre TEXT NOT NULL,
    weight_g REAL NOT NULL, written TEXT NOT NULL, place INTEGER NOT NULL
) STRICT;
INSERT INTO "bath_piece" VALUES(1,1,'W-001','wool',50.0,'50 g',1);
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
INSERT INTO "bath_plan" VALUES(1,1,30.0,10.0,'enamel',1,0,0.4,40.0,120.0,7.5,8.0,NULL,NULL,'{"have":[{"additive":"vinegar","by":"millilitre","percent":"5","step":"5 ml"}],"raised":false}','2026-03-01T12:00:00');
CREATE TABLE calibration (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    kind TEXT NOT NULL, name TEXT NOT NULL, made TEXT NOT NULL, payload TEXT NOT NULL
) STRICT;
INSERT INTO "calibration" VALUES(1,'camera','a camera, window','2026-03-01T09:00:00','{"matrix":[1,0,0]}');
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
INSERT INTO "commission" VALUES(1,'commission-001','a weld shawl','the mill shop',62.0,-4.0,55.0,X'9A9999999999B93F000000000000000000000000000000009A9999999999B93F00000000000000009A9999999999B93F',2.0,'2026-03-05T11:00:00','2026-05-01',350.0,1,'');
CREATE TABLE commission_result (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    commission_id INTEGER NOT NULL REFERENCES commission (id),
    reading_id INTEGER NOT NULL REFERENCES reading (id),
    delta_e REAL NOT NULL, low REAL NOT NULL, high REAL NOT NULL, chance REAL NOT NULL,
    judged TEXT NOT NULL
) STRICT;
INSERT INTO "commission_result" VALUES(1,1,2,1.5,0.4,2.6,0.8,'2026-03-09T10:00:00');
CREATE TABLE day_step (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    treatment TEXT NOT NULL, what TEXT NOT NULL,
    temperature_c REAL, minutes REAL, started TEXT, ended TEXT,
    note TEXT NOT NULL, place INTEGER NOT NULL
) STRICT;
INSERT INTO "day_step" VALUES(1,1,'bath','simmer, not boil',80.0,60.0,'2026-03-01T09:00:00','2026-03-01T10:00:00','',1);
CREATE TABLE draft (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE, changed TEXT NOT NULL, payload TEXT NOT NULL
) STRICT;
INSERT INTO "draft" VALUES(1,'photo 3','2026-03-01T09:00:00','{"samples":[]}');
CREATE TABLE dyestuff_lot (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL, part TEXT NOT NULL, form TEXT NOT NULL, origin TEXT NOT NULL,
    lot_date TEXT, note TEXT NOT NULL
) STRICT;
INSERT INTO "dyestuff_lot" VALUES(1,'weld','tops','dried','Hollow Weir garden',NULL,'');
CREATE TABLE dyestuff_move (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    dyestuff_lot_id INTEGER NOT NULL REFERENCES dyestuff_lot (id),
    kind TEXT NOT NULL, grams REAL NOT NULL,
    bath_id INTEGER REFERENCES bath (id), moved TEXT
) STRICT;
INSERT INTO "dyestuff_move" VALUES(1,1,'bought',400.0,NULL,'2026-03-01T09:00:00');
INSERT INTO "dyestuff_move" VALUES(2,1,'used',48.0,1,'2026-03-01T09:00:00');
CREATE TABLE fibre_lot (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL, make TEXT NOT NULL, origin TEXT NOT NULL,
    lot_date TEXT, note TEXT NOT NULL
) STRICT;
INSERT INTO "fibre_lot" VALUES(1,'wool','4-ply yarn','',NULL,'');
CREATE TABLE home_test (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    piece_id INTEGER NOT NULL REFERENCES piece (id),
    treatment_id INTEGER REFERENCES treatment (id),
    kind TEXT NOT NULL, begun TEXT NOT NULL,
    white INTEGER NOT NULL, blue_wools TEXT NOT NULL,
    ended TEXT, note TEXT NOT NULL
, photo_days TEXT NOT NULL DEFAULT '[]') STRICT;
INSERT INTO "home_test" VALUES(1,1,NULL,'light','2026-03-10T09:00:00',1,'[3,4]',NULL,'on the sill','[2,7,30]');
CREATE TABLE home_test_pair (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    home_test_id INTEGER NOT NULL REFERENCES home_test (id),
    what TEXT NOT NULL, blue_wool INTEGER,
    untreated_id INTEGER NOT NULL REFERENCES reading (id),
    treated_id INTEGER NOT NULL REFERENCES reading (id)
) STRICT;
INSERT INTO "home_test_pair" VALUES(1,1,'piece',NULL,1,2);
INSERT INTO "home_test_pair" VALUES(2,1,'blue_wool',4,1,2);
CREATE TABLE log_reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bath_id INTEGER NOT NULL REFERENCES bath (id),
    addition_id INTEGER REFERENCES addition (id),
    ph REAL NOT NULL, instrument TEXT NOT NULL, error REAL NOT NULL, bias REAL NOT NULL,
    known_ph REAL, read TEXT
, photo_id INTEGER REFERENCES photo (id)) STRICT;
INSERT INTO "log_reading" VALUES(1,1,NULL,5.5,'strip',0.5,0.2,NULL,'2026-03-01T09:00:00',1);
INSERT INTO "log_reading" VALUES(2,1,2,7.4,'strip',0.5,0.2,NULL,'2026-03-01T09:25:00',NULL);
INSERT INTO "log_reading" VALUES(3,1,NULL,7.1,'strip',0.5,0.2,7.0,'2026-03-01T09:00:00',NULL);
CREATE TABLE mordant (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL, percent_wof REAL, note TEXT NOT NULL
) STRICT;
INSERT INTO "mordant" VALUES(1,'alum',12.0,'');
CREATE TABLE own_density (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    substance TEXT NOT NULL COLLATE NOCASE,
    low_g_ml REAL NOT NULL, usual_g_ml REAL NOT NULL, high_g_ml REAL NOT NULL,
    standard_uncertainty_g_ml REAL NOT NULL, spoon_sd REAL NOT NULL, coverage REAL NOT NULL,
    weighed TEXT
) STRICT;
INSERT INTO "own_density" VALUES(1,'alum',0.8,0.86,0.92,0.03,0.05,1.96,'2026-03-01T09:00:00');
CREATE TABLE own_range (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    substance TEXT NOT NULL, on_fibre TEXT NOT NULL, low REAL NOT NULL, high REAL NOT NULL
) STRICT;
INSERT INTO "own_range" VALUES(1,'alum','protein',0.08,0.12);
CREATE TABLE own_yield (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    dyestuff TEXT NOT NULL COLLATE NOCASE, form TEXT NOT NULL, share REAL NOT NULL
) STRICT;
INSERT INTO "own_yield" VALUES(1,'weld','dried',0.2);
CREATE TABLE ph_reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    which TEXT NOT NULL, ph REAL NOT NULL, ph_sd REAL, read TEXT,
    bath_id INTEGER REFERENCES bath (id),
    treatment_id INTEGER REFERENCES treatment (id),
    by TEXT NOT NULL,
    CHECK ((bath_id IS NULL) <> (treatment_id IS NULL))
) STRICT;
INSERT INTO "ph_reading" VALUES(1,'bath_end',6.8,0.05,'2026-03-01T10:00:00',1,NULL,'meter');
INSERT INTO "ph_reading" VALUES(2,'rinse',7.2,NULL,'2026-03-01T11:00:00',NULL,3,'');
CREATE TABLE photo (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256 TEXT NOT NULL UNIQUE,
    suffix TEXT NOT NULL, name TEXT NOT NULL, file_format TEXT NOT NULL,
    taken TEXT, camera TEXT, size_bytes INTEGER NOT NULL
) STRICT;
INSERT INTO "photo" VALUES(1,'0000000000000000000000000000000000000000000000000000000000000001','.jpg','IMG_0001.jpg','JPEG','2026-03-01T09:00:00','a camera',0);
CREATE TABLE piece (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    code TEXT NOT NULL COLLATE NOCASE UNIQUE,
    name TEXT NOT NULL,
    fibre_lot_id INTEGER REFERENCES fibre_lot (id),
    mordant_id INTEGER REFERENCES mordant (id),
    weight_g REAL, note TEXT NOT NULL
) STRICT;
INSERT INTO "piece" VALUES(1,'W-001','',1,1,50.0,'');
CREATE TABLE preference (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE, value TEXT NOT NULL
) STRICT;
INSERT INTO "preference" VALUES(1,'units','us');
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
INSERT INTO "reading" VALUES(1,1,'A1','2026-03-03T09:00:00','dry',78.0,-6.0,61.0,X'7B14AE47E17AA43F000000000000000000000000000000007B14AE47E17AA43F00000000000000007B14AE47E17AA43F',X'7B14AE47E17AA43F000000000000000000000000000000007B14AE47E17AA43F00000000000000007B14AE47E17AA43F',2.1,'#d6c84a',1,'2026-03-04T09:00:00',0,NULL,NULL,NULL,NULL,'[]','[]','[]','');
INSERT INTO "reading" VALUES(2,1,'B1','2026-03-03T09:00:00','dry',78.0,-6.0,61.0,X'7B14AE47E17AA43F000000000000000000000000000000007B14AE47E17AA43F00000000000000007B14AE47E17AA43F',X'7B14AE47E17AA43F000000000000000000000000000000007B14AE47E17AA43F00000000000000007B14AE47E17AA43F',2.1,'#d6c84a',1,'2026-03-04T09:00:00',1,1,1,1,NULL,'[[[78.0,-6.0,61.0],1.0]]','[[1.0,2.0],[3.0,4.0],[5.0,1.5]]','[{"code":"darker_than_greys","facts":{"x":1}}]','');
CREATE TABLE sheet_reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    photo_id INTEGER NOT NULL REFERENCES photo (id),
    method_version INTEGER NOT NULL,
    light TEXT NOT NULL,
    paper TEXT, cells TEXT, serial TEXT, layout_version INTEGER, residual REAL,
    signals TEXT NOT NULL, notices TEXT NOT NULL,
    calibration_id INTEGER REFERENCES calibration (id)
) STRICT;
INSERT INTO "sheet_reading" VALUES(1,1,1,'window','A4','six','HW1',1,0.01,'{"greys":[0.1,0.5]}','[]',1);
CREATE TABLE strip_kind (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL COLLATE NOCASE UNIQUE,
    scale TEXT NOT NULL, made TEXT
) STRICT;
INSERT INTO "strip_kind" VALUES(1,'narrow strips','{"colours":null,"rows":[[4.5,5.0,5.5]]}','2026-03-01T09:00:00');
CREATE TABLE treatment (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    piece_id INTEGER NOT NULL REFERENCES piece (id),
    kind TEXT NOT NULL,
    bath_id INTEGER REFERENCES bath (id),
    substance TEXT NOT NULL, amount REAL, unit TEXT NOT NULL,
    started TEXT, minutes REAL, temperature_c REAL,
    note TEXT NOT NULL, place INTEGER NOT NULL
) STRICT;
INSERT INTO "treatment" VALUES(1,1,'mordant',NULL,'alum',12.0,'% wof',NULL,NULL,NULL,'',1);
INSERT INTO "treatment" VALUES(2,1,'bath',1,'',NULL,'','2026-03-01T09:00:00',NULL,NULL,'',2);
INSERT INTO "treatment" VALUES(3,1,'rinse',NULL,'',NULL,'','2026-03-01T11:00:00',NULL,NULL,'',3);
CREATE INDEX dyestuff_lot_name ON dyestuff_lot (name COLLATE NOCASE);
CREATE INDEX piece_fibre_lot ON piece (fibre_lot_id);
CREATE INDEX piece_mordant ON piece (mordant_id);
CREATE INDEX bath_parent ON bath (parent_bath_id);
CREATE INDEX bath_dyestuff_bath ON bath_dyestuff (bath_id);
CREATE INDEX bath_dyestuff_lot ON bath_dyestuff (dyestuff_lot_id);
CREATE INDEX addition_bath ON addition (bath_id);
CREATE INDEX treatment_piece ON treatment (piece_id, place);
CREATE INDEX treatment_bath ON treatment (bath_id);
CREATE INDEX ph_reading_bath ON ph_reading (bath_id);
CREATE INDEX ph_reading_treatment ON ph_reading (treatment_id);
CREATE UNIQUE INDEX sheet_reading_once
    ON sheet_reading (photo_id, method_version, ifnull(calibration_id, 0));
CREATE INDEX sheet_reading_calibration ON sheet_reading (calibration_id);
CREATE UNIQUE INDEX reading_once
    ON reading (photo_id, sample, method_version, ifnull(calibration_id, 0))
    WHERE photo_id IS NOT NULL;
CREATE INDEX reading_piece ON reading (piece_id, read);
CREATE INDEX reading_read ON reading (read);
CREATE INDEX reading_sheet_reading ON reading (sheet_reading_id);
CREATE INDEX reading_calibration ON reading (calibration_id);
CREATE INDEX reading_after_treatment ON reading (after_treatment_id);
CREATE INDEX bath_piece_bath ON bath_piece (bath_id);
CREATE INDEX bath_line_bath ON bath_line (bath_id);
CREATE INDEX log_reading_bath ON log_reading (bath_id);
CREATE INDEX log_reading_addition ON log_reading (addition_id);
CREATE INDEX day_step_bath ON day_step (bath_id);
CREATE INDEX dyestuff_move_lot ON dyestuff_move (dyestuff_lot_id);
CREATE INDEX dyestuff_move_bath ON dyestuff_move (bath_id);
CREATE INDEX commission_reading ON commission (reading_id);
CREATE INDEX commission_result_commission ON commission_result (commission_id);
CREATE INDEX commission_result_reading ON commission_result (reading_id);
CREATE INDEX home_test_piece ON home_test (piece_id);
CREATE INDEX home_test_treatment ON home_test (treatment_id);
CREATE INDEX home_test_pair_test ON home_test_pair (home_test_id);
CREATE INDEX home_test_pair_untreated ON home_test_pair (untreated_id);
CREATE INDEX home_test_pair_treated ON home_test_pair (treated_id);
CREATE INDEX log_reading_photo ON log_reading (photo_id);
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('bath',1);
INSERT INTO "sqlite_sequence" VALUES('dyestuff_lot',1);
INSERT INTO "sqlite_sequence" VALUES('bath_dyestuff',1);
INSERT INTO "sqlite_sequence" VALUES('addition',2);
INSERT INTO "sqlite_sequence" VALUES('ph_reading',2);
INSERT INTO "sqlite_sequence" VALUES('fibre_lot',1);
INSERT INTO "sqlite_sequence" VALUES('mordant',1);
INSERT INTO "sqlite_sequence" VALUES('piece',1);
INSERT INTO "sqlite_sequence" VALUES('treatment',3);
INSERT INTO "sqlite_sequence" VALUES('reading',2);
INSERT INTO "sqlite_sequence" VALUES('photo',1);
INSERT INTO "sqlite_sequence" VALUES('calibration',1);
INSERT INTO "sqlite_sequence" VALUES('sheet_reading',1);
INSERT INTO "sqlite_sequence" VALUES('draft',1);
INSERT INTO "sqlite_sequence" VALUES('bath_plan',1);
INSERT INTO "sqlite_sequence" VALUES('bath_piece',1);
INSERT INTO "sqlite_sequence" VALUES('bath_line',2);
INSERT INTO "sqlite_sequence" VALUES('log_reading',3);
INSERT INTO "sqlite_sequence" VALUES('day_step',1);
INSERT INTO "sqlite_sequence" VALUES('dyestuff_move',2);
INSERT INTO "sqlite_sequence" VALUES('own_density',1);
INSERT INTO "sqlite_sequence" VALUES('own_range',1);
INSERT INTO "sqlite_sequence" VALUES('own_yield',1);
INSERT INTO "sqlite_sequence" VALUES('preference',1);
INSERT INTO "sqlite_sequence" VALUES('commission',1);
INSERT INTO "sqlite_sequence" VALUES('commission_result',1);
INSERT INTO "sqlite_sequence" VALUES('home_test',1);
INSERT INTO "sqlite_sequence" VALUES('home_test_pair',2);
INSERT INTO "sqlite_sequence" VALUES('strip_kind',1);
COMMIT;
