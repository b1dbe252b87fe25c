import { expect, test } from 'vitest'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { CriterionResult, FilterResult, RunResult } from '#core/model/results.ts'
import type { Terminal } from '#core/model/terminals.ts'
import { roomQuestions, speedAnswer, speedFilters, type TerminalOfRun } from '#core/rooms/what-if-of-run.ts'

const limit = (more: Partial<CriterionResult>): CriterionResult => ({
  key: 'air_changes',
  title: 'Air changes',
  quantity: 'air_changes',
  scope: 'room',
  subjectId: 'room',
  point: null,
  dimension: 'air_change_rate',
  unit: '1/h',
  value: 26.64,
  low: 30,
  high: null,
  margin: -3.36,
  expandedUncertainty: null,
  coverageFactor: null,
  guardBand: null,
  basis: 'actual',
  verdict: 'fail',
  would: null,
  alert: null,
  reason: { code: 'reason.fail', params: {} },
  source: '',
  ...more,
})
const velocity = limit({ key: 'velocity', quantity: 'face_velocity', scope: 'filter', dimension: 'velocity', low: 0.36, high: 0.54 })

/** Flow as indicated; actual air is a tenth more. */
function filter(
  tag: string,
  indicatedM3ps: number | null,
  more: Partial<Terminal> = {},
): { result: FilterResult; terminal: TerminalOfRun } {
  const on = (factor: number) => ({
    flowM3ps: indicatedM3ps === null ? null : indicatedM3ps * factor,
    meanVelocityMps: indicatedM3ps === null ? null : (indicatedM3ps * factor) / 0.6,
  })
  const result: Partial<FilterResult> = {
    terminalId: tag,
    tag,
    direction: 'supply',
    closed: false,
    byBasis: { as_indicated: on(1), standard: null, actual: on(1.1) },
    designFlowM3ps: 0.27,
    criteria: [velocity],
  }
  const body: Partial<Terminal> = { ...LATER_FIELDS.terminal, tag, kind: 'supply_filter', airSource: 'air_handler', closed: null, ...more }
  // Only what the question looks at is made.
  return { result: { ...result, ...on(1.1) } as FilterResult, terminal: { id: tag, body: body as Terminal } }
}

function run(parts: readonly ReturnType<typeof filter>[], roomCriteria: CriterionResult[]) {
  const room = { volumeM3: 100, basis: 'actual' } as RunResult['room']
  return { run: { filters: parts.map(({ result }) => result), room, roomCriteria }, terminals: parts.map(({ terminal }) => terminal) }
}

test('the limit is turned into a flow on the basis of its criterion, and the filter that lacks most is the answer', () => {
  // 30 per hour in 100 m3 are 0.83333 m3/s; actual air is 1.1 x (0.25 + 0.22 + 0.20) = 0.737, so 0.09633 are lacking.
  const { run: result, terminals } = run([filter('a', 0.25), filter('b', 0.22), filter('c', 0.2)], [limit({})])
  const [question] = roomQuestions(result, terminals)
  expect(question).toMatchObject({ side: 'at_least', limit: 30, basis: 'actual', missing: [] })
  expect(question?.answer?.changeM3ps).toBeCloseTo(0.83333 - 0.737, 5)
  const [best] = question?.answer?.remedies ?? []
  expect(best).toMatchObject({ terminalId: 'c', hindrance: null })
  expect(best?.toM3ps).toBeCloseTo(0.22 + 0.09633, 5)
})

test('a room that passes lacks nothing, and is told the flow that its limit stands for', () => {
  // 25 per hour and a guard band of 1 in 100 m3 are 26 x 100 / 3600 = 0.72222 m3/s; actual air is 0.737.
  const passing = limit({ low: 25, guardBand: 1, verdict: 'pass' })
  const { run: result, terminals } = run([filter('a', 0.25), filter('b', 0.22), filter('c', 0.2)], [passing])
  const [question] = roomQuestions(result, terminals)
  expect(question?.limit).toBeCloseTo(26, 9)
  expect(question?.answer).toMatchObject({ changeM3ps: 0, remedies: [] })
  expect(question?.answer?.targetM3ps).toBeCloseTo(0.72222, 5)
})

test('a guard band moves the limit, and a filter that would leave its own band says so', () => {
  const parts = [filter('a', 0.25), filter('b', 0.22), filter('c', 0.2)]
  const { run: result, terminals } = run(parts, [limit({ guardBand: 1 })])
  const [question] = roomQuestions(result, terminals)
  expect(question?.limit).toBe(31)
  // c would have to give 0.344111 m3/s, 0.5735 m/s: over 0.54.
  expect(question?.answer?.remedies.find(({ terminalId }) => terminalId === 'c')?.hindrance).toBe('above_velocity_limit')
})

test('a filter that would leave its own limit on flow is no answer either', () => {
  // +/-15 % of 0.27 m3/s end at 0.3105 m3/s; the third would have to give 0.3163.
  const flow = limit({ key: 'flow', quantity: 'flow', scope: 'filter', dimension: 'flow', low: 0.2295, high: 0.3105 })
  const parts = [filter('a', 0.25), filter('b', 0.22), filter('c', 0.2)].map(({ result, terminal }) => ({
    result: { ...result, criteria: [...result.criteria, flow] },
    terminal,
  }))
  const { run: result, terminals } = run(parts, [limit({})])
  expect(roomQuestions(result, terminals)[0]?.answer?.remedies.find(({ terminalId }) => terminalId === 'c')?.hindrance).toBe(
    'above_velocity_limit',
  )
})

test('a limit on the air of the air handler looks at its filters alone', () => {
  const parts = [filter('a', 0.25), filter('fan', 0.5, { kind: 'fan_filter_unit', airSource: 'recirculated' })]
  const { run: result, terminals } = run(parts, [limit({ key: 'outside', quantity: 'outside_air_changes', low: 15, value: 9.9 })])
  const [question] = roomQuestions(result, terminals)
  expect(question?.answer?.supplyM3ps).toBeCloseTo(0.275, 12)
  expect(question?.answer?.remedies.map(({ terminalId }) => terminalId)).toEqual(['a'])
})

test('a filter without a flow leaves the question open and is named; a limit that is no matter of supply asks nothing', () => {
  const { run: result, terminals } = run(
    [filter('a', 0.25), filter('b', null)],
    [limit({}), limit({ quantity: 'air_offset', dimension: 'flow' })],
  )
  const questions = roomQuestions(result, terminals)
  expect(questions).toHaveLength(1)
  expect(questions[0]).toMatchObject({ answer: null, missing: ['b'] })
  expect(speedAnswer(result, terminals, new Set(), 1.1)).toBeNull()
})

test('a duct that counts in the room stands for the filters behind it', () => {
  const duct = { direction: 'supply', countsInRoom: true } as NonNullable<Terminal['duct']>
  const parts = [filter('a', 0.25), filter('duct', 0.3, { kind: 'duct_section', duct })]
  const { run: result, terminals } = run(parts, [limit({})])
  expect(roomQuestions(result, terminals)[0]?.answer?.remedies.map(({ terminalId }) => terminalId)).toEqual(['duct'])
})

test('a duct stands for the filters on its own air system, and one of another can still be raised', () => {
  const duct = { direction: 'supply', countsInRoom: true } as NonNullable<Terminal['duct']>
  const parts = [
    filter('a', 0.25, { airSystemId: 'one' }),
    filter('b', 0.2, { airSystemId: 'two' }),
    filter('duct', 0.3, { kind: 'duct_section', duct, airSystemId: 'one' }),
  ]
  const { run: result, terminals } = run(parts, [limit({})])
  const answer = roomQuestions(result, terminals)[0]?.answer
  expect(answer?.supplyM3ps).toBeCloseTo(1.1 * 0.5, 12)
  expect(answer?.remedies.map(({ terminalId }) => terminalId).sort()).toEqual(['b', 'duct'])
})

test('a speed change over the fans moves the fans alone and names who leaves the band', () => {
  const fan = { kind: 'fan_filter_unit', airSource: 'recirculated' } as const
  const { run: result, terminals } = run([filter('a', 0.25), filter('f1', 0.25, fan), filter('f2', 0.28, fan)], [limit({ value: 30.9 })])
  expect(speedFilters(result, terminals).filter(({ isFan }) => isFan)).toHaveLength(2)
  const answer = speedAnswer(result, terminals, new Set(['f1', 'f2']), 1.1)
  expect(answer?.change.supplyBeforeM3ps).toBeCloseTo(1.1 * 0.78, 12)
  expect(answer?.change.supplyAfterM3ps).toBeCloseTo(1.1 * (0.25 + 1.1 * 0.53), 12)
  expect(answer?.airChangesAfter).toBeCloseTo(36 * 1.1 * 0.833, 10)
  // f2: 1.1 x 0.28 x 1.1 / 0.6 = 0.5647 m/s, over 0.54; f1: 0.5042 m/s.
  expect([...(answer?.outsideLimits ?? [])]).toEqual(['f2'])
  const [toLimit] = answer?.ratioForLimit ?? []
  expect(toLimit?.ratio).toBeCloseTo((30 / 36 - 0.275) / (1.1 * 0.53), 12)
})
