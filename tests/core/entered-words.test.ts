import { expect, test } from 'vitest'
import { enteredRange, enteredWords } from '#core/messages/en/entered-words.ts'
import { say } from '#core/messages/say.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { createFormatter } from '#core/units/format.ts'

const value = (typed: string, unit: Unit): Entered => ({ si: Number.parseFloat(typed), typed, unit })
const METRIC = { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' } as const

// Minus U+2212 and en dash U+2013 as the SI brochure and common typography have them; a dash between signed numbers stands free.
test('a typed value reads with a minus, whatever key was used, and with its unit', () => {
  expect(enteredWords(value('-0.030', 'inH2O'))).toBe('\u22120.030\u00a0inH\u2082O')
  expect(enteredWords(value('\u221210', 'degC'))).toBe('\u221210\u00a0\u00b0C')
  expect(enteredWords(value('92 fpm', 'ft/min'))).toBe('92 fpm')
})

test('a range names its unit once, and no dash stands beside a minus', () => {
  expect(enteredRange(value('0.05', 'm/s'), value('5', 'm/s'))).toBe('0.05\u20135\u00a0m/s')
  expect(enteredRange(value('-2500', 'Pa'), value('2500', 'Pa'))).toBe('\u22122500 \u2013 2500\u00a0Pa')
  expect(enteredRange(value('10 fpm', 'ft/min'), value('5', 'm/s'))).toBe('10 fpm \u2013 5\u00a0m/s')
})

test('bare numbers follow the decimal sign of the reader', () => {
  const german = createFormatter(METRIC, 'de-DE', 'Europe/Vienna')
  expect(german.decimal(2.046, 2)).toBe('2,05')
  expect(german.significant(1.5, 6)).toBe('1,5')
  expect(german.significant(0.0123456, 4)).toBe('0,01235')
  expect(german.decimal(-0.4, 1)).toBe('\u22120,4')
  expect(german.decimal(Number.NaN, 1)).toBe('\u2014')
})

test('a fall of air changes is held against the uncertainty of both figures', () => {
  const english = createFormatter(METRIC, 'en-US', 'Europe/Vienna')
  const told = (expanded: { before: number; now: number } | null) =>
    say('en', english, 'summary.air_changes_fell', {
      room: 'P-202',
      figure: { thenPerHour: 21.3, nowPerHour: 18.8, percent: 11.7, expanded },
    })
  // 21.3 - 18.8 = 2.5 per hour; the root of 0.81^2 + 0.78^2 is 1.1245
  expect(told({ before: 0.81, now: 0.78 })).toBe(
    'P-202: air changes fell by 11.7 %, from 21.3\u00a0/h to 18.8\u00a0/h: more than the uncertainty of the two explains (1.1\u00a0/h).',
  )
  // The root of 1.9^2 + 1.8^2 is 2.617, more than 2.5: but what both visits share is in both and cancels, and so the fall is not explained away.
  expect(told({ before: 1.9, now: 1.8 })).toBe(
    'P-202: air changes fell by 11.7 %, from 21.3\u00a0/h to 18.8\u00a0/h: a change to look into, U was 1.9\u00a0/h and is 1.8\u00a0/h; errors that both visits share cancel in it.',
  )
  expect(told(null)).toBe('P-202: air changes fell by 11.7 %, from 21.3\u00a0/h to 18.8\u00a0/h.')
})
