import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Reading } from '#core/model/readings.ts'
import { type Answer, createOutbox, type OutboxOptions } from '#renderer/readings/outbox.ts'
import type { Outgoing } from '#renderer/readings/outgoing.ts'
import { createShelf } from '#renderer/readings/shelf.ts'
import { storage } from './kept-storage.ts'
import { RUN, record, uuid } from './outgoing-record.ts'

/** A project that stores each command once, however often it comes, behind a line that can fail before or after the project heard. */
function project() {
  const stored = new Map<string, Reading[]>()
  const log: Reading[] = []
  const accept = (item: Outgoing): Reading[] => {
    const before = stored.get(item.commandId)
    if (before) return before
    const readings =
      item.kind !== 'record'
        ? []
        : item.entries.map((entry, index) => ({
            id: `${RUN}:${log.length + index + 1}`,
            point: entry.point,
            sample: entry.sample,
            quantity: 'velocity' as const,
            si: entry.si,
            typed: entry.typed,
            unit: entry.unit,
            basis: 'as_indicated' as const,
            instrumentId: item.instrumentId,
            personId: item.personId,
            at: item.at,
            flags: [],
            note: entry.note,
            voided: null,
          }))
    log.push(...readings)
    stored.set(item.commandId, readings)
    return readings
  }
  return { stored, log, accept }
}

/** Runs everything that waits, timers included, until nothing moves. */
function clockwork() {
  const waiting: (() => void)[] = []
  return {
    wait: (_ms: number, then: () => void) => {
      waiting.push(then)
      return () => {
        const index = waiting.indexOf(then)
        if (index >= 0) waiting.splice(index, 1)
      }
    },
    waiting,
    settle: async (timers = 50) => {
      for (let i = 0; i < 20; i += 1) await Promise.resolve()
      for (let i = 0; i < timers && waiting.length > 0; i += 1) {
        waiting.shift()?.()
        for (let j = 0; j < 20; j += 1) await Promise.resolve()
      }
    },
  }
}

function open(options: Partial<OutboxOptions> & Pick<OutboxOptions, 'send'>, held = storage()) {
  const clock = clockwork()
  const done: string[] = []
  const outbox = createOutbox({
    shelf: createShelf(held, RUN),
    wait: clock.wait,
    onDone: (item) => done.push(item.commandId),
    onChange: () => undefined,
    ...options,
  })
  return { outbox, clock, done, held }
}

describe('the queue of unsent readings', () => {
  test('sends in order, one at a time', async () => {
    const p = project()
    let flying = 0
    const { outbox, clock, done } = open({
      send: async (item) => {
        flying += 1
        expect(flying).toBe(1)
        await Promise.resolve()
        flying -= 1
        return { kind: 'done', readings: p.accept(item) }
      },
    })
    for (let n = 1; n <= 5; n += 1) outbox.add(record(n, n, '0.4'))
    await clock.settle()
    expect(done).toEqual([1, 2, 3, 4, 5].map(uuid))
    expect(outbox.state().items).toEqual([])
  })

  test('a dropped connection loses nothing, and a lost answer stores nothing twice', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom('ok', 'lost before', 'lost after', 'reload'), { maxLength: 30 }),
        fc.integer({ min: 1, max: 8 }),
        async (fates, count) => {
          const p = project()
          const held = storage()
          const queue = [...fates]
          const send = async (item: Outgoing): Promise<Answer> => {
            const fate = queue.shift() ?? 'ok'
            if (fate === 'lost before') return { kind: 'unreachable', sentence: null }
            const readings = p.accept(item)
            return fate === 'ok' ? { kind: 'done', readings } : { kind: 'unreachable', sentence: null }
          }
          let page = open({ send }, held)
          for (let n = 1; n <= count; n += 1) {
            page.outbox.add(record(n, n, `0.${n}`))
            if (fates[n] === 'reload') {
              page.outbox.close()
              page = open({ send }, held)
            }
            await page.clock.settle(1)
          }
          await page.clock.settle(200)
          expect(p.log.map((reading) => reading.point)).toEqual(Array.from({ length: count }, (_, index) => index + 1))
          expect(page.outbox.state().items).toEqual([])
          expect(createShelf(held, RUN).load()).toEqual([])
        },
      ),
    )
  })

  test('a reading stays on the shelf until the project has it', async () => {
    const { outbox, clock, held } = open({ send: async () => ({ kind: 'unreachable', sentence: null }) })
    outbox.add(record(1, 1, '0.46'))
    await clock.settle(3)
    expect(outbox.state().stalled?.tries).toBeGreaterThan(1)
    expect(createShelf(held, RUN).load()).toMatchObject([{ commandId: uuid(1), sent: true, entries: [{ typed: '0.46' }] }])
  })

  test('a correction of a reading that is still on its way replaces the right one', async () => {
    const p = project()
    const seen: Outgoing[] = []
    const { outbox, clock } = open({
      send: async (item) => {
        seen.push(item)
        return { kind: 'done', readings: p.accept(item) }
      },
    })
    outbox.add(record(1, 1, '0.46'))
    outbox.add(record(2, 1, '0.47', { by: 'command', id: uuid(1) }))
    await clock.settle()
    expect(seen[1]).toMatchObject({ entries: [{ replaces: { by: 'reading', id: `${RUN}:1` } }] })
  })

  test('what the project refuses is set aside with its sentence, the others go on, and a retry uses the same command', async () => {
    const p = project()
    let refusing = true
    const { outbox, clock, done } = open({
      send: async (item) =>
        refusing && item.commandId === uuid(1)
          ? { kind: 'refused', sentence: { code: 'error.test', params: {} } }
          : { kind: 'done', readings: p.accept(item) },
    })
    outbox.add(record(1, 1, '0.46'))
    outbox.add(record(2, 1, '0.47', { by: 'command', id: uuid(1) }))
    outbox.add(record(3, 2, '0.48'))
    await clock.settle()
    expect(done).toEqual([uuid(3)])
    expect(outbox.state().items.map((item) => item.refused?.code ?? null)).toEqual(['error.test', null])
    refusing = false
    outbox.retry(uuid(1))
    await clock.settle()
    expect(done).toEqual([uuid(3), uuid(1), uuid(2)])
  })

  test('giving up a refused reading lets what was to replace it go on in its place', async () => {
    const p = project()
    const seen: Outgoing[] = []
    const { outbox, clock } = open({
      send: async (item) => {
        seen.push(item)
        return item.commandId === uuid(1)
          ? { kind: 'refused', sentence: { code: 'error.test', params: {} } }
          : { kind: 'done', readings: p.accept(item) }
      },
    })
    outbox.add(record(1, 1, '0.46', { by: 'reading', id: `${RUN}:77` }))
    outbox.add(record(2, 1, '0.47', { by: 'command', id: uuid(1) }))
    await clock.settle()
    outbox.discard(uuid(1))
    await clock.settle()
    expect(seen.at(-1)).toMatchObject({ commandId: uuid(2), entries: [{ replaces: { by: 'reading', id: `${RUN}:77` } }] })
    expect(outbox.state().items).toEqual([])
  })

  test('only a reading that was never sent can be taken back', async () => {
    const { outbox, clock } = open({ send: () => new Promise<Answer>(() => undefined) })
    outbox.add(record(1, 1, '0.46'))
    outbox.add(record(2, 2, '0.47'))
    await clock.settle()
    expect(outbox.takeBack()?.commandId).toBe(uuid(2))
    expect(outbox.takeBack()).toBeNull()
  })
})

test('a shelf of another version is not taken for readings', () => {
  const held = storage()
  held.setItem(`facegrid.unsent.${RUN}`, '[{"kind":"record","entries":"?"}]')
  expect(createShelf(held, RUN).load()).toEqual([])
  held.setItem(`facegrid.unsent.${RUN}`, 'not json')
  expect(createShelf(held, RUN).load()).toEqual([])
})

test('the stand of a person survives a reload', () => {
  const held = storage()
  const stand = {
    at: { point: 4, sample: 1 },
    drafts: { '4:1': '0.4' },
    turns: 1,
    instrumentId: null,
    held: { velocity: uuid(1), flow: uuid(2) },
  } as const
  createShelf(held, RUN).saveStand(stand)
  expect(createShelf(held, RUN).loadStand()).toEqual(stand)
  // Earlier programs held one instrument, for velocities.
  held.setItem(`facegrid.stand.${RUN}`, JSON.stringify({ at: null, drafts: {}, turns: 0, instrumentId: uuid(1) }))
  expect(createShelf(held, RUN).loadStand()).toMatchObject({ instrumentId: uuid(1), held: {} })
})
