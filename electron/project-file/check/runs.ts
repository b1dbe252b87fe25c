import type { Database } from 'better-sqlite3'
import type { AuditChange, LayoutPoint } from '#core/model/audit.ts'
import { Location } from '#core/model/readings.ts'
import type { ProjectFile } from '../project-file.ts'
import { createRunStore } from '../runs.ts'
import { uuidText } from '../uuid-bytes.ts'
import type { Findings } from './findings.ts'

type PinChange = Extract<AuditChange, { what: 'pin' }>
type LayoutChange = Extract<AuditChange, { what: 'layout' }>

/** What the trail says of one point, as flags in one number, for points are many: in use now, its place was told, found to differ. */
const IN_USE = 1
const PLACED = 2
const TOLD = 4

const FIELDS = Object.keys(Location.shape) as (keyof Location)[]

/** Replays what the trail says of each run's pins and points, and holds the rows against it, in both directions. */
export class RunCheck {
  readonly #db: Database
  readonly #findings: Findings
  readonly #store
  readonly #rowIds: ReadonlyMap<string, number>
  readonly #entities: ReadonlyMap<number, { readonly id: string; readonly kind: string }>
  readonly #pins = new Map<number, Map<number, number>>()
  /** by run, then by the number of the point */
  readonly #points = new Map<number, (number | undefined)[]>()

  constructor(file: ProjectFile, findings: Findings) {
    this.#db = file.db
    this.#findings = findings
    this.#store = createRunStore(file)
    const rows = file.db.prepare<[], [number, Buffer, string]>('SELECT id, uuid, kind FROM entity').raw().all()
    this.#rowIds = new Map(rows.map(([rowId, uuid]) => [uuidText(uuid), rowId]))
    this.#entities = new Map(rows.map(([rowId, uuid, kind]) => [rowId, { id: uuidText(uuid), kind }]))
  }

  pinned({ runId, entityId, revisionAfter }: PinChange): void {
    const [run, entity] = [this.#rowIds.get(runId), this.#rowIds.get(entityId)]
    // Something that is not there at all is told as a lost revision.
    if (run === undefined || entity === undefined) return
    const pins = this.#pins.get(run) ?? new Map<number, number>()
    this.#pins.set(run, pins)
    if (revisionAfter === null) pins.delete(entity)
    else pins.set(entity, revisionAfter)
  }

  laidOut({ runId, before, after }: LayoutChange): void {
    const run = this.#rowIds.get(runId)
    if (run === undefined) return
    const known = this.#points.get(run) ?? []
    this.#points.set(run, known)
    const stored = new Map(this.#store.everyLocation(run).map(({ location }) => [location.number, location]))
    const replay = (point: LayoutPoint, use: number) => {
      const earlier = known[point.number] ?? 0
      const row = stored.get(point.number)
      const differing = row && !(earlier & TOLD) ? differingFields(row, point) : []
      if (differing.length > 0) {
        this.#findings.problem('check.point_differs', { runId, point: point.number, fields: differing.join(', ') })
      }
      known[point.number] = (earlier & (PLACED | TOLD)) | use | (isPlaced(point) ? PLACED : 0) | (differing.length > 0 ? TOLD : 0)
    }
    for (const point of before) replay(point, 0)
    for (const point of after) replay(point, IN_USE)
  }

  /** After the whole trail: exactly the pins and points that it leaves, and none else. */
  finish(): void {
    this.#finishPins()
    this.#finishPoints()
  }

  #finishPins(): void {
    const problems = this.#findings.problems
    const runs = new Set<number>()
    let pins = 0
    const rows = this.#db.prepare<[], [number, number, number]>('SELECT run_id, entity_id, revision FROM run_pin').raw()
    for (const [run, entity, stored] of rows.iterate()) {
      pins += 1
      runs.add(run)
      const recorded = this.#pins.get(run)?.get(entity)
      this.#pins.get(run)?.delete(entity)
      if (recorded === undefined) this.#findings.problem('check.pin_unaudited', { ...this.#pin(run, entity), revision: stored })
      else if (recorded !== stored) this.#findings.problem('check.pin_differs', { ...this.#pin(run, entity), stored, recorded })
    }
    for (const [run, lost] of this.#pins) {
      for (const [entity, revision] of lost) this.#findings.problem('check.pin_lost', { ...this.#pin(run, entity), revision })
    }
    if (this.#findings.problems === problems) this.#findings.ok('check.pins_ok', { pins, runs: runs.size })
  }

  #finishPoints(): void {
    let [sound, points, byNumber] = [true, 0, 0]
    const tell = (code: 'check.point_unaudited' | 'check.point_use_differs' | 'check.point_lost', run: number, point: number) => {
      sound = false
      this.#findings.problem(code, { runId: this.#entities.get(run)?.id ?? String(run), point })
    }
    const rows = this.#db.prepare<[], [number, number, number]>('SELECT run_id, number, retired FROM location').raw()
    for (const [run, point, retired] of rows.iterate()) {
      const known = this.#points.get(run)
      const state = known?.[point]
      if (known === undefined || state === undefined) {
        tell('check.point_unaudited', run, point)
        continue
      }
      known[point] = undefined
      points += 1
      if (!(state & PLACED)) byNumber += 1
      if (state & TOLD) sound = false
      if ((state & IN_USE) === retired) tell('check.point_use_differs', run, point)
    }
    for (const [run, lost] of this.#points) {
      for (const [point, state] of lost.entries()) if (state !== undefined) tell('check.point_lost', run, point)
    }
    if (sound) this.#findings.ok('check.points_ok', { points, runs: this.#points.size })
    if (byNumber > 0) this.#findings.note('check.points_by_number', { points: byNumber })
  }

  #pin(run: number, entity: number): { runId: string; kind: string; id: string } {
    return { runId: this.#entities.get(run)?.id ?? String(run), ...(this.#entities.get(entity) ?? { kind: 'item', id: String(entity) }) }
  }
}

/** Whether the trail says where the point lies. Entries of format 1 say its number alone. */
function isPlaced(point: LayoutPoint): point is Location {
  return 'kind' in point
}

function differingFields(stored: Location, recorded: LayoutPoint): string[] {
  return isPlaced(recorded) ? FIELDS.filter((field) => stored[field] !== recorded[field]).map((field) => NAMES[field]) : []
}

const NAMES: Readonly<Record<keyof Location, string>> = {
  number: 'number',
  kind: 'kind',
  terminalId: 'filter',
  row: 'row',
  column: 'column',
  offsetXM: 'place across',
  offsetYM: 'place along',
  cellAreaM2: 'area',
}
