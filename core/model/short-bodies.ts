import type { z } from 'zod'
import { lastDayOfMonth } from '#core/planning/dates.ts'
import { parseEntered } from '#core/units/parse.ts'
import { toSi, toSiDifference } from '#core/units/units.ts'
import { ENTITY_SCHEMAS, type EntityKind } from './entities.ts'
import { Unit } from './values.ts'

/** Fields that a hand-written body may leave out, with the neutral value that is taken then. */
export const NEUTRAL: { readonly [K in EntityKind]: Readonly<Record<string, unknown>> } = {
  project: {
    organisation: '',
    note: '',
    display: { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
  },
  person: { role: 'technician', organisation: '', active: true },
  facility: { address: '', northDegrees: 0, altitudeM: null, note: '' },
  room: {
    name: '',
    statedVolume: null,
    designAirChangesPerHour: null,
    requiredAirChangesPerHour: null,
    designVelocity: null,
    criteriaSetId: null,
    overrides: [],
    hazards: [],
    inUse: true,
    note: '',
  },
  zone: { designVelocity: null, criteriaSetId: null, overrides: [], note: '' },
  terminal: {
    zoneId: null,
    rotationDegrees: 0,
    mounting: 'ceiling',
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: null,
    correctionFactor: null,
    grid: null,
    closed: null,
    note: '',
  },
  filter_element: { model: '', removedOn: null, note: '' },
  air_system: { designSupply: null, designReturn: null, designExhaust: null, note: '' },
  door: { name: '', rotationDegrees: 0, leastPressureDifference: null, note: '' },
  instrument: { reportsReverseFlow: false, averagingTimeS: null, basis: 'as_indicated', active: true, note: '' },
  calibration: { laboratory: '', range: null, foundInTolerance: null, release: null, note: '' },
  criteria_set: { decisionRule: { kind: 'simple' }, comparison: 'absolute', note: '' },
  import_mapping: { decimal: null, unit: null, quantity: null, timeFormat: '', note: '' },
  certification: { why: '', personIds: [], roomIds: [], previousId: null, finished: false },
  run: {},
}

export type BodyProblem = { readonly path: readonly (string | number)[]; readonly detail: string }

/**
 * A hand-written body as the schema of its kind wants it: neutral fields added, the SI value of every entered value computed from
 * its text and unit. Answers the body, or every problem with its path within the body.
 */
export function completeBody<K extends EntityKind>(
  kind: K,
  written: Readonly<Record<string, unknown>>,
): { ok: true; body: unknown } | { ok: false; problems: BodyProblem[] } {
  const problems: BodyProblem[] = []
  const filled = fillIn({ ...NEUTRAL[kind], ...written, ...wholeMonth(kind, written) }, [], problems)
  if (problems.length > 0) return { ok: false, problems }
  const parsed = ENTITY_SCHEMAS[kind].safeParse(filled)
  if (parsed.success) return { ok: true, body: parsed.data }
  return {
    ok: false,
    problems: parsed.error.issues.map((issue) => ({
      path: issue.path.map((part) => (typeof part === 'number' ? part : String(part))),
      detail: issue.message,
    })),
  }
}

/** Hand-written parts of a run, such as its conditions, with the SI value of every entered value; or every problem with its path. */
export function completeParts<T>(
  schema: z.ZodType<T>,
  written: unknown,
): { ok: true; parts: T } | { ok: false; problems: readonly BodyProblem[] } {
  const problems: BodyProblem[] = []
  const filled = fillIn(written, [], problems)
  if (problems.length > 0) return { ok: false, problems }
  const parsed = schema.safeParse(filled)
  if (parsed.success) return { ok: true, parts: parsed.data }
  return { ok: false, problems: parsed.error.issues.map((issue) => ({ path: issue.path.map(String), detail: issue.message })) }
}

/** A due date that names a month alone stands for the last day of it, as on many certificates (the house's rule A3, common practice). */
function wholeMonth(kind: EntityKind, { dueOn }: Readonly<Record<string, unknown>>): { dueOn?: string } {
  const isMonth = kind === 'calibration' && typeof dueOn === 'string' && /^\d{4}-(?:0[1-9]|1[0-2])$/.test(dueOn)
  return isMonth ? { dueOn: lastDayOfMonth(dueOn) } : {}
}

function fillIn(value: unknown, path: readonly (string | number)[], problems: BodyProblem[]): unknown {
  if (Array.isArray(value)) return value.map((item, index) => fillIn(item, [...path, index], problems))
  if (typeof value !== 'object' || value === null) return value
  if ('typed' in value && 'unit' in value && !('si' in value)) return withSi(value, path, problems)
  return Object.fromEntries(Object.entries(value).map(([name, item]) => [name, fillIn(item, [...path, name], problems)]))
}

/** Fields that hold a difference: a step, a half width, an uncertainty. */
const DIFFERENCES: ReadonlySet<string | number> = new Set([
  'resolution',
  'absolute',
  'expandedUncertainty',
  'expandedAbsolute',
  'halfWidth',
])

function withSi(value: { typed: unknown; unit: unknown }, path: readonly (string | number)[], problems: BodyProblem[]): unknown {
  const unit = Unit.safeParse(value.unit)
  if (!unit.success || typeof value.typed !== 'string') return value
  const as = DIFFERENCES.has(path.at(-1) ?? '') ? 'difference' : 'value'
  // A plain decimal number is never ambiguous in a data file.
  if (/^-?\d+(\.\d+)?$/.test(value.typed))
    return { ...value, si: (as === 'difference' ? toSiDifference : toSi)(Number(value.typed), unit.data) }
  const parsed = parseEntered(value.typed, unit.data, { as })
  if (parsed.ok) return parsed.value
  problems.push({ path: [...path, 'typed'], detail: `"${value.typed}" cannot be read as a number with a unit` })
  return value
}
