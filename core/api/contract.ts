import { eventIterator } from '@orpc/contract'
import { z } from 'zod'
import { AuditEntry, CommandName } from '../model/audit.ts'
import { CriteriaSet, Verdict } from '../model/criteria.ts'
import {
  AcceptedMisfit,
  AnyEntity,
  Certification,
  Conditions,
  DoorPressure,
  ENTITY_SCHEMAS,
  EntityKind,
  MethodId,
  MissingReason,
  OperatingState,
  Person,
  Project,
  Run,
} from '../model/entities.ts'
import { Location, Reading, ReadingId } from '../model/readings.ts'
import { CertificationState, Comparison, History, RoomState, RunResult, Sentence, Signature, SignatureMeaning } from '../model/results.ts'
import { MeasuringPlane, OccupancyState, Phase, PlainDate, Unit, Uuid } from '../model/values.ts'
import { balance } from './balance.ts'
import { base, Command } from './base.ts'
import { budget } from './budgets.ts'
import { preview } from './criteria-preview.ts'
import { Failure } from './errors.ts'
import { imports } from './imports.ts'
import { Job } from './jobs.ts'
import { acceptMisfit } from './misfits.ts'
import { recalculation } from './recalculation.ts'

export { Command } from './base.ts'
export { Job } from './jobs.ts'

// ---- files -------------------------------------------------------------------------------------------------------------

export const FileEntry = z.strictObject({
  name: z.string(),
  path: z.string(),
  kind: z.enum(['folder', 'backups', 'project', 'exchange', 'other']),
  modifiedAt: z.string().nullable(),
  bytes: z.number().nullable(),
})
export const OpenFile = z.strictObject({
  path: z.string(),
  name: z.string(),
  projectId: Uuid,
  readOnly: z.boolean(),
  readOnlyBecause: Sentence.nullable(),
  notices: z.array(Sentence).describe('recovered after a crash, migrated from an older step, and the like'),
  lastView: z.string().nullable().describe('address within the page where this file was left'),
  lastPersonId: Uuid.nullable(),
})
export const Reopened = z
  .strictObject({ path: z.string(), name: z.string(), failure: Failure.nullable().describe('null: it is open again') })
  .describe('the project that was open when the program last ended, and what became of it at this start; until the page has told it')
export const FilesState = z.strictObject({
  host: z.enum(['desktop', 'browser', 'headless']),
  version: z.string(),
  open: OpenFile.nullable(),
  reopened: Reopened.nullable(),
  recent: z.array(z.strictObject({ path: z.string(), name: z.string(), openedAt: z.string(), missing: z.boolean() })),
  roots: z.array(z.strictObject({ name: z.string(), path: z.string() })),
  theme: z.enum(['system', 'light', 'dark']),
  language: z.string(),
})

const files = {
  state: base.output(FilesState),
  browse: base
    .input(z.strictObject({ path: z.string().nullable() }))
    .output(z.strictObject({ path: z.string(), parent: z.string().nullable(), entries: z.array(FileEntry) })),
  makeFolder: base.input(z.strictObject({ parent: z.string(), name: z.string() })).output(z.strictObject({ path: z.string() })),
  create: base.input(z.strictObject({ path: z.string(), project: Project, person: Person })).output(OpenFile),
  open: base.input(z.strictObject({ path: z.string(), readOnly: z.boolean().default(false) })).output(OpenFile),
  openDemo: base.output(OpenFile),
  saveCopy: base.input(z.strictObject({ path: z.string() })).output(z.strictObject({ path: z.string(), bytes: z.number() })),
  close: base.output(z.null()),
  forgetRecent: base.input(z.strictObject({ path: z.string() })).output(z.null()),
  exportExchange: base.input(z.strictObject({ path: z.string() })).output(z.strictObject({ path: z.string(), bytes: z.number() })),
  importExchange: base
    .input(z.strictObject({ exchangePath: z.string(), path: z.string().describe('where the new project file goes') }))
    .output(OpenFile),
  settings: base
    .input(
      z.strictObject({
        theme: z.enum(['system', 'light', 'dark']).optional(),
        language: z.string().optional(),
        view: z.string().optional(),
        personId: Uuid.optional(),
        reopenedTold: z.literal(true).optional().describe('the person has been told what was reopened'),
      }),
    )
    .output(z.null()),
}

// ---- entities ----------------------------------------------------------------------------------------------------------

const change = <K extends EntityKind>(kind: K) =>
  z.strictObject({
    kind: z.literal(kind),
    id: Uuid.describe('made by the page for a new one'),
    parentId: Uuid.nullable(),
    revision: z.number().int().nullable().describe('the revision this change was made on; null creates'),
    body: ENTITY_SCHEMAS[kind].nullable().describe('null removes'),
  })

/** Kinds that a page edits directly; runs have commands of their own. */
export const EntityChange = z.discriminatedUnion('kind', [
  change('project'),
  change('person'),
  change('facility'),
  change('room'),
  change('zone'),
  change('terminal'),
  change('filter_element'),
  change('door'),
  change('air_system'),
  change('instrument'),
  change('calibration'),
  change('criteria_set'),
  change('import_mapping'),
  change('certification'),
])
export type EntityChange = z.infer<typeof EntityChange>

const entities = {
  list: base
    .input(
      z.strictObject({
        kinds: z.array(EntityKind).min(1),
        within: Uuid.nullable().describe('an ancestor, or null for all'),
        removed: z.boolean().default(false),
      }),
    )
    .output(z.array(AnyEntity)),
  revisions: base
    .input(z.strictObject({ id: Uuid }))
    .output(z.array(z.strictObject({ entity: AnyEntity, at: z.string(), personId: Uuid, reason: z.string() }))),
  change: base
    .input(z.strictObject({ command: Command, name: CommandName, scope: z.string(), changes: z.array(EntityChange).min(1) }))
    .output(z.array(AnyEntity)),
}

const commands = {
  undo: base
    .input(z.strictObject({ command: Command, scope: z.string() }))
    .output(z.strictObject({ undone: CommandName, commandId: Uuid })),
  redo: base
    .input(z.strictObject({ command: Command, scope: z.string() }))
    .output(z.strictObject({ redone: CommandName, commandId: Uuid })),
  state: base
    .input(z.strictObject({ personId: Uuid, scope: z.string() }))
    .output(z.strictObject({ undo: CommandName.nullable(), redo: CommandName.nullable() })),
}

// ---- certifications, runs, readings --------------------------------------------------------------------------------------

const certifications = {
  /** Starts a visit from an earlier one: rooms in use carry over. */
  startFrom: base
    .input(
      z.strictObject({
        command: Command,
        id: Uuid,
        previousId: Uuid.nullable(),
        name: Certification.shape.name,
        startsOn: PlainDate,
        endsOn: PlainDate,
        purpose: Certification.shape.purpose,
        why: Certification.shape.why,
        roomIds: z.array(Uuid),
      }),
    )
    .output(AnyEntity),
  remaining: base.input(z.strictObject({ certificationId: Uuid })).output(
    z.strictObject({
      filters: z.number(),
      readings: z.number(),
      minutes: z.number(),
      rooms: z.array(z.strictObject({ roomId: Uuid, filters: z.number(), readings: z.number() })),
    }),
  ),
}

export const RunDetail = z.strictObject({
  run: AnyEntity,
  pins: z
    .array(AnyEntity)
    .describe(
      'room, zones, terminals, filter elements, criteria set, instruments, calibrations at the revisions this run uses; until it is signed also later calibrations, which may release what was read past due',
    ),
  stale: z.array(Uuid).describe('pinned entities that have a newer revision now, and calibrations not pinned that would cover readings'),
  locations: z.array(Location),
  readings: z.array(Reading),
  signatures: z.array(Signature).describe('in the order of signing'),
})

const runs = {
  list: base.input(z.strictObject({ certificationId: Uuid })).output(z.array(AnyEntity)),
  get: base.input(z.strictObject({ runId: Uuid })).output(RunDetail),
  start: base
    .input(
      z.strictObject({
        command: Command,
        id: Uuid,
        certificationId: Uuid,
        roomId: Uuid,
        zoneId: Uuid.nullable(),
        method: MethodId,
        phase: Phase,
        plane: MeasuringPlane,
        occupancyState: OccupancyState,
        operatingState: OperatingState,
        facingDegrees: Run.shape.facingDegrees,
        unit: Unit,
        averagingTimeS: z.number().positive(),
        samplesPerPoint: z.number().int().min(1).max(20),
        planeGrid: Run.shape.planeGrid,
        otherUnits: Run.shape.otherUnits,
      }),
    )
    .output(RunDetail),
  setGrid: base
    .input(
      z.strictObject({
        command: Command,
        runId: Uuid,
        revision: z.number().int(),
        terminalIds: z.array(Uuid).min(1),
        rows: z.number().int().min(1).max(40),
        columns: z.number().int().min(1).max(40),
      }),
    )
    .output(RunDetail),
  readCautions: base
    .input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int(), cautions: z.array(z.string()) }))
    .output(AnyEntity),
  edit: base
    .input(
      z.strictObject({
        command: Command,
        runId: Uuid,
        revision: z.number().int(),
        set: z.strictObject({
          unit: Unit.optional(),
          averagingTimeS: z.number().positive().optional(),
          operatingState: OperatingState.optional(),
          conditions: Conditions.optional(),
          instrumentConditions: Conditions.nullable().optional(),
          otherUnits: z.strictObject({ flow: Unit, pressure: Unit }).nullable().optional(),
          doorPressures: z.array(DoorPressure).optional(),
          planeGrid: Run.shape.planeGrid.unwrap().optional(),
          acceptedMisfits: z.array(AcceptedMisfit).optional(),
          carried: Run.shape.carried.unwrap().optional(),
          missing: z.array(MissingReason).optional(),
          note: z.string().max(4000).optional(),
        }),
      }),
    )
    .output(AnyEntity),
  acceptMisfit,
  refresh: base.input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int() })).output(RunDetail),
  complete: base.input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int() })).output(AnyEntity),
  reopen: base.input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int() })).output(AnyEntity),
  sign: base
    .input(z.strictObject({ command: Command, runId: Uuid, revision: z.number().int(), meaning: SignatureMeaning }))
    .output(AnyEntity),
}

const readings = {
  record: base
    .input(
      z.strictObject({
        command: Command,
        runId: Uuid,
        instrumentId: Uuid,
        entries: z
          .array(
            z.strictObject({
              point: z.number().int().positive(),
              sample: z.number().int().positive(),
              typed: z.string().min(1).max(40),
              unit: Unit,
              replaces: ReadingId.nullable().describe('the reading the page saw at this point; a different one there is a conflict'),
              note: z.string().max(1000).default(''),
            }),
          )
          .min(1)
          .max(5000),
      }),
    )
    .output(z.array(Reading)),
  void: base.input(z.strictObject({ command: Command, runId: Uuid, readingIds: z.array(ReadingId).min(1) })).output(z.array(Reading)),
}

// ---- what the numbers say ------------------------------------------------------------------------------------------------

export const Overview = z.strictObject({
  certificationId: Uuid.nullable(),
  state: CertificationState.nullable(),
  notices: z.array(
    z.strictObject({
      kind: z.enum(['due', 'calibration', 'failed', 'replaced', 'info']),
      sentence: Sentence,
      roomId: Uuid.nullable(),
      entityId: Uuid.nullable(),
    }),
  ),
})

const evaluation = {
  overview: base.input(z.strictObject({ certificationId: Uuid.nullable().describe('null: the latest') })).output(Overview),
  certification: base.input(z.strictObject({ certificationId: Uuid })).output(CertificationState),
  room: base
    .input(z.strictObject({ certificationId: Uuid, roomId: Uuid }))
    .output(z.strictObject({ state: RoomState, results: z.array(RunResult) })),
  run: base.input(z.strictObject({ runId: Uuid })).output(RunResult),
  budget,
}

/** One room of a visit under the criteria that another visit was judged by. */
export const UnderOtherCriteria = z.strictObject({
  roomId: Uuid,
  label: z.string(),
  asJudged: Verdict,
  underOther: Verdict,
  changedCriteria: z.boolean().describe('false when both visits used the same criteria revisions'),
  headline: Sentence.describe('of the room under the other criteria'),
})
const compare = {
  certifications: base.input(z.strictObject({ thenId: Uuid, nowId: Uuid, roomId: Uuid.nullable() })).output(Comparison),
  history: base
    .input(z.strictObject({ subjectId: Uuid.describe('terminal or room'), quantity: z.enum(['face_velocity', 'flow', 'air_changes']) }))
    .output(History),
  /** "Would that visit have passed under the criteria of the other?": its current runs, computed again under them. */
  underOtherCriteria: base
    .input(z.strictObject({ certificationId: Uuid, criteriaFromId: Uuid, roomId: Uuid.nullable() }))
    .output(z.array(UnderOtherCriteria)),
}

const criteria = {
  /** The starting sets of domain.md as editable data; adopting one creates a criteria_set entity through entities.change. */
  starting: base.output(z.array(CriteriaSet)),
  preview,
}

// ---- trail, search, attachments, jobs, changes ---------------------------------------------------------------------------

const audit = {
  list: base
    .input(
      z.strictObject({
        about: Uuid.nullable().describe('entity or run; null for all'),
        before: z.strictObject({ segmentId: Uuid, number: z.number().int() }).nullable(),
        limit: z.number().int().min(1).max(500),
      }),
    )
    .output(z.strictObject({ entries: z.array(AuditEntry), more: z.boolean() })),
}

export const Found = z.strictObject({ kind: EntityKind, id: Uuid, parentId: Uuid.nullable(), label: z.string(), detail: z.string() })
const search = {
  find: base.input(z.strictObject({ text: z.string().max(100), limit: z.number().int().min(1).max(50) })).output(z.array(Found)),
}

export const Attachment = z.strictObject({
  id: Uuid,
  ownerId: Uuid,
  name: z.string(),
  mediaType: z.string(),
  bytes: z.number(),
  sha256: z.string(),
})
const attachments = {
  list: base.input(z.strictObject({ ownerId: Uuid })).output(z.array(Attachment)),
  add: base
    .input(
      z.strictObject({
        command: Command,
        id: Uuid,
        ownerId: Uuid,
        name: z.string().min(1).max(200),
        mediaType: z.string().max(100),
        contentBase64: z.base64().max(28_000_000).describe('at most about 20 MB of bytes'),
      }),
    )
    .output(Attachment),
  get: base.input(z.strictObject({ id: Uuid })).output(z.strictObject({ attachment: Attachment, contentBase64: z.base64() })),
}

/** What `check` found, in words; sound when every finding is one of kind ok. */
export const CheckFinding = z.strictObject({ kind: z.enum(['ok', 'problem', 'note']), sentence: Sentence })
const jobs = {
  startCheck: base.output(Job),
  startExport: base.input(z.strictObject({ path: z.string() })).output(Job),
  get: base.input(z.strictObject({ id: Uuid })).output(Job),
  cancel: base.input(z.strictObject({ id: Uuid })).output(Job),
}

export const ChangeEvent = z.discriminatedUnion('what', [
  z.strictObject({ what: z.literal('file') }),
  z.strictObject({ what: z.literal('entities'), kinds: z.array(EntityKind), ids: z.array(Uuid) }),
  z.strictObject({ what: z.literal('readings'), runId: Uuid }),
  z.strictObject({ what: z.literal('run'), runId: Uuid }),
  z.strictObject({ what: z.literal('job'), job: Job }),
])
const changes = { subscribe: base.output(eventIterator(ChangeEvent)) }

/** The one contract between the page and the project. Every host serves exactly this. */
export const contract = {
  files,
  entities,
  commands,
  certifications,
  runs,
  readings,
  imports,
  evaluation,
  compare,
  balance,
  recalculation,
  criteria,
  audit,
  search,
  attachments,
  jobs,
  changes,
}
export type Contract = typeof contract
