-- Pianos, visits, and one journal of entries per piano.

CREATE TABLE piano (
  number      INTEGER PRIMARY KEY,  -- within this file only; unit: none
  id          BLOB NOT NULL UNIQUE CHECK (length(id) = 16),  -- identity; unit: none (RFC 9562, 16 bytes)
  name        TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (name <> ''),  -- what the technician calls it; unit: none
  place       TEXT NOT NULL,  -- where it stands; unit: none
  lowest_key  INTEGER NOT NULL CHECK (lowest_key BETWEEN -8 AND 95),  -- unit: key number, A0 = 1
  highest_key INTEGER NOT NULL CHECK (highest_key BETWEEN lowest_key AND 95),  -- unit: key number, A0 = 1
  added_ms    INTEGER NOT NULL  -- when it was added; unit: ms, Unix time, UTC
) STRICT;

CREATE TABLE visit (
  number   INTEGER PRIMARY KEY,  -- within this file only; unit: none
  id       BLOB NOT NULL UNIQUE CHECK (length(id) = 16),  -- identity; unit: none (RFC 9562, 16 bytes)
  piano    INTEGER NOT NULL REFERENCES piano (number),  -- unit: none
  begun_ms INTEGER NOT NULL,  -- unit: ms, Unix time, UTC
  title    TEXT NOT NULL,  -- unit: none
  UNIQUE (piano, number)
) STRICT;

-- Clustered by piano, so that one piano's journal is read in one run over neighbouring pages.
CREATE TABLE entry (
  piano       INTEGER NOT NULL,  -- unit: none
  seq         INTEGER NOT NULL CHECK (seq >= 1),  -- place in the piano's journal, without gaps; unit: none
  id          BLOB NOT NULL UNIQUE CHECK (length(id) = 16),  -- identity; unit: none (RFC 9562, 16 bytes)
  visit       INTEGER NOT NULL,  -- unit: none
  at_ms       INTEGER NOT NULL,  -- when it was entered; unit: ms, Unix time, UTC
  who         TEXT NOT NULL,  -- unit: none
  kind        TEXT NOT NULL,  -- what the other columns mean, see the checks; unit: none
  subject     TEXT,  -- catalogue code of the reading, adjuster or item, or name of the setting; unit: none
  note        INTEGER CHECK (note BETWEEN -8 AND 95),  -- null: the whole piano or the room; unit: key number, A0 = 1
  value       REAL CHECK (abs(value) <= 1.7976931348623157e308),  -- value read, or amount moved; unit: the subject's in the catalogue (mm, gf, fraction, grade, %, degrees Celsius; turns, mm, bend steps)
  uncertainty REAL CHECK (uncertainty > 0 AND uncertainty <= 1.7976931348623157e308),  -- one standard deviation of value; unit: as value
  state       TEXT CHECK (state IN ('wanting', 'found', 'done', 'waived')),  -- of a preparation item; unit: none
  gauge       TEXT,  -- which instrument; unit: none
  text        TEXT,  -- what the hand typed, the remark, the reason, or the setting's value; unit: none
  target      BLOB CHECK (length(target) = 16),  -- the entry an undo takes back; it may not be here yet; unit: none (RFC 9562, 16 bytes)
  PRIMARY KEY (piano, seq),
  FOREIGN KEY (piano, visit) REFERENCES visit (piano, number),
  CHECK (CASE kind
    WHEN 'reading'     THEN subject IS NOT NULL AND value IS NOT NULL AND uncertainty IS NOT NULL
                            AND state IS NULL AND gauge IS NOT NULL AND text IS NOT NULL AND target IS NULL
    WHEN 'move'        THEN subject IS NOT NULL AND note IS NOT NULL AND value IS NOT NULL AND uncertainty IS NULL
                            AND state IS NULL AND gauge IS NULL AND text IS NOT NULL AND target IS NULL
    WHEN 'preparation' THEN subject IS NOT NULL AND value IS NULL AND uncertainty IS NULL
                            AND state IS NOT NULL AND gauge IS NULL AND text IS NOT NULL AND target IS NULL
                            AND (state <> 'waived' OR text <> '')
    WHEN 'setting'     THEN subject IS NOT NULL AND note IS NULL AND value IS NULL AND uncertainty IS NULL
                            AND state IS NULL AND gauge IS NULL AND text IS NOT NULL AND target IS NULL
    WHEN 'remark'      THEN subject IS NULL AND value IS NULL AND uncertainty IS NULL
                            AND state IS NULL AND gauge IS NULL AND text IS NOT NULL AND target IS NULL
    WHEN 'undo'        THEN subject IS NULL AND note IS NULL AND value IS NULL AND uncertainty IS NULL
                            AND state IS NULL AND gauge IS NULL AND text IS NULL AND target IS NOT NULL
    ELSE FALSE END)
) STRICT, WITHOUT ROWID;

CREATE INDEX visit_of_piano ON visit (piano, begun_ms);

-- The journal only grows. The place check also stops INSERT OR REPLACE, which removes without a DELETE.
CREATE TRIGGER entry_takes_the_next_place BEFORE INSERT ON entry
WHEN NEW.seq <> 1 + coalesce((SELECT max(seq) FROM entry WHERE piano = NEW.piano), 0)
BEGIN SELECT RAISE(ABORT, 'an entry takes the next place in the journal'); END;

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;

CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;

-- An entry says nothing without its piano and its visit, and a connection may have its foreign keys off.
CREATE TRIGGER visit_is_never_changed BEFORE UPDATE ON visit
BEGIN SELECT RAISE(ABORT, 'visits are never changed'); END;

CREATE TRIGGER visit_is_never_removed BEFORE DELETE ON visit
BEGIN SELECT RAISE(ABORT, 'visits are never removed'); END;

CREATE TRIGGER piano_is_never_removed BEFORE DELETE ON piano
BEGIN SELECT RAISE(ABORT, 'pianos are never removed'); END;
