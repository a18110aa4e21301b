-- An order of reading that is the same whatever order entries arrive in; what holds for the workshop;
-- what is kept to save reckoning it again.
--
-- An entry's stamp is given when it is entered: its time, or one more than the last stamp there is, if
-- that is later (L. Lamport, Time, clocks, and the ordering of events, CACM 21, 1978, rule IR2, with a
-- clock for the count). It goes with the entry from store to store. A journal is read by (stamp, id);
-- seq stays the order of arrival in this file, and the revision.
--
-- Entries that are here already get the stamps they would have been given: with w = the time, held
-- between 1 and the end of the year 9999, stamp(k) = max(w(k), stamp(k-1) + 1) = k + max over j <= k of
-- (w(j) - j). So the order of reading is the order there was. As in 0002 the table is made anew.

CREATE TABLE new_entry (
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
  stamp       INTEGER NOT NULL CHECK (stamp BETWEEN 1 AND 9007199254740991),  -- place in reading, with id; unit: ms, Unix time, UTC, or as many more as it takes to follow all that was there
  PRIMARY KEY (piano, seq),
  FOREIGN KEY (piano, visit) REFERENCES visit (piano, number),
  CHECK (CASE kind
    WHEN 'reading'     THEN subject IS NOT NULL AND value IS NOT NULL AND uncertainty IS NOT NULL
                            AND state IS NULL AND gauge IS NOT NULL AND text IS NOT NULL AND target IS NULL
    WHEN 'move'        THEN subject IS NOT NULL AND value IS NOT NULL AND uncertainty IS NULL
                            AND state IS NULL AND gauge IS NULL AND text IS NOT NULL AND target IS NULL
                            AND (note IS NOT NULL OR subject IN ('damper-pedal-rod', 'damper-tray-stop', 'damper-up-stop',
                                                                 'sostenuto-blade', 'shift-stop'))
    WHEN 'skip'        THEN subject IS NOT NULL AND value IS NULL AND uncertainty IS NULL
                            AND state IS NULL AND gauge IS NULL AND text IS NOT NULL AND text <> '' AND target IS NULL
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

INSERT INTO new_entry (piano, seq, id, visit, at_ms, who, kind, subject, note, value, uncertainty, state, gauge, text, target, stamp)
SELECT piano, seq, id, visit, at_ms, who, kind, subject, note, value, uncertainty, state, gauge, text, target,
       seq + max(min(max(at_ms, 1), 253402300799999) - seq) OVER (PARTITION BY piano ORDER BY seq ROWS UNBOUNDED PRECEDING)
FROM entry ORDER BY piano, seq;

DROP TABLE entry;
ALTER TABLE new_entry RENAME TO entry;

-- For the last stamp of a piano.
CREATE INDEX entry_by_stamp ON entry (piano, stamp);

-- The journal only grows. The place check also stops INSERT OR REPLACE, which removes without a DELETE.
CREATE TRIGGER entry_takes_the_next_place BEFORE INSERT ON entry
WHEN NEW.seq <> 1 + coalesce((SELECT max(seq) FROM entry WHERE piano = NEW.piano), 0)
BEGIN SELECT RAISE(ABORT, 'an entry takes the next place in the journal'); END;

CREATE TRIGGER entry_is_never_changed
BEFORE UPDATE OF piano, seq, id, visit, at_ms, who, kind, subject, note, value, uncertainty, state, gauge, text, target ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;

-- The same entry sent to two stores got a stamp in each; where they are joined the earlier one holds.
CREATE TRIGGER entry_stamp_is_never_raised BEFORE UPDATE OF stamp ON entry
WHEN NEW.stamp > OLD.stamp
BEGIN SELECT RAISE(ABORT, 'an entry keeps its earliest stamp'); END;

CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;

-- What holds for whoever works here, whichever piano. Not the journal: rows change.
CREATE TABLE shop (
  name  TEXT NOT NULL PRIMARY KEY CHECK (name <> ''),  -- unit: none
  value TEXT NOT NULL  -- as typed; unit: none
) STRICT, WITHOUT ROWID;

CREATE TABLE logo (
  number     INTEGER PRIMARY KEY CHECK (number = 1),  -- there is one at most; unit: none
  media_type TEXT NOT NULL CHECK (media_type IN ('image/png', 'image/jpeg')),  -- unit: none (RFC 6838)
  bytes      BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 1048576)  -- the file; unit: none
) STRICT;

-- Reckoned from the journal at that revision by that model; may be thrown away at any time.
CREATE TABLE outlook (
  piano    INTEGER NOT NULL PRIMARY KEY REFERENCES piano (number),  -- unit: none
  revision INTEGER NOT NULL,  -- entries of the journal; unit: none
  model    TEXT NOT NULL,  -- which reckoning; unit: none
  text     TEXT NOT NULL  -- unit: none
) STRICT;
