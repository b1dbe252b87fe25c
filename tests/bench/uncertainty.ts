import { copyFileSync, rmSync } from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { computeFaceVelocityGrid } from '#core/methods/airflow/face-velocity-grid.ts'
import type { RunInput } from '#core/methods/method.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { aCalibration, aCriterion, entered, faceRun, INSTRUMENT_ID } from '../core/face-run.ts'
import { median } from './disk.ts'
import { emptyCache, timed } from './evaluating.ts'
import type { LargeProject } from './large-project.ts'

const ROUNDS = 9
const WARM_UP = 4
const ROOMS = 50
const FILTERS = 100
const POINTS = 9

const SENSES: EntityBody<'instrument'>['senses'] = [
  {
    quantity: 'velocity',
    low: entered(0.05, 'm/s'),
    high: entered(30, 'm/s'),
    resolution: entered(0.01, 'm/s'),
    accuracy: { form: 'greater_of', percentOfReading: 3, absolute: entered(0.015, 'm/s') },
  },
]

function velocity(room: number, filter: number, point: number): number {
  return 0.42 + 0.06 * Math.sin(1 + room * 7.3 + filter * 3.1 + point * 1.7)
}

function site(states: boolean): RunInput[] {
  return Array.from({ length: ROOMS }, (_room, room) =>
    faceRun({
      filters: Array.from({ length: FILTERS }, (_filter, filter) => ({
        readings: Array.from({ length: POINTS }, (_point, point) => ({
          si: velocity(room, filter, point),
          instrumentId: INSTRUMENT_ID,
        })),
        terminal: { designVelocity: entered(0.45, 'm/s') },
      })),
      criteria: [
        aCriterion({ key: 'mean', quantity: 'face_velocity', scope: 'filter', form: { kind: 'within_percent_of_design', percent: 20 } }),
        aCriterion({ key: 'zone', quantity: 'face_velocity', scope: 'zone', form: { kind: 'within_percent_of_design', percent: 20 } }),
        aCriterion({ key: 'spread', quantity: 'velocity_spread', scope: 'zone', form: { kind: 'spread_at_most', percent: 15 } }),
        aCriterion({
          key: 'points',
          quantity: 'face_velocity',
          scope: 'point',
          form: { kind: 'each_within_percent_of_mean', percent: 20, of: 'zone' },
        }),
      ],
      instrument: states ? { senses: SENSES } : {},
      calibrations: [
        aCalibration(
          states
            ? {
                uncertainty: [
                  { quantity: 'velocity', expandedPercentOfReading: 1.5, expandedAbsolute: entered(0.004, 'm/s'), coverageFactor: 2 },
                ],
              }
            : {},
        ),
      ],
    }),
  )
}

/**
 * Calculating 5,000 filters x 9 points with uncertainties, against the same where nothing states how wrong the instrument may be, so that
 * no uncertainty is given. The calculation alone, without reading the file: what uncertainty adds weighs most here.
 */
export function benchCalculation(): { withMs: number; withoutMs: number } {
  const inputs = { with: site(true), without: site(false) }
  const times = { with: [] as number[], without: [] as number[] }
  for (let round = 0; round < 15; round += 1) {
    for (const kind of ['with', 'without'] as const) {
      const start = performance.now()
      for (const input of inputs[kind]) computeFaceVelocityGrid(input)
      if (round >= 5) times[kind].push(performance.now() - start)
    }
  }
  return { withMs: median(times.with), withoutMs: median(times.without) }
}

/**
 * Evaluating one certification of the large project from file to verdicts, cache emptied, against a copy of it in which nothing states how
 * wrong the instrument may be.
 */
export async function benchWithUncertainty(project: LargeProject): Promise<{ wholeWithMs: number; wholeWithoutMs: number }> {
  const certificationId = project.certificationIds.at(-1)
  if (!certificationId) throw new Error('A certification is needed.')
  const unstated = path.join(path.dirname(project.path), 'unstated.facegrid')
  copyFileSync(project.path, unstated)
  try {
    forgetAccuracy(unstated)
    const times = { with: [] as number[], without: [] as number[] }
    const sides = [
      { file: project.path, states: true, into: times.with },
      { file: unstated, states: false, into: times.without },
    ]
    for (let round = 0; round < WARM_UP + ROUNDS; round += 1) {
      // Each side comes first in turn; the first rounds warm the program up and do not count.
      for (const { file, states, into } of round % 2 === 0 ? sides : sides.toReversed()) {
        const elapsed = await evaluated(file, certificationId, states)
        if (round >= WARM_UP) into.push(elapsed)
      }
    }
    return { wholeWithMs: median(times.with), wholeWithoutMs: median(times.without) }
  } finally {
    rmSync(unstated, { force: true })
  }
}

async function evaluated(file: string, certificationId: string, states: boolean): Promise<number> {
  emptyCache(file)
  const elapsed = await timed(file, async (api) => void (await api.evaluation.certification({ certificationId })))
  await timed(file, async (api) => {
    const { rooms } = await api.evaluation.certification({ certificationId })
    const runId = rooms[0]?.runs[0]?.runId
    if (!runId || isSure(await api.evaluation.run({ runId })) !== states) throw new Error('Uncertainties are not as this bench needs them.')
  })
  return elapsed
}

function isSure(result: { filters: readonly { uncertainty: unknown }[] }): boolean {
  return result.filters.every(({ uncertainty }) => uncertainty !== null)
}

/** A project never lets a revision be changed; this copy is no project but a yardstick, and has its guards back when it is done. */
function forgetAccuracy(file: string): void {
  const db = new Database(file)
  const guards = db
    .prepare<[], { name: string; sql: string }>(
      "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'entity_revision'",
    )
    .all()
  for (const { name } of guards) db.exec(`DROP TRIGGER ${name}`)
  db.exec(
    `UPDATE entity_revision SET body = json_set(body, '$.senses[0].accuracy', NULL)
     WHERE entity_id IN (SELECT id FROM entity WHERE kind = 'instrument')`,
  )
  for (const { sql } of guards) db.exec(sql)
  db.close()
}
