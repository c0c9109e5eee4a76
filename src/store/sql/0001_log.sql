-- The log of answers and the settings. Once released, this file is never edited: a change is a new file.

CREATE TABLE answer (
    seq         INTEGER PRIMARY KEY CHECK (seq > 0),
    uid         BLOB    NOT NULL UNIQUE CHECK (length(uid) = 16),
    at_utc_ms   INTEGER NOT NULL CHECK (at_utc_ms BETWEEN -62167219200000 AND 253402300799999),
    day         TEXT    NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(day) IS day),
    offset_min  INTEGER NOT NULL CHECK (offset_min BETWEEN -1439 AND 1439),
    deck        TEXT    NOT NULL CHECK (deck <> '' AND instr(deck, '/') = 0),
    item        TEXT    NOT NULL CHECK (item <> ''),
    edition     TEXT    NOT NULL,
    fingerprint TEXT    NOT NULL CHECK (length(fingerprint) = 16 AND fingerprint NOT GLOB '*[^0-9a-f]*'),
    part        INTEGER CHECK (part BETWEEN 1 AND parts),
    parts       INTEGER CHECK ((part IS NULL) = (parts IS NULL) AND parts BETWEEN 2 AND 8),
    wording     INTEGER NOT NULL CHECK (wording BETWEEN 0 AND 4294967295),
    shown       TEXT    NOT NULL CHECK (json_valid(shown) AND json_type(shown) = 'array'),
    response    TEXT    NOT NULL CHECK (json_valid(response) AND json_type(response) = 'array'),
    correct     INTEGER NOT NULL CHECK (correct IN (0, 1)),
    confidence  TEXT    NOT NULL CHECK (confidence IN ('guessing', 'likely', 'certain')),
    quality     INTEGER NOT NULL CHECK (quality BETWEEN 0 AND 5),
    seconds     REAL    NOT NULL CHECK (seconds BETWEEN 0 AND 1.7976931348623157e308),
    round       TEXT    NOT NULL CHECK (round IN ('review', 'drill', 'paper')),
    program     TEXT    NOT NULL CHECK (program <> ''),
    rules       INTEGER NOT NULL CHECK (rules > 0)
) STRICT;

CREATE TRIGGER answer_is_never_changed BEFORE UPDATE ON answer
BEGIN
    SELECT RAISE(ABORT, 'an answer is never changed');
END;

-- REPLACE deletes the old row without a word unless recursive_triggers is on: every connection turns it on.
CREATE TRIGGER answer_is_never_deleted BEFORE DELETE ON answer
BEGIN
    SELECT RAISE(ABORT, 'an answer is never deleted');
END;

CREATE TABLE setting (
    name  TEXT NOT NULL PRIMARY KEY CHECK (name <> ''),
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
