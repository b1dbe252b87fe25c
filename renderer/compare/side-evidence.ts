import { useQuery } from '@tanstack/react-query'
import type { Verdict } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Location, Reading } from '#core/model/readings.ts'
import type { ComparisonRow, FilterResult, RunResult, Sentence } from '#core/model/results.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { Uuid } from '#core/model/values.ts'
import { localDate } from '#core/planning/dates.ts'
import { orpc } from '../app/client.ts'
import { useProject, useSession } from '../app/session.tsx'

/** What stands behind one side of a comparison: the run that counts, and who measured it with what by which criteria. */
export type SideEvidence = {
  readonly run: RunResult
  /** where the run that counts is one as left: what was found before it */
  readonly asFound: AsFound | null
  readonly filter: FilterResult | null
  readonly terminal: Entity<'terminal'> | null
  readonly terminals: readonly Entity<'terminal'>[]
  readonly room: Entity<'room'> | null
  readonly locations: readonly Location[]
  readonly people: readonly string[]
  readonly instruments: readonly string[]
  readonly days: readonly string[]
  readonly criteriaSet: Entity<'criteria_set'> | null
}

export type AsFound = { readonly runId: Uuid; readonly verdict: Verdict; readonly value: number | null; readonly headline: Sentence | null }

const unique = <T>(values: readonly T[]): T[] => [...new Set(values)]

/** The evidence of a row in one visit; null while it is not there yet or was not measured. */
export function useSideEvidence(
  row: ComparisonRow,
  certificationId: Uuid,
): { evidence: SideEvidence | null; waiting: boolean; error: unknown } {
  const { people } = useSession()
  const { timeZone } = useProject().body
  const room = useQuery(orpc.evaluation.room.queryOptions({ input: { certificationId, roomId: row.roomId } }))
  const run = runOf(row, room.data?.results ?? [], new Set(room.data?.state.runs.filter((one) => one.current).map((one) => one.runId)))
  const detail = useQuery(orpc.runs.get.queryOptions({ input: { runId: run?.runId ?? '' }, enabled: run !== null }))
  const runs = useQuery(orpc.runs.list.queryOptions({ input: { certificationId } }))
  const waiting = room.isPending || runs.isPending || (run !== null && detail.isPending)
  const error = room.error ?? runs.error ?? detail.error
  if (!run || !detail.data) return { evidence: null, waiting, error }
  const { pins } = detail.data
  const locations = detail.data.locations.filter((location) => row.kind === 'room' || location.terminalId === row.id)
  const points = new Set(locations.map((location) => location.number))
  const readings = detail.data.readings.filter((reading: Reading) => reading.voided === null && points.has(reading.point))
  const instruments = new Map(pins.flatMap((pin) => (pin.kind === 'instrument' ? [[pin.id, pin.body] as const] : [])))
  const filter = run.filters.find((one) => one.terminalId === row.id) ?? null
  return {
    waiting,
    error,
    evidence: {
      run,
      asFound: asFoundOf(row, run, room.data?.results ?? [], methodsOf(runs.data ?? [])),
      filter,
      terminal: pins.filter((pin) => pin.kind === 'terminal').find((pin) => pin.id === row.id) ?? null,
      terminals: pins.filter((pin) => pin.kind === 'terminal'),
      room: pins.find((pin) => pin.kind === 'room') ?? null,
      locations,
      people: unique(readings.map((reading) => people.find((person) => person.id === reading.personId)?.body.name ?? reading.personId)),
      instruments: unique(readings.map((reading) => reading.instrumentId)).map((id) => {
        const body = instruments.get(id)
        return body ? `${body.name} (${body.serialNumber})` : id
      }),
      days: unique(readings.map((reading) => localDate(Date.parse(reading.at), timeZone))).sort(),
      criteriaSet: criteriaOf(row, run, pins),
    },
  }
}

/** Of the runs that count, the one that holds the row's subject. */
function runOf(row: ComparisonRow, results: readonly RunResult[], current: ReadonlySet<Uuid>): RunResult | null {
  const counting = results.filter((result) => current.has(result.runId))
  if (row.kind === 'room') return counting.find((result) => result.zoneId === null) ?? counting[0] ?? null
  return counting.find((result) => result.filters.some((filter) => filter.terminalId === row.id)) ?? null
}

function methodsOf(runs: readonly Entity[]): ReadonlyMap<Uuid, MethodId> {
  return new Map(runs.flatMap((run) => (run.kind === 'run' ? [[run.id, run.body.method] as const] : [])))
}

/** What the same method read before anything was adjusted; of a filter its own figure and verdict, of a room its run's, with the reason. */
function asFoundOf(
  row: ComparisonRow,
  run: RunResult,
  results: readonly RunResult[],
  methods: ReadonlyMap<Uuid, MethodId>,
): AsFound | null {
  if (run.phase !== 'as_left') return null
  const method = methods.get(run.runId)
  const found = results.findLast(
    ({ runId, phase, zoneId }) => phase === 'as_found' && methods.get(runId) === method && zoneId === run.zoneId,
  )
  if (!found) return null
  if (row.kind === 'room') return { runId: found.runId, verdict: found.verdict, value: figureOfRoom(row, found), headline: found.headline }
  const filter = found.filters.find((one) => one.terminalId === row.id)
  if (!filter) return null
  const value = row.quantity === 'face_velocity' ? filter.meanVelocityMps : filter.flowM3ps
  return { runId: found.runId, verdict: filter.verdict, value, headline: null }
}

function figureOfRoom({ quantity }: ComparisonRow, { room }: RunResult): number | null {
  if (quantity === 'air_changes') return room.airChangesPerHour
  return quantity === 'flow' ? room.supplyFlowM3ps : room.areaWeightedMeanVelocityMps
}

/** The set that judged the subject: a zone's own where the filter hangs over one that has it, else the room's. */
function criteriaOf(row: ComparisonRow, run: RunResult, pins: readonly Entity[]): Entity<'criteria_set'> | null {
  const zoneId = run.filters.find((filter) => filter.terminalId === row.id)?.zoneId
  const zone = pins.filter((pin) => pin.kind === 'zone').find((pin) => pin.id === zoneId)
  const setId = zone?.body.criteriaSetId ?? run.criteriaSetId
  return pins.filter((pin) => pin.kind === 'criteria_set').find((pin) => pin.id === setId) ?? null
}
