import { expect, test } from 'vitest'
import { createCourier, unsentByRun } from '#renderer/readings/courier.ts'
import type { Answer } from '#renderer/readings/outbox.ts'
import { createShelf } from '#renderer/readings/shelf.ts'
import { storage } from './kept-storage.ts'
import { RUN, record, uuid } from './outgoing-record.ts'

const refused = { ...record(1, 1, '0.45'), refused: { code: 'error.read_only', params: {} } }

/** A line that is down until it is mended; everything that reached the project, in order. */
function line() {
  let up = false
  const reached: string[] = []
  const waiting: (() => void)[] = []
  return {
    reached,
    mend: () => {
      up = true
      for (const then of waiting.splice(0)) then()
    },
    send: async (_run: string, item: { commandId: string }): Promise<Answer> => {
      if (!up) return { kind: 'unreachable', sentence: null }
      reached.push(item.commandId)
      return { kind: 'done', readings: [] }
    },
    wait: (_ms: number, then: () => void) => {
      waiting.push(then)
      return () => void waiting.splice(waiting.indexOf(then), 1)
    },
  }
}

const settled = () => new Promise((resolve) => setTimeout(resolve, 5))

test('what was typed before a run was left is told to the project when the line is back, and counted until then', async () => {
  const held = storage()
  const wire = line()
  createShelf(held, RUN).save([record(1, 1, '0.45'), record(2, 2, '0.45')])
  const courier = createCourier({ storage: held, send: wire.send, wait: wire.wait })
  expect(courier.shelved()).toEqual([RUN])
  courier.giveBack(RUN)
  await settled()
  expect(unsentByRun.get().get(RUN)).toEqual({ waiting: 2, refused: 0 })
  wire.mend()
  await settled()
  expect(wire.reached).toEqual([uuid(1), uuid(2)])
  expect(createShelf(held, RUN).load()).toEqual([])
  expect(unsentByRun.get().has(RUN)).toBe(false)
})

test('the screen of a run has its queue to itself, and one that was refused waits for its person', async () => {
  const held = storage()
  const wire = line()
  wire.mend()
  createShelf(held, RUN).save([refused])
  const courier = createCourier({ storage: held, send: wire.send, wait: wire.wait })
  courier.take(RUN)
  await settled()
  expect(unsentByRun.get().get(RUN)).toEqual({ waiting: 0, refused: 1 })
  courier.release(RUN)
  createShelf(held, RUN).save([refused, record(2, 2, '0.45')])
  courier.take(RUN)
  await settled()
  expect(wire.reached).toEqual([])
  courier.giveBack(RUN)
  await settled()
  expect(wire.reached).toEqual([uuid(2)])
  courier.rest()
  expect(unsentByRun.get().size).toBe(0)
  expect(createShelf(held, RUN).load()).toHaveLength(1)
})
