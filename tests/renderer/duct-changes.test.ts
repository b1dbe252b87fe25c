import { expect, test } from 'vitest'
import { checkBody } from '#core/model/rules.ts'
import type { Duct } from '#core/model/terminals.ts'
import { asBlock, depthSheet, freshDuct, freshFlowElement, withKind, withShape } from '#renderer/rooms/edit/duct-changes.ts'
import { freshTerminal } from '#renderer/rooms/edit/fresh-bodies.ts'
import { airSystemProblems, FRESH_SYSTEM } from '#renderer/site/air-system-form.ts'

const filter = freshTerminal('T-1', { x: 1, y: 1 }, null)

function sheetOf(duct: Duct) {
  const sheet = depthSheet(duct)
  if ('problem' in sheet) throw new Error(sheet.problem)
  return sheet
}

test('a terminal made a duct section gets a duct that may stand, and keeps what it had', () => {
  const section = withKind({ ...filter, note: 'above the ceiling' }, 'duct_section')
  expect(section).toMatchObject({ kind: 'duct_section', mounting: 'duct', note: 'above the ceiling', tag: 'T-1' })
  expect(checkBody('terminal', section)).toEqual([])
  const own = { ...freshDuct(filter), direction: 'exhaust' } as const
  expect(withKind({ ...filter, duct: own }, 'duct_section').duct).toEqual(own)
  expect(withKind(section, 'supply_filter').duct).toEqual(section.duct)
})

test('another shape brings a rule that belongs to it', () => {
  const duct = { ...freshDuct(filter), lines: 5, pointsPerLine: 5 }
  const round = withShape(duct, 'round')
  expect(round).toMatchObject({
    rule: 'log_linear',
    lines: null,
    pointsPerLine: null,
    section: { shape: 'round', diameter: filter.grossWidth },
  })
  expect(checkBody('terminal', { ...filter, duct: round })).toEqual([])
  expect(withShape(round, 'rectangle').rule).toBe('log_tchebycheff')
  expect(withShape({ ...duct, rule: 'equal_area' }, 'round').rule).toBe('equal_area')
  expect(checkBody('terminal', { ...filter, flowElement: freshFlowElement(filter.grossWidth) })).toEqual([])
})

test('depths are the shares of the rule times the size of the duct', () => {
  // Log-linear, six points on a diameter: 0.032, 0.135, 0.321, 0.679, 0.865, 0.968 (ASHRAE Handbook, Fundamentals, duct traverse; from memory).
  const diameter = { si: 0.4, typed: '400', unit: 'mm' } as const
  const round = sheetOf({ ...freshDuct(filter), rule: 'log_linear', section: { shape: 'round', diameter }, lines: 2, pointsPerLine: 6 })
  expect(round.points.map(({ depthM }) => Number((1000 * depthM).toFixed(1)))).toEqual([12.8, 54, 128.4, 271.6, 346, 387.2])
  expect(round.ports).toEqual([0, 90])
  expect(round.count).toBe(12)
})

test('numbers that the rule does not have are said, not laid out', () => {
  expect(depthSheet({ ...freshDuct(filter), lines: 3 })).toEqual({ problem: 'lines' })
  expect(depthSheet({ ...freshDuct(filter), rule: 'log_linear' })).toEqual({ problem: 'rule' })
})

test('a copied table is a block of tabs and lines', () => {
  expect(asBlock([['Point', 'Depth'], ['1', '13'], []])).toBe('Point\tDepth\n1\t13\n')
})

test('an air system needs a name of its own and flows above zero', () => {
  const fields = (problems: readonly { field: string }[]) => problems.map(({ field }) => field)
  expect(fields(airSystemProblems(FRESH_SYSTEM, []))).toEqual(['name'])
  expect(fields(airSystemProblems({ ...FRESH_SYSTEM, name: 'ahu 1' }, ['AHU 1']))).toEqual(['name'])
  const designSupply = { si: 0, typed: '0', unit: 'm3/h' } as const
  expect(fields(airSystemProblems({ ...FRESH_SYSTEM, name: 'AHU 1', designSupply }, []))).toEqual(['designSupply'])
  expect(airSystemProblems({ ...FRESH_SYSTEM, name: 'AHU 1' }, ['AHU 2'])).toEqual([])
})
