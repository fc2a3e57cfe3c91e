-- Other catalogues that are followed, and how far.
CREATE TABLE IF NOT EXISTS origins (
    id         INTEGER PRIMARY KEY,
    feed       TEXT NOT NULL UNIQUE,
    title      TEXT NOT NULL,
    space      TEXT NOT NULL UNIQUE,  -- what the addresses of all its records begin with
    licence    TEXT,
    shown      INTEGER NOT NULL,      -- to the public too
    first_read TEXT NOT NULL,
    last_read  TEXT NOT NULL,
    mark_id    TEXT NOT NULL,         -- the newest activity that was followed
    mark_time  TEXT NOT NULL,
    problem    TEXT NOT NULL          -- why the last reading ended early; empty, where it did not
);

CREATE TABLE IF NOT EXISTS records (
    id      INTEGER PRIMARY KEY,
    iri     TEXT NOT NULL UNIQUE,
    origin  INTEGER NOT NULL,
    kind    TEXT NOT NULL,
    title   TEXT NOT NULL,
    body    TEXT NOT NULL,     -- canonical N-Quads; empty, where it is gone
    licence TEXT,
    source  TEXT NOT NULL,     -- the document it was read from
    etag    TEXT,
    changed TEXT NOT NULL,     -- as the feed says
    fetched TEXT NOT NULL,
    gone    INTEGER NOT NULL
);
CREATE INDEX IF NOT EXISTS records_by_origin ON records (origin);

-- Documents that could not be taken, to be tried again the next time.
CREATE TABLE IF NOT EXISTS damaged (
    iri     TEXT NOT NULL,
    origin  INTEGER NOT NULL,
    source  TEXT NOT NULL,
    changed TEXT NOT NULL,
    problem TEXT NOT NULL,
    PRIMARY KEY (origin, iri)
) WITHOUT ROWID;

CREATE VIRTUAL TABLE IF NOT EXISTS texts USING fts5 (
    title, text, tokenize = "unicode61 remove_diacritics 2", prefix = '2 3'
);
