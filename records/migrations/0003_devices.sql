-- Phones and tablets that may use the server over the network. Not the journal: rows change.

CREATE TABLE device (
  number       INTEGER PRIMARY KEY,  -- within this file only; unit: none
  id           BLOB NOT NULL UNIQUE CHECK (length(id) = 16),  -- identity; unit: none (RFC 9562, 16 bytes)
  name         TEXT NOT NULL CHECK (name <> ''),  -- what it was called when it was paired; unit: none
  token_sha256 BLOB NOT NULL UNIQUE CHECK (length(token_sha256) = 32),  -- of the token only the device has; unit: none (FIPS 180-4, 32 bytes)
  paired_ms    INTEGER NOT NULL,  -- unit: ms, Unix time, UTC
  seen_ms      INTEGER NOT NULL,  -- when it last asked for something, to some minutes; unit: ms, Unix time, UTC
  revoked_ms   INTEGER  -- null: it may come in; unit: ms, Unix time, UTC
) STRICT;

CREATE TRIGGER device_stays_revoked BEFORE UPDATE ON device
WHEN OLD.revoked_ms IS NOT NULL AND NEW.revoked_ms IS NOT OLD.revoked_ms
BEGIN SELECT RAISE(ABORT, 'a revoked device is paired anew'); END;
