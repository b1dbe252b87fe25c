/*
 * The second evaluator reads the full exchange form by itself: it shares no code with Facegrid. Types name only what it looks at.
 */
export type Typed = { readonly typed: string; readonly unit: string }
export type TerminalBody = {
  readonly tag: string
  readonly kind: string
  readonly zoneId: string | null
  readonly grossWidth: Typed
  readonly grossDepth: Typed
  readonly effectiveArea: Typed
  readonly face: string
  readonly airSource: string
  readonly designVelocity: Typed | null
  readonly designFlow: Typed | null
  readonly measuredBy: string | null
  readonly duct: { readonly section: { readonly width: Typed; readonly height: Typed }; readonly pitotCoefficient: number } | null
  readonly flowElement: {
    readonly coefficient: number
    readonly boreDiameter: Typed
    readonly ductDiameter: Typed
    readonly expansibility: number
    readonly uncertaintyPercent: number | null
  } | null
}
export type Criterion = {
  readonly key: string
  readonly quantity: string
  readonly scope: string
  readonly form: {
    readonly kind: string
    readonly percent?: number
    readonly low?: { readonly value: Typed }
    readonly high?: { readonly value: Typed }
  }
  readonly plane: string
}
export type Settings = {
  readonly coverage: { readonly levelPercent: number }
  readonly areaPercent: number
  readonly volumePercent: number
  readonly hoodFactorPercent: number
  readonly flowElementPercent: number
  readonly traverseRulePercent: number
  readonly temperatureK: number
  readonly pressurePa: number
  readonly relativeHumidityPercent: number
}
export type Bodies = {
  facility: { readonly altitudeM: number }
  room: {
    readonly shape: {
      readonly kind: string
      readonly width?: number
      readonly depth?: number
      readonly points?: readonly { x: number; y: number }[]
    }
    readonly ceilingHeight: Typed
    readonly designAirChangesPerHour: number | null
    readonly requiredAirChangesPerHour: number | null
    readonly designVelocity: Typed | null
    readonly criteriaSetId: string
  }
  zone: { readonly designVelocity: Typed | null; readonly criteriaSetId: string }
  terminal: TerminalBody
  filter_element: { readonly model: string }
  criteria_set: {
    readonly criteria: readonly Criterion[]
    readonly decisionRule: { readonly kind: string; readonly multiple?: number }
    readonly uncertainty: Settings
  }
  instrument: {
    readonly basis: string
    readonly standardCondition: { readonly temperature: Typed; readonly pressure: Typed } | null
    readonly correctsByPoints: boolean
    readonly hoodFactors: readonly { face: string; low: Typed; high: Typed; factor: number; uncertaintyPercent: number }[]
    readonly senses: readonly {
      quantity: string
      resolution: Typed
      accuracy: { percentOfReading: number; absolute: Typed }
    }[]
  }
  calibration: {
    readonly calibratedOn: string
    readonly points: readonly { quantity: string; reading: Typed; trueValue: Typed; expandedUncertainty: Typed; coverageFactor: number }[]
    readonly uncertainty: readonly { quantity: string; expandedPercentOfReading: number; expandedAbsolute: Typed; coverageFactor: number }[]
    readonly drift: readonly { quantity: string; halfWidth: Typed }[]
  }
  door: object
  run: {
    readonly roomId: string
    readonly zoneId: string | null
    readonly method: string
    readonly conditions: { readonly temperature: Typed; readonly relativeHumidity: Typed; readonly pressure: Typed | null }
    readonly carried: readonly { terminalIds: readonly string[]; fromRunId: string }[]
  }
}
export type Kind = keyof Bodies
export type Pinned<K extends Kind> = { readonly id: string; readonly parentId: string | null; readonly body: Bodies[K] }
export type Reading = {
  point: number
  sample: number
  quantity: string
  typed: string
  unit: string
  instrumentId: string
  at: string
  runId: string
  voided: object | null
}
type Point = { number: number; terminalId: string | null; retired: boolean }
type Entity = { kind: string; id: string; parentId: string | null; revisions: readonly { body: Bodies[Kind] | null }[] }
type Full = {
  entities: readonly Entity[]
  runs: readonly { runId: string; pins: readonly { id: string; revision: number }[]; points: readonly Point[] }[]
  readings: readonly Reading[]
}

// NIST SP 811, appendix B: exact factors, written here a second time.
const TO_SI: { readonly [unit: string]: number } = {
  'm/s': 1,
  'ft/min': 0.00508,
  'm3/h': 1 / 3600,
  m: 1,
  mm: 0.001,
  m2: 1,
  Pa: 1,
  hPa: 100,
  kPa: 1000,
  degC: 1,
  '%': 1,
}

/** What was typed, in SI. The demo types points, never commas. */
export function si({ typed, unit }: Typed): number {
  const factor = TO_SI[unit]
  if (factor === undefined || Number.isNaN(Number(typed))) throw new Error(`The second evaluator cannot read ${typed} ${unit}.`)
  return Number(typed) * factor
}

export type RunInForm = {
  readonly body: Bodies['run']
  readonly of: <K extends Kind>(kind: K) => readonly Pinned<K>[]
  readonly points: readonly Point[]
  readonly readings: readonly Reading[]
}

/** Looks a run up in the form: the revisions it pinned, its points in order, its readings that were not voided. */
export function openForm(text: string): (runId: string) => RunInForm {
  const full = JSON.parse(text) as Full
  const entities = new Map(full.entities.map((entity) => [entity.id, entity]))
  const rows = new Map(full.runs.map((row) => [row.runId, row]))
  const readings = new Map<string, Reading[]>()
  for (const reading of full.readings) {
    if (reading.voided !== null) continue
    const own = readings.get(reading.runId) ?? []
    own.push(reading)
    readings.set(reading.runId, own)
  }
  return (runId) => {
    const row = rows.get(runId)
    const run = entities.get(runId)?.revisions.at(-1)?.body
    if (!row || !run) throw new Error(`The form has no run ${runId}.`)
    return {
      body: run as Bodies['run'],
      points: row.points.filter(({ retired }) => !retired).sort((a, b) => a.number - b.number),
      readings: readings.get(runId) ?? [],
      of: <K extends Kind>(kind: K) =>
        row.pins.flatMap(({ id, revision }): Pinned<K>[] => {
          const entity = entities.get(id)
          if (entity?.kind !== kind) return []
          // The kind was just compared; the form is trusted here, its schema is proven elsewhere.
          return [{ id, parentId: entity.parentId, body: entity.revisions[revision - 1]?.body as Bodies[K] }]
        }),
    }
  }
}
