-- Version 1. One table; rows are only ever added.
CREATE TABLE entry (
    -- AUTOINCREMENT: a number is never given twice, even if the last row could vanish.
    number         INTEGER PRIMARY KEY AUTOINCREMENT,
    client_id      TEXT    NOT NULL UNIQUE CHECK (length(client_id) > 0),
    author         TEXT    NOT NULL CHECK (length(author) > 0),
    time_micros    INTEGER NOT NULL,
    zone           TEXT,
    kind           TEXT    NOT NULL,
    format_version INTEGER NOT NULL CHECK (format_version > 0),
    line           TEXT    NOT NULL CHECK (length(line) > 0)
) STRICT;

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN
    SELECT RAISE(ABORT, 'the record is append-only: an entry is never changed');
END;

CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN
    SELECT RAISE(ABORT, 'the record is append-only: an entry is never removed');
END;

-- INSERT OR REPLACE removes the old row without firing the trigger above.
CREATE TRIGGER entry_is_never_replaced BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE number = NEW.number OR client_id = NEW.client_id)
BEGIN
    SELECT RAISE(ABORT, 'the record is append-only: an entry is never replaced');
END;
