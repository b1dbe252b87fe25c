import { expect, test } from 'vitest'
import { toPseudo } from '#core/messages/pseudo.ts'
import { say } from '#core/messages/say.ts'
import { createFormatter } from '#core/units/format.ts'

const formatter = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')

test('words of the catalogue are accented, names stay as they were written', () => {
  expect(toPseudo('Tag F-1 is in Room a', { tag: 'F-1', nested: { name: 'Room' } })).toBe('Ţáĝ F-1 íš íñ Room á')
  expect(toPseudo('see this', {})).toBe('šéé ţĥíš')
})

test('parameters that a sentence looks up by (units, kinds) still work in the pseudo-language', () => {
  const params = { si: 4.6, unit: 'm/s', digits: 2, nearMps: 0.46, isDesign: false }
  expect(say('pseudo', formatter, 'question.decimal_slip', params)).toMatch(/^4\.60\u00a0m\/s\? Ţĥé óţĥéŕš ĺíé ñéáŕ 0\.46\.$/)
  const dates = { calibratedOn: '2026-03-02', dueOn: '2026-03-01' }
  expect(say('pseudo', formatter, 'rule.due_before_calibrated', dates)).toContain('Máŕ 1, 2026')
})
