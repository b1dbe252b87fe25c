import { expect, test } from 'vitest'
import type { RoomInBalance } from '#core/api/balance.ts'
import { say } from '#core/messages/say.ts'
import type { DoorResult } from '#core/model/results.ts'
import { createFormatter } from '#core/units/format.ts'
import { doorLines } from '#renderer/balance/door-lines.ts'

const door = (doorId: string, more: Partial<DoorResult>): DoorResult => ({
  doorId,
  name: doorId,
  wantedPa: null,
  measuredPa: null,
  wanted: null,
  expected: null,
  measured: null,
  measuredAgainstWanted: 'cannot_tell',
  measuredAgainstBalance: 'cannot_tell',
  ...more,
})

function room(roomId: string, doors: DoorResult[]): RoomInBalance {
  const flows = {
    supplyM3ps: 0,
    returnM3ps: 0,
    exhaustM3ps: 0,
    recirculatedM3ps: 0,
    transferInM3ps: 0,
    transferOutM3ps: 0,
    toOutsideM3ps: 0,
  }
  const none = { offsetM3ps: null, offsetAtRoomM3ps: null, offsetPercentOfSupply: null, unaccountedM3ps: null }
  const about = { roomId, facilityId: 'house', number: roomId, name: '', runId: null, phase: null, basis: null, gap: null, missing: [] }
  return { ...about, ...flows, ...none, doors }
}

test('doors that nothing is asked of stay out, and those that go the wrong way come first', () => {
  const rooms = [
    room('A', [
      door('quiet', { expected: 'positive' }),
      door('good', { wanted: 'positive', measured: 'positive', measuredAgainstWanted: 'agrees' }),
    ]),
    room('B', [
      door('odd', { measured: 'negative', measuredAgainstBalance: 'disagrees' }),
      door('wrong', { wanted: 'positive', measured: 'negative', measuredAgainstWanted: 'disagrees' }),
    ]),
  ]
  expect(doorLines({ rooms }).map((line) => line.door.doorId)).toEqual(['wrong', 'odd', 'good'])
})

test('a direction is told in words with its pressure, and the missing terminals by tag', () => {
  const formatter = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')
  const words = (code: string, params: Record<string, unknown>) => say('en', formatter, code, params)
  expect(words('balance.sign', { of: { sign: 'negative' }, pa: -12.5 })).toMatch(/^air comes in, −12\.5\sPa$/)
  expect(words('balance.sign', { of: { sign: null }, pa: null })).toBe('—')
  expect(words('balance.gap', { gap: 'terminals_missing', missing: ['R-1', 'X-2'] })).toBe('no flow yet of R-1, X-2')
})
