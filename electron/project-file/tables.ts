import type { Generated } from 'kysely'

type Bytes = Uint8Array

/** The rows of the project file as the newest schema step has them, for typed queries. */
export type Tables = {
  segment: {
    id: Generated<number>
    uuid: Bytes
    opened_at: string
    opened_by: string
    opened_where: string
    program: string
    format_version: number
    grew_from: string
    first_hash: Bytes
  }
  audit_entry: {
    id: Generated<number>
    segment_id: number
    number: number
    command_uuid: Bytes
    scope: Bytes
    person_uuid: Bytes
    undoes: Bytes | null
    body: string
    hash: Bytes
  }
  entity: { id: Generated<number>; uuid: Bytes; kind: string; parent_id: number | null; revision: number; removed: number }
  entity_revision: { entity_id: number; number: number; body: string | null; entry_id: number }
  run_pin: { run_id: number; entity_id: number; revision: number }
  location: {
    id: Generated<number>
    run_id: number
    number: number
    kind: string
    terminal_id: number | null
    row_number: number
    column_number: number
    offset_x_m: number
    offset_y_m: number
    cell_area_m2: number
    retired: Generated<number>
  }
  reading: {
    id: Generated<number>
    segment_id: number
    number: number
    run_id: number
    location_id: number
    sample: number
    quantity: string
    si: number
    typed: string
    unit: string
    basis: string
    instrument_id: number
    person_id: number
    at_ms: number
    flags: Generated<string>
    note: Generated<string>
    entry_id: number
    void_entry_id: Generated<number | null>
    void_reason: Generated<string | null>
    replaced_by: Generated<number | null>
  }
  signed_result: { run_id: number; entry_id: number; calculation_version: number; body: string; sha256: Bytes }
  result_cache: { run_id: number; input_revision: string; calculation_version: number; body: string }
  attachment: {
    id: Generated<number>
    uuid: Bytes
    owner_id: number
    sha256: Bytes
    name: string
    media_type: string
    bytes: number
    entry_id: number
  }
  attachment_chunk: { sha256: Bytes; number: number; data: Bytes }
}
