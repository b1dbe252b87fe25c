import { type Kysely, sql } from 'kysely'
import type { StepQueries } from './index.ts'

/**
 * The first shape of a project file. Entities of every kind share two tables: an identity for life, and immutable revisions of a
 * JSON body that core/model validates before it is written. Readings, the bulk, are narrow rows. Audit entries are append-only.
 * Links to an entry are checked at commit, because a change's rows are written before the entry that lists them; each has an index,
 * for without one every new entry would make SQLite read the whole table of readings.
 */
export function* up(db: Kysely<unknown>): StepQueries {
  for (const statement of statements) yield { compile: () => sql.raw(statement).compile(db) }
}

const statements = [
  `CREATE TABLE segment (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    opened_at TEXT NOT NULL,
    opened_by TEXT NOT NULL,
    opened_where TEXT NOT NULL,
    program TEXT NOT NULL,
    format_version INTEGER NOT NULL,
    grew_from TEXT NOT NULL CHECK (json_valid(grew_from)),
    first_hash BLOB NOT NULL CHECK (length(first_hash) = 32)
  ) STRICT`,
  `CREATE TRIGGER segment_kept BEFORE UPDATE ON segment BEGIN SELECT RAISE(ABORT, 'segments are never changed'); END`,
  `CREATE TRIGGER segment_never_deleted BEFORE DELETE ON segment BEGIN SELECT RAISE(ABORT, 'segments are never deleted'); END`,
  `CREATE TABLE audit_entry (
    id INTEGER PRIMARY KEY,
    segment_id INTEGER NOT NULL REFERENCES segment (id) DEFERRABLE INITIALLY DEFERRED,
    number INTEGER NOT NULL CHECK (number > 0),
    command_uuid BLOB NOT NULL UNIQUE CHECK (length(command_uuid) = 16),
    scope BLOB NOT NULL,
    person_uuid BLOB NOT NULL CHECK (length(person_uuid) = 16),
    undoes BLOB CHECK (undoes IS NULL OR length(undoes) = 16),
    body TEXT NOT NULL CHECK (json_valid(body)),
    hash BLOB NOT NULL CHECK (length(hash) = 32),
    UNIQUE (segment_id, number)
  ) STRICT`,
  `CREATE INDEX audit_entry_by_scope ON audit_entry (scope, person_uuid, id)`,
  `CREATE TRIGGER audit_entry_kept BEFORE UPDATE ON audit_entry BEGIN SELECT RAISE(ABORT, 'audit entries are never changed'); END`,
  `CREATE TRIGGER audit_entry_never_deleted BEFORE DELETE ON audit_entry BEGIN SELECT RAISE(ABORT, 'audit entries are never deleted'); END`,
  `CREATE TABLE entity (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    kind TEXT NOT NULL,
    parent_id INTEGER REFERENCES entity (id),
    revision INTEGER NOT NULL CHECK (revision > 0),
    removed INTEGER NOT NULL CHECK (removed IN (0, 1))
  ) STRICT`,
  `CREATE INDEX entity_by_parent ON entity (parent_id, kind)`,
  `CREATE INDEX entity_by_kind ON entity (kind)`,
  `CREATE TABLE entity_revision (
    entity_id INTEGER NOT NULL REFERENCES entity (id),
    number INTEGER NOT NULL CHECK (number > 0),
    body TEXT CHECK (body IS NULL OR json_valid(body)),
    entry_id INTEGER NOT NULL REFERENCES audit_entry (id) DEFERRABLE INITIALLY DEFERRED,
    PRIMARY KEY (entity_id, number)
  ) STRICT, WITHOUT ROWID`,
  `CREATE INDEX entity_revision_by_entry ON entity_revision (entry_id)`,
  `CREATE TRIGGER entity_revision_kept BEFORE UPDATE ON entity_revision BEGIN SELECT RAISE(ABORT, 'revisions are never changed'); END`,
  `CREATE TRIGGER entity_revision_never_deleted BEFORE DELETE ON entity_revision
    BEGIN SELECT RAISE(ABORT, 'revisions are never deleted'); END`,
  `CREATE TABLE run_pin (
    run_id INTEGER NOT NULL REFERENCES entity (id),
    entity_id INTEGER NOT NULL,
    revision INTEGER NOT NULL,
    PRIMARY KEY (run_id, entity_id),
    FOREIGN KEY (entity_id, revision) REFERENCES entity_revision (entity_id, number)
  ) STRICT, WITHOUT ROWID`,
  `CREATE TABLE location (
    id INTEGER PRIMARY KEY,
    run_id INTEGER NOT NULL REFERENCES entity (id),
    number INTEGER NOT NULL CHECK (number > 0),
    kind TEXT NOT NULL,
    terminal_id INTEGER REFERENCES entity (id),
    row_number INTEGER NOT NULL,
    column_number INTEGER NOT NULL,
    offset_x_m REAL NOT NULL,
    offset_y_m REAL NOT NULL,
    cell_area_m2 REAL NOT NULL CHECK (cell_area_m2 > 0),
    retired INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1)),
    UNIQUE (run_id, number)
  ) STRICT`,
  `CREATE TABLE reading (
    id INTEGER PRIMARY KEY,
    segment_id INTEGER NOT NULL REFERENCES segment (id) DEFERRABLE INITIALLY DEFERRED,
    number INTEGER NOT NULL CHECK (number > 0),
    run_id INTEGER NOT NULL REFERENCES entity (id),
    location_id INTEGER NOT NULL REFERENCES location (id),
    sample INTEGER NOT NULL CHECK (sample > 0),
    quantity TEXT NOT NULL,
    si REAL NOT NULL,
    typed TEXT NOT NULL,
    unit TEXT NOT NULL,
    basis TEXT NOT NULL,
    instrument_id INTEGER NOT NULL REFERENCES entity (id),
    person_id INTEGER NOT NULL REFERENCES entity (id),
    at_ms INTEGER NOT NULL,
    flags TEXT NOT NULL DEFAULT '',
    note TEXT NOT NULL DEFAULT '',
    entry_id INTEGER NOT NULL REFERENCES audit_entry (id) DEFERRABLE INITIALLY DEFERRED,
    void_entry_id INTEGER REFERENCES audit_entry (id) DEFERRABLE INITIALLY DEFERRED,
    void_reason TEXT,
    replaced_by INTEGER REFERENCES reading (id) DEFERRABLE INITIALLY DEFERRED,
    UNIQUE (segment_id, number),
    CHECK ((void_entry_id IS NULL) = (void_reason IS NULL))
  ) STRICT`,
  `CREATE UNIQUE INDEX reading_in_force ON reading (run_id, location_id, sample) WHERE void_entry_id IS NULL`,
  `CREATE INDEX reading_voided ON reading (run_id) WHERE void_entry_id IS NOT NULL`,
  `CREATE INDEX reading_by_entry ON reading (entry_id)`,
  `CREATE INDEX reading_by_void_entry ON reading (void_entry_id) WHERE void_entry_id IS NOT NULL`,
  `CREATE INDEX reading_by_replacement ON reading (replaced_by) WHERE replaced_by IS NOT NULL`,
  `CREATE TRIGGER reading_kept BEFORE UPDATE OF segment_id, number, run_id, location_id, sample, quantity, si, typed, unit, basis,
    instrument_id, person_id, at_ms, flags, note, entry_id ON reading
    BEGIN SELECT RAISE(ABORT, 'readings are never overwritten'); END`,
  `CREATE TRIGGER reading_void_kept BEFORE UPDATE OF void_entry_id, void_reason, replaced_by ON reading WHEN OLD.void_entry_id IS NOT NULL
    BEGIN SELECT RAISE(ABORT, 'a voided reading stays voided'); END`,
  `CREATE TRIGGER reading_never_deleted BEFORE DELETE ON reading BEGIN SELECT RAISE(ABORT, 'readings are never deleted'); END`,
  `CREATE TABLE signed_result (
    run_id INTEGER NOT NULL REFERENCES entity (id),
    entry_id INTEGER NOT NULL REFERENCES audit_entry (id) DEFERRABLE INITIALLY DEFERRED,
    calculation_version INTEGER NOT NULL,
    body TEXT NOT NULL CHECK (json_valid(body)),
    sha256 BLOB NOT NULL CHECK (length(sha256) = 32),
    PRIMARY KEY (run_id, entry_id)
  ) STRICT, WITHOUT ROWID`,
  `CREATE INDEX signed_result_by_entry ON signed_result (entry_id)`,
  `CREATE TRIGGER signed_result_kept BEFORE UPDATE ON signed_result BEGIN SELECT RAISE(ABORT, 'signed results are frozen'); END`,
  `CREATE TRIGGER signed_result_never_deleted BEFORE DELETE ON signed_result BEGIN SELECT RAISE(ABORT, 'signed results are frozen'); END`,
  `CREATE TABLE result_cache (
    run_id INTEGER NOT NULL PRIMARY KEY REFERENCES entity (id),
    input_revision TEXT NOT NULL,
    calculation_version INTEGER NOT NULL,
    body TEXT NOT NULL
  ) STRICT`,
  `CREATE TABLE attachment (
    id INTEGER PRIMARY KEY,
    uuid BLOB NOT NULL UNIQUE CHECK (length(uuid) = 16),
    owner_id INTEGER NOT NULL REFERENCES entity (id),
    sha256 BLOB NOT NULL CHECK (length(sha256) = 32),
    name TEXT NOT NULL,
    media_type TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    entry_id INTEGER NOT NULL REFERENCES audit_entry (id) DEFERRABLE INITIALLY DEFERRED
  ) STRICT`,
  `CREATE INDEX attachment_by_owner ON attachment (owner_id)`,
  `CREATE INDEX attachment_by_entry ON attachment (entry_id)`,
  `CREATE TRIGGER attachment_kept BEFORE UPDATE ON attachment BEGIN SELECT RAISE(ABORT, 'attachments are never changed'); END`,
  `CREATE TRIGGER attachment_never_deleted BEFORE DELETE ON attachment BEGIN SELECT RAISE(ABORT, 'attachments are never deleted'); END`,
  `CREATE TABLE attachment_chunk (
    sha256 BLOB NOT NULL CHECK (length(sha256) = 32),
    number INTEGER NOT NULL,
    data BLOB NOT NULL,
    PRIMARY KEY (sha256, number)
  ) STRICT, WITHOUT ROWID`,
]
