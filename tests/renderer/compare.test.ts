import { describe, expect, test } from 'vitest'
import { changeBetween } from '#core/history/compare.ts'
import type { ComparisonRow, History, HistoryPoint, Sentence } from '#core/model/results.ts'
import { changeBefore, seriesOf } from '#renderer/compare/history-series.ts'
import { barScalePercent, EVERY_ROW, filterRows, keyOf, sortedRows } from '#renderer/compare/row-filter.ts'
import { evidenceOf, weightOf } from '#renderer/compare/summary-evidence.ts'

const sentence = (code: string, params: Sentence['params'] = {}): Sentence => ({ code, params })

function row(label: string, patch: Partial<ComparisonRow> & { percent?: number | null } = {}): ComparisonRow {
  const { percent = 0, ...rest } = patch
  return {
    kind: 'filter',
    id: label,
    roomId: 'F-101',
    label,
    quantity: 'face_velocity',
    dimension: 'velocity',
    figure: changeBetween(0.5, percent === null ? null : 0.5 * (1 + percent / 100)),
    verdictThen: 'pass',
    verdictNow: 'pass',
    reasonNow: null,
    breaks: [],
    differsFromSigned: false,
    ...rest,
  }
}

const room = (label: string, patch: Partial<ComparisonRow> & { percent?: number | null } = {}) =>
  row(label, { kind: 'room', id: label, roomId: label, quantity: 'air_changes', dimension: 'air_change_rate', ...patch })

const rows = [
  room('P-202', { percent: -11, verdictNow: 'fail', roomId: 'P-202' }),
  row('P-202/01', { percent: -12, roomId: 'P-202' }),
  row('F-101/13', { percent: -8 }),
  row('F-101/18', { percent: 10.7, breaks: [sentence('break.element')] }),
  room('F-101', { percent: -2, breaks: [sentence('break.elements'), sentence('break.zone_criteria')] }),
  room('Q-303', { percent: null, verdictThen: 'fail', verdictNow: 'not_tested', breaks: [sentence('break.instrument')] }),
  row('Q-303/01', { percent: 1, verdictThen: 'not_valid', differsFromSigned: true, roomId: 'Q-303' }),
]
const labels = (found: readonly ComparisonRow[]) => found.map((one) => one.label)

describe('rows that are shown', () => {
  test('by kind, by text of any size, and by what happened to the verdict', () => {
    expect(labels(filterRows(rows, { ...EVERY_ROW, kind: 'room' }))).toEqual(['P-202', 'F-101', 'Q-303'])
    expect(labels(filterRows(rows, { ...EVERY_ROW, text: ' f-101/1' }))).toEqual(['F-101/13', 'F-101/18'])
    expect(labels(filterRows(rows, { ...EVERY_ROW, verdict: 'worse' }))).toEqual(['P-202'])
    // fail is the worst of all: not tested after fail reads better, and so does pass after not valid
    expect(labels(filterRows(rows, { ...EVERY_ROW, verdict: 'better' }))).toEqual(['Q-303', 'Q-303/01'])
    expect(labels(filterRows(rows, { ...EVERY_ROW, verdict: 'not_pass' }))).toEqual(['P-202', 'Q-303'])
    expect(labels(filterRows(rows, { ...EVERY_ROW, verdict: 'break' }))).toEqual(['F-101/18', 'F-101', 'Q-303'])
  })

  test('the rows of one line of the summary, and within them the other filters still hold', () => {
    const only = new Set(rows.slice(0, 2).map(keyOf))
    expect(labels(filterRows(rows, { ...EVERY_ROW, only }))).toEqual(['P-202', 'P-202/01'])
    expect(labels(filterRows(rows, { ...EVERY_ROW, only, kind: 'filter' }))).toEqual(['P-202/01'])
  })

  test('what got worst keeps the order of the comparison; by figure, what has none comes last either way', () => {
    expect(sortedRows(rows, 'worst', 'descending')).toBe(rows)
    expect(labels(sortedRows(rows, 'percent', 'ascending'))).toEqual([
      'P-202/01',
      'P-202',
      'F-101/13',
      'F-101',
      'Q-303/01',
      'F-101/18',
      'Q-303',
    ])
    expect(labels(sortedRows(rows, 'percent', 'descending')).at(-1)).toBe('Q-303')
    expect(labels(sortedRows(rows, 'place', 'ascending')).slice(0, 2)).toEqual(['F-101', 'F-101/13'])
  })

  test('the scale of the bars holds the largest change, is never finer than 5 % and never coarser than 60 %', () => {
    expect(barScalePercent(rows)).toBeCloseTo(12, 9)
    expect(barScalePercent([row('a', { percent: 0.4 })])).toBe(5)
    expect(barScalePercent([row('a', { percent: -95 })])).toBe(60)
    expect(barScalePercent([])).toBe(5)
  })
})

describe('the evidence of a line of the summary', () => {
  test('a room that fails brings itself and its filters', () => {
    expect(labels(evidenceOf(sentence('summary.fails', { room: 'P-202' }), rows))).toEqual(['P-202', 'P-202/01'])
    expect(evidenceOf(sentence('summary.fails', { room: 'X-1' }), rows)).toEqual([])
  })

  test('named filters, replaced filters, changed instruments, criteria and calculation', () => {
    expect(labels(evidenceOf(sentence('summary.loading', { tags: 'F-101/13, F-101/99' }), rows))).toEqual(['F-101/13'])
    expect(labels(evidenceOf(sentence('summary.replaced', { tags: 'F-101/18' }), rows))).toEqual(['F-101/18'])
    expect(labels(evidenceOf(sentence('summary.instruments'), rows))).toEqual(['Q-303'])
    expect(labels(evidenceOf(sentence('summary.criteria'), rows))).toEqual(['F-101'])
    expect(labels(evidenceOf(sentence('summary.unsettled'), rows))).toEqual(['Q-303'])
    expect(labels(evidenceOf(sentence('summary.calculation_changed'), rows))).toEqual(['Q-303/01'])
  })

  test('a line about nothing in particular, or of a newer program, has none and is still shown', () => {
    expect(evidenceOf(sentence('summary.nothing'), rows)).toEqual([])
    expect(evidenceOf(sentence('summary.something_new', { room: 'P-202' }), rows)).toEqual([])
    expect(weightOf('summary.something_new')).toBe('know')
  })
})

function point(year: number, value: number | null, broken: Sentence[] = []): HistoryPoint {
  return {
    certificationId: `c${year}`,
    runId: `r${year}`,
    on: `${year}-07-01`,
    label: `Certification ${year}`,
    phase: 'as_found',
    value,
    expandedUncertainty: value === null ? null : 0.02,
    low: 0.36,
    high: 0.54,
    verdict: 'pass',
    overall: 'pass',
    broken,
  }
}

function historyOf(points: HistoryPoint[]): History {
  return { subjectId: 's', label: 'F-101/18', quantity: 'face_velocity', dimension: 'velocity', points }
}

describe('a history as it is drawn', () => {
  const history = historyOf([
    point(2023, 0.47),
    point(2024, null),
    point(2025, 0.43, [sentence('break.criteria')]),
    point(2026, 0.48, [sentence('break.element'), sentence('break.criteria')]),
  ])

  test('a replaced filter begins a new piece; other criteria move the limits alone', () => {
    const series = seriesOf(history, (si) => si * 100)
    expect(series.pieces).toEqual(['piece0', 'piece1'])
    expect(series.breaks.map(({ x }) => x)).toEqual([3])
    expect(series.data.map(({ values }) => Object.keys(values))).toEqual([['piece0'], ['piece0'], ['piece0'], ['piece1']])
    expect(series.data[3]).toMatchObject({ low: 36, high: 54, values: { piece1: 48 } })
    expect(series.data[1]?.values.piece0).toBeNull()
  })

  test('the change is counted from the last run that has a figure', () => {
    // (0.43 - 0.47) / 0.47 = -8.5106 %, (0.48 - 0.43) / 0.43 = 11.6279 %
    expect(changeBefore(history.points, 0)).toBeNull()
    expect(changeBefore(history.points, 1)).toBeNull()
    expect(changeBefore(history.points, 2)).toBeCloseTo(-8.5106, 4)
    expect(changeBefore(history.points, 3)).toBeCloseTo(11.6279, 4)
    expect(changeBefore([point(2023, 0), point(2024, 1)], 1)).toBeNull()
  })
})
