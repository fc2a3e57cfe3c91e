-- The ledger: the truth. Entries are only ever added.
CREATE TABLE IF NOT EXISTS revisions (
    sequence  INTEGER PRIMARY KEY,
    iri       TEXT    NOT NULL,
    number    INTEGER NOT NULL,
    body      TEXT    NOT NULL,  -- canonical N-Quads; empty in a tombstone
    moment    TEXT    NOT NULL,  -- ISO 8601, UTC
    who       TEXT    NOT NULL,
    what_for  TEXT    NOT NULL,
    sha256    TEXT    NOT NULL,
    previous  TEXT    NOT NULL,
    chain     TEXT    NOT NULL,
    tombstone INTEGER NOT NULL,
    UNIQUE (iri, number)
);

CREATE TRIGGER IF NOT EXISTS revisions_are_never_changed BEFORE UPDATE ON revisions
BEGIN SELECT RAISE(ABORT, 'an entry of the ledger is never changed'); END;

CREATE TRIGGER IF NOT EXISTS revisions_are_never_removed BEFORE DELETE ON revisions
BEGIN SELECT RAISE(ABORT, 'an entry of the ledger is never removed'); END;

-- What the public was told when: what came into its sight, changed there, or went. Entries are only added,
-- and are not made again: what was once told is not told anew because the tables below are.
CREATE TABLE IF NOT EXISTS activities (
    number   INTEGER PRIMARY KEY,
    iri      TEXT NOT NULL,
    activity TEXT NOT NULL,  -- Create, Update or Delete
    moment   TEXT NOT NULL,  -- ISO 8601, UTC
    sha256   TEXT            -- of the canonical form that the public sees; none in a Delete
);
CREATE INDEX IF NOT EXISTS activities_by_record ON activities (iri, number);

CREATE TABLE IF NOT EXISTS facts (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;

-- All below is made from the ledger, in the same commit, and can be made again at any time.
CREATE TABLE IF NOT EXISTS heads (
    id          INTEGER PRIMARY KEY,
    iri         TEXT    NOT NULL UNIQUE,
    kind        TEXT    NOT NULL,
    identifier  TEXT    NOT NULL,
    sequence    INTEGER NOT NULL,
    number      INTEGER NOT NULL,
    tombstone   INTEGER NOT NULL,
    own_public  INTEGER NOT NULL,  -- by its own visibility
    public      INTEGER NOT NULL,  -- and by that of every record it cannot stand without
    number_key  TEXT,              -- the workshop number as it is compared
    earliest    INTEGER,           -- of its date, as year * 10000 + month * 100 + day
    latest      INTEGER
);
CREATE INDEX IF NOT EXISTS heads_by_sequence ON heads (sequence);
CREATE INDEX IF NOT EXISTS heads_by_identifier ON heads (identifier);
CREATE INDEX IF NOT EXISTS heads_by_workshop_number ON heads (number_key);

-- Which records a record names; `needed` where it cannot stand without them.
CREATE TABLE IF NOT EXISTS named (
    id INTEGER NOT NULL, target TEXT NOT NULL, needed INTEGER NOT NULL, PRIMARY KEY (id, target)
) WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS named_by_target ON named (target);

-- Every name a person or body ever had here; withheld from the public while the record itself is.
CREATE TABLE IF NOT EXISTS names (
    iri TEXT NOT NULL, name TEXT NOT NULL, PRIMARY KEY (iri, name)
) WITHOUT ROWID;

CREATE TABLE IF NOT EXISTS facets (
    source   INTEGER NOT NULL,  -- the record that says so
    audience INTEGER NOT NULL,  -- 0 the workshop, 1 the public
    subject  TEXT    NOT NULL,  -- the record it is said of
    name     TEXT    NOT NULL,
    value    TEXT    NOT NULL,
    PRIMARY KEY (source, audience, subject, name, value)
) WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS facets_by_value ON facets (audience, name, value, subject);
CREATE INDEX IF NOT EXISTS facets_by_subject ON facets (audience, subject, name, value);

-- How pieces and volumes stand, worked out from several records (see standing.py), and which are to be looked
-- at again, with the entry of the ledger that this was noted for.
CREATE TABLE IF NOT EXISTS standings (
    subject TEXT NOT NULL, audience INTEGER NOT NULL, name TEXT NOT NULL, value TEXT NOT NULL,
    PRIMARY KEY (subject, audience, name, value)
) WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS standings_by_value ON standings (audience, name, value, subject);
CREATE TABLE IF NOT EXISTS unsettled (
    iri TEXT NOT NULL, audience INTEGER NOT NULL, sequence INTEGER NOT NULL, PRIMARY KEY (iri, audience)
) WITHOUT ROWID;

-- Row 2 * heads.id + audience, so that nothing private is ever in a row the public searches.
CREATE VIRTUAL TABLE IF NOT EXISTS texts USING fts5 (
    title, text, tokenize = "unicode61 remove_diacritics 2", prefix = '2 3'
);
CREATE VIRTUAL TABLE IF NOT EXISTS codes USING fts5 (code, tokenize = "trigram");
