-- Candidates' remarks on items, kept beside the answers and as lasting as they are.

CREATE TABLE query (
    seq         INTEGER PRIMARY KEY CHECK (seq > 0),
    at_utc_ms   INTEGER NOT NULL CHECK (at_utc_ms BETWEEN -62167219200000 AND 253402300799999),
    day         TEXT    NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(day) IS day),
    offset_min  INTEGER NOT NULL CHECK (offset_min BETWEEN -1439 AND 1439),
    deck        TEXT    NOT NULL CHECK (deck <> '' AND instr(deck, '/') = 0),
    item        TEXT    NOT NULL CHECK (item <> ''),
    edition     TEXT    NOT NULL,
    fingerprint TEXT    NOT NULL CHECK (length(fingerprint) = 16 AND fingerprint NOT GLOB '*[^0-9a-f]*'),
    part        INTEGER CHECK (part BETWEEN 1 AND parts),
    parts       INTEGER CHECK ((part IS NULL) = (parts IS NULL) AND parts BETWEEN 2 AND 8),
    answer      BLOB    NOT NULL CHECK (length(answer) = 16),
    text        TEXT    NOT NULL CHECK (length(text) BETWEEN 1 AND 1000),
    program     TEXT    NOT NULL CHECK (program <> '')
) STRICT;

CREATE TRIGGER query_is_never_changed BEFORE UPDATE ON query
BEGIN
    SELECT RAISE(ABORT, 'a query is never changed');
END;

CREATE TRIGGER query_is_never_deleted BEFORE DELETE ON query
BEGIN
    SELECT RAISE(ABORT, 'a query is never deleted');
END;
