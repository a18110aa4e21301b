-- A skip: a move knowingly left. And moves without a note, of what is the piano's and no note's.
--
-- A CHECK cannot be altered, so the table is made anew as sqlite.org/lang_altertable.html, section 7,
-- advises; with the old one its triggers go, and are made again.

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

INSERT INTO new_entry (piano, seq, id, visit, at_ms, who, kind, subject, note, value, uncertainty, state, gauge, text, target)
SELECT piano, seq, id, visit, at_ms, who, kind, subject, note, value, uncertainty, state, gauge, text, target
FROM entry ORDER BY piano, seq;

DROP TABLE entry;
ALTER TABLE new_entry RENAME TO entry;

-- The journal only grows. The place check also stops INSERT OR REPLACE, which removes without a DELETE.
CREATE TRIGGER entry_takes_the_next_place BEFORE INSERT ON entry
WHEN NEW.seq <> 1 + coalesce((SELECT max(seq) FROM entry WHERE piano = NEW.piano), 0)
BEGIN SELECT RAISE(ABORT, 'an entry takes the next place in the journal'); END;

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;

CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;
