import { describe, expect, it } from 'vitest'
import { AUDIT_FORMAT_VERSION } from '#core/model/audit.ts'
import { upcastEntry } from '#core/model/audit-upcast.ts'

type Body = Record<string, unknown>
const upcasters = new Map<number, (body: Body) => Body>([
  [1, ({ why, ...body }) => ({ ...body, formatVersion: 2, reason: why })],
  [2, (body) => ({ ...body, formatVersion: 3, scope: 'project' })],
])

describe('reading old audit entries', () => {
  it('reads a layout of format 1 as points of which only the number is known', () => {
    const pin = { what: 'pin', runId: 'r' }
    const layout = { what: 'layout', runId: 'r', terminalIds: ['t'], before: [], after: [1, 2] }
    const stored = Object.freeze({ formatVersion: 1, changes: [pin, layout] })
    expect(upcastEntry(stored)).toEqual({
      formatVersion: AUDIT_FORMAT_VERSION,
      changes: [pin, { ...layout, after: [{ number: 1 }, { number: 2 }] }],
    })
    expect(stored.changes[1]).toBe(layout)
  })

  it('leaves an entry of today as it is', () => {
    const entry = { formatVersion: AUDIT_FORMAT_VERSION, number: 4 }
    expect(upcastEntry(entry)).toEqual(entry)
  })

  it('goes through every step, without touching what is stored', () => {
    const stored = Object.freeze({ formatVersion: 1, why: 'damper' })
    expect(upcastEntry(stored, upcasters, 3)).toEqual({ formatVersion: 3, reason: 'damper', scope: 'project' })
    expect(stored).toEqual({ formatVersion: 1, why: 'damper' })
  })

  it.each([[{ formatVersion: 4 }], [{ formatVersion: 0 }], [{}], [null], ['text'], [{ formatVersion: '1' }]])(
    'does not pretend to read %j',
    (body) => {
      expect(upcastEntry(body, upcasters, 3)).toBeNull()
    },
  )

  it('refuses a step that does not go forward', () => {
    expect(upcastEntry({ formatVersion: 1 }, new Map([[1, (body: Body) => body]]), 2)).toBeNull()
  })
})
