import { describe, expect, test } from 'vitest'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Reading } from '#core/model/readings.ts'
import { inputOfFilter } from '#renderer/readings/live-input.ts'
import type { Answer } from '#renderer/readings/outbox.ts'
import type { Outgoing } from '#renderer/readings/outgoing.ts'
import { createRunDesk, type RunDesk } from '#renderer/readings/run-desk.ts'
import type { RunDetail } from '#renderer/readings/run-plan.ts'
import { eventOfKey } from '#renderer/readings/typing.ts'
import { understand } from '#renderer/readings/understand.ts'
import { INSTRUMENT, PERSON, planOf, RUN, runDetail, uuid } from './run-fixture.ts'

/** A project that stores readings as the contract says: a correction voids and replaces, undo takes the last record back. */
function project(detail: RunDetail) {
  let readings: Reading[] = []
  const history: Reading[][] = []
  const answer = (item: Outgoing): Answer => {
    if (item.kind === 'redo') return { kind: 'refused', sentence: { code: 'error.nothing_to_redo', params: {} } }
    if (item.kind === 'undo') {
      readings = history.pop() ?? readings
      return { kind: 'done', readings: [] }
    }
    history.push(readings)
    const made = item.entries.map((entry, index): Reading => {
      const old = readings.find((reading) => reading.point === entry.point && reading.sample === entry.sample && !reading.voided)
      if ((old?.id ?? null) !== (entry.replaces?.by === 'reading' ? entry.replaces.id : null)) throw new Error(`conflict at ${entry.point}`)
      const id = `${RUN}:${readings.length + index + 1}`
      if (old) {
        const voided = { at: item.at, personId: item.personId, reason: item.reason, replacedBy: id }
        readings = readings.map((reading) => (reading === old ? { ...reading, voided } : reading))
      }
      const { point, sample, typed, unit, si, note } = entry
      const { instrumentId, personId, at } = item
      return {
        id,
        point,
        sample,
        quantity: 'velocity',
        si,
        typed,
        unit,
        basis: 'as_indicated',
        instrumentId,
        personId,
        at,
        flags: [],
        note,
        voided: null,
      }
    })
    readings = [...readings, ...made]
    return { kind: 'done', readings: made }
  }
  return { answer, readings: () => readings, detail }
}

function bench(filters: number, options: { run?: Parameters<typeof runDetail>[1]; hold?: boolean } = {}) {
  const detail = runDetail(filters, options.run)
  const plan = planOf(detail)
  const p = project(detail)
  let commands = 0
  let release: (() => void)[] = []
  const instrument = plan.instruments[0] ?? null
  const desk: RunDesk = createRunDesk(
    plan,
    [],
    {
      signature: () => {
        commands += 1
        return {
          commandId: uuid(5000 + commands),
          personId: PERSON,
          instrumentId: INSTRUMENT,
          at: `2026-03-02T08:${String(10 + commands)}:00.000Z`,
        }
      },
      understand: (text) => understand(text, plan, { quantity: 'velocity', unit: plan.run.body.unit, carriedTag: null }, instrument, true),
      send: async (item) => {
        if (options.hold) await new Promise<void>((resolve) => release.push(resolve))
        return p.answer(item)
      },
      reload: () => void desk.reloaded(plan, p.readings(), desk.answers()),
      acknowledged: () => undefined,
      shelf: { load: () => [], save: () => undefined },
      wait: () => () => undefined,
    },
    null,
  )
  return {
    desk,
    plan,
    project: p,
    number: (text: string) => {
      for (const key of [...text, 'Enter']) {
        const event = eventOfKey(key)
        if (event) desk.type(event)
      }
    },
    settle: async () => {
      for (let i = 0; i < 60; i += 1) await Promise.resolve()
    },
    letThrough: async () => {
      for (const pass of release) pass()
      release = []
      for (let i = 0; i < 60; i += 1) await Promise.resolve()
    },
  }
}

const NINE = ['0.46', '0.44', '0.45', '0,47', '0.43', '0.46', '0.45', '0.44', '0.48']

describe('a run on the bench', () => {
  test('nine numbers and nine Enters fill a nine-point filter as typed, and the next filter is there', async () => {
    const b = bench(2)
    for (const text of NINE) b.number(text)
    await b.settle()
    expect(b.project.readings().map((reading) => reading.typed)).toEqual(NINE)
    expect(b.project.readings().map((reading) => reading.point)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9])
    expect(b.desk.typing().at).toEqual({ point: 10, sample: 1 })
    expect(b.desk.view(uuid(1))).toMatchObject({ filled: 9, places: 9, unsaved: 0 })
  })

  test('a number shows where it was typed before the project has answered, and says that it is not saved yet', async () => {
    const b = bench(1, { hold: true })
    b.number('0.46')
    b.number('0.44')
    await b.settle()
    expect(b.desk.at({ point: 1, sample: 1 })).toMatchObject({ typed: '0.46', saved: 'saving' })
    expect(b.desk.at({ point: 2, sample: 1 })).toMatchObject({ typed: '0.44', saved: 'waiting' })
    await b.letThrough()
    expect(b.desk.at({ point: 1, sample: 1 })?.saved).toBe('saved')
    await b.letThrough()
    expect(b.desk.at({ point: 2, sample: 1 })?.saved).toBe('saved')
  })

  test('undo twice leads back to the point before the last two, and retyping goes on from there', async () => {
    const b = bench(1)
    for (const text of ['0.46', '0.44', '0.45']) b.number(text)
    await b.settle()
    b.desk.undo()
    b.desk.undo()
    await b.settle()
    expect(b.desk.typing().at).toEqual({ point: 2, sample: 1 })
    expect(b.desk.at({ point: 3, sample: 1 })).toBeNull()
    b.number('0.41')
    b.number('0.42')
    await b.settle()
    expect(b.project.readings().map((reading) => [reading.point, reading.typed])).toEqual([
      [1, '0.46'],
      [2, '0.41'],
      [3, '0.42'],
    ])
  })

  test('what was never sent is taken back without a trace, and comes again with redo', async () => {
    const b = bench(1, { hold: true })
    b.number('0.46')
    b.number('0.44')
    await b.settle()
    b.desk.undo()
    expect(b.desk.at({ point: 2, sample: 1 })).toBeNull()
    expect(b.desk.typing().at).toEqual({ point: 2, sample: 1 })
    b.desk.redo()
    expect(b.desk.at({ point: 2, sample: 1 })?.typed).toBe('0.44')
    await b.letThrough()
    await b.letThrough()
    expect(b.project.readings().map((reading) => reading.typed)).toEqual(['0.46', '0.44'])
  })

  test('a correction voids the reading it replaces, keeps it in sight, and the person returns to where he was', async () => {
    const b = bench(1)
    for (const text of ['0.46', '0.44', '0.45']) b.number(text)
    await b.settle()
    b.desk.type({ kind: 'go', to: { point: 1, sample: 1 } })
    b.number('0.49')
    await b.settle()
    expect(b.desk.stored(1).map((reading) => [reading.typed, reading.voided !== null])).toEqual([
      ['0.46', true],
      ['0.49', false],
    ])
    expect(b.desk.typing().at).toEqual({ point: 4, sample: 1 })
  })

  test('a correction right behind the first reading, both still on their way, is no conflict', async () => {
    const b = bench(1, { hold: true })
    b.number('0.46')
    b.desk.type({ kind: 'go', to: { point: 1, sample: 1 } })
    b.number('0.49')
    await b.settle()
    await b.letThrough()
    await b.letThrough()
    expect(b.project.readings().map((reading) => [reading.typed, reading.voided !== null])).toEqual([
      ['0.46', true],
      ['0.49', false],
    ])
  })

  test('a note goes with the number that is typed next, and a stored reading takes one by being recorded again', async () => {
    const b = bench(1)
    b.desk.note({ point: 1, sample: 1 }, 'damper?', 'Note added')
    b.number('0.31')
    await b.settle()
    b.desk.note({ point: 1, sample: 1 }, 'damper half shut', 'Note added')
    await b.settle()
    expect(b.project.readings().map((reading) => [reading.typed, reading.note, reading.voided?.reason ?? null])).toEqual([
      ['0.31', 'damper?', 'Note added'],
      ['0.31', 'damper half shut', null],
    ])
  })

  test('readings asked for before a number was saved, and answered after it, do not take it off the screen again', async () => {
    const b = bench(1)
    b.number('0.46')
    await b.settle()
    const [before, seen] = [b.project.readings(), b.desk.answers()]
    for (const text of NINE.slice(1)) b.number(text)
    await b.settle()
    expect(b.desk.reloaded(b.plan, before, seen)).toBe(true)
    expect(b.desk.view(uuid(1))).toMatchObject({ filled: 9, places: 9, unsaved: 0 })
    expect(b.desk.at({ point: 9, sample: 1 })).toMatchObject({ typed: '0.48', saved: 'saved' })
  })

  test('a number that was taken back stays off the screen when older readings arrive late', async () => {
    const b = bench(1)
    const [before, seen] = [b.project.readings(), b.desk.answers()]
    b.number('0.46')
    b.number('0.44')
    await b.settle()
    b.desk.undo()
    await b.settle()
    expect(b.desk.at({ point: 2, sample: 1 })).toBeNull()
    expect(b.desk.reloaded(b.plan, before, seen)).toBe(false)
    expect(b.desk.at({ point: 1, sample: 1 })?.typed).toBe('0.46')
    expect(b.desk.at({ point: 2, sample: 1 })).toBeNull()
  })

  test('a filter passed over with a reason is not offered', async () => {
    const b = bench(3, { run: { missing: [{ terminalIds: [uuid(2)], cause: 'inaccessible', note: '' }] } })
    for (const text of NINE) b.number(text)
    await b.settle()
    expect(b.desk.typing().at).toEqual({ point: 19, sample: 1 })
  })

  test('a complete run takes no number and says why', () => {
    const b = bench(1, { run: { state: 'complete' } })
    b.number('0.46')
    expect(b.desk.typing().problem?.code).toBe('readings.run_not_open')
    expect(b.desk.outbox().items).toEqual([])
  })

  test('a filter that nothing happened to keeps its view, so that it is not drawn again', async () => {
    const b = bench(2)
    const other = b.desk.view(uuid(2))
    const own = b.desk.view(uuid(1))
    b.number('0.46')
    await b.settle()
    expect(b.desk.view(uuid(2))).toBe(other)
    expect(b.desk.view(uuid(1))).not.toBe(own)
  })
})

test('the figures worked out on the screen for one filter are those of the whole run', async () => {
  const b = bench(2)
  for (const text of [...NINE, '0.30', '0.52', '0.41']) b.number(text)
  await b.settle()
  const method = methodOf('face_velocity_grid')
  for (const terminalId of [uuid(1), uuid(2)]) {
    const view = b.desk.view(terminalId)
    if (!view) throw new Error('no such filter')
    const input = inputOfFilter(b.plan, view, 'Europe/Vienna', null)
    const alone = method.compute(input).filters[0]
    const whole = method
      .compute({
        ...input,
        terminals: b.plan.terminals,
        locations: b.project.detail.locations,
        values: b.project
          .readings()
          .map(({ point, sample, si, flags, instrumentId }) => ({ point, sample, si, flags, instrumentId, localDate: '2026-03-02' })),
      })
      .filters.find((filter) => filter.terminalId === terminalId)
    expect(alone).toEqual(whole)
  }
  // By hand: (0.46+0.44+0.45+0.47+0.43+0.46+0.45+0.44+0.48)/9 = 4.08/9 = 0.45333 m/s; flow 0.45333 x 0.3 m2 = 0.136 m3/s.
  const view = b.desk.view(uuid(1))
  if (!view) throw new Error('no such filter')
  const figures = method.compute(inputOfFilter(b.plan, view, 'Europe/Vienna', null)).filters[0]
  expect(figures?.meanVelocityMps).toBeCloseTo(4.08 / 9, 12)
  expect(figures?.flowM3ps).toBeCloseTo(0.136, 12)
})
