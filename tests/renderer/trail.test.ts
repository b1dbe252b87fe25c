import { ORPCError } from '@orpc/client'
import { describe, expect, test } from 'vitest'
import type { AuditEntry } from '#core/model/audit.ts'
import { failureOf, isAboutField } from '#renderer/app/failure.ts'
import { differences } from '#renderer/audit/differences.ts'
import { labelOf, subjectsOf } from '#renderer/audit/subject.ts'

describe('before and after', () => {
  test('only the fields that differ, with what was typed as one value', () => {
    const before = { name: 'A', ceilingHeight: { si: 2.7, typed: '2.7', unit: 'm' }, shape: { kind: 'rectangle', width: 4, depth: 3 } }
    const after = { name: 'A', ceilingHeight: { si: 2.5, typed: '250 cm', unit: 'm' }, shape: { kind: 'rectangle', width: 5, depth: 3 } }
    expect(differences(before, after)).toEqual([
      { path: 'ceilingHeight', before: before.ceilingHeight, after: after.ceilingHeight },
      { path: 'shape.width', before: 4, after: 5 },
    ])
  })

  test('absent and null are the same; a field that came or went is told', () => {
    expect(differences({ note: null }, {})).toEqual([])
    expect(differences({ a: 1 }, { b: 2 })).toEqual([
      { path: 'a', before: 1, after: null },
      { path: 'b', before: null, after: 2 },
    ])
  })

  test('lists of things are compared item by item, other lists as a whole', () => {
    expect(differences({ senses: [{ low: 1 }, { low: 2 }] }, { senses: [{ low: 1 }, { low: 3 }] })).toEqual([
      { path: 'senses.1.low', before: 2, after: 3 },
    ])
    expect(differences({ ids: ['a'] }, { ids: ['a', 'b'] })).toEqual([{ path: 'ids', before: ['a'], after: ['a', 'b'] }])
    expect(differences({ ids: ['a'] }, { ids: ['a'] })).toEqual([])
  })
})

describe('what an entry is about', () => {
  const id = '0198a0a0-0000-7000-8000-000000000001'
  const runId = '0198a0a0-0000-7000-8000-000000000002'
  const entry = (changes: AuditEntry['changes']): AuditEntry => ({
    segmentId: id,
    number: 1,
    commandId: id,
    command: 'edit',
    scope: 'project',
    personId: id,
    at: '2026-03-02T08:15:00.000Z',
    zone: 'Europe/Oslo',
    reason: '',
    undoes: null,
    changes,
    formatVersion: 1,
    hash: '0'.repeat(64),
  })

  test('a thing keeps its name in the trail when it was removed', () => {
    const removed = entry([
      {
        what: 'entity',
        kind: 'room',
        id,
        parentId: null,
        revisionBefore: 1,
        revisionAfter: 2,
        before: { number: 'F-104', name: 'Corridor' },
        after: null,
      },
    ])
    expect(subjectsOf(removed)).toEqual([{ id, kind: 'room', label: 'F-104' }])
  })

  test('many changes of one run are one subject', () => {
    const pins = [1, 2, 3].map(() => ({ what: 'pin' as const, runId, entityId: id, revisionBefore: null, revisionAfter: 1 }))
    expect(subjectsOf(entry(pins))).toEqual([{ id: runId, kind: 'run', label: null }])
  })

  test('a body without a name has none', () => {
    expect(labelOf({ x: 1 })).toBeNull()
    expect(labelOf(null)).toBeNull()
  })
})

describe('failures', () => {
  const failure = { kind: 'locked', sentence: { code: 'file.locked_unknown', params: { name: 'a' } }, field: 'project.name' } as const
  test('of the engine keep their sentence', () => {
    expect(failureOf(new ORPCError('locked', { data: failure }))).toEqual(failure)
  })
  test('of any other origin say that nothing was changed', () => {
    for (const thrown of [new Error('socket'), new ORPCError('BAD_REQUEST', { data: { issues: [] } }), 'text', undefined]) {
      expect(failureOf(thrown).sentence.code).toBe('app.connection.refused')
    }
  })
  test('belong to a field by its own name or the end of its path', () => {
    expect(isAboutField(failure, 'name')).toBe(true)
    expect(isAboutField(failure, 'timeZone')).toBe(false)
    expect(isAboutField({ ...failure, field: null }, 'name')).toBe(false)
  })
})
