import { describe, expect, test } from 'vitest'
import { ENTITY_SCHEMAS, type EntityKind } from '#core/model/entities.ts'
import { splitHash } from '#renderer/app/address.ts'
import { addressOf } from '#renderer/app/found-address.ts'
import { readView, writeView } from '#renderer/app/last-view.ts'
import { holdsWords } from '#renderer/app/palette-commands.ts'
import { commandOfKey, type KeyPress } from '#renderer/app/shell-keys.ts'
import { undoScopeOf } from '#renderer/app/undo.ts'
import { noticeAddress } from '#renderer/site/notice-address.ts'

const id = '0198a0a0-0000-7000-8000-000000000001'
const parentId = '0198a0a0-0000-7000-8000-000000000002'

describe('addresses within the page', () => {
  test('place and search both stand after the hash sign', () => {
    expect(splitHash('#/room/1?select=2')).toEqual({ place: '/room/1', search: 'select=2' })
    expect(splitHash('')).toEqual({ place: '/', search: '' })
    expect(splitHash('#site')).toEqual({ place: '/site', search: '' })
  })

  test('every kind of found thing leads somewhere, also without a parent', () => {
    for (const kind of Object.keys(ENTITY_SCHEMAS) as EntityKind[]) {
      expect(addressOf({ kind, id, parentId })).toMatch(/^\/\w/)
      expect(addressOf({ kind, id, parentId: null })).toMatch(/^\/\w/)
    }
  })

  test('a filter is shown in its room, selected', () => {
    expect(addressOf({ kind: 'terminal', id, parentId })).toBe(`/room/${parentId}?select=${id}`)
  })

  test('undo belongs to the room or run in sight, else to the project', () => {
    expect(undoScopeOf(`/room/${id}`)).toBe(id)
    expect(undoScopeOf(`/room/${id}/edit`)).toBe(id)
    expect(undoScopeOf(`/run/${id}`)).toBe(id)
    expect(undoScopeOf('/room/new')).toBe('project')
    expect(undoScopeOf(`/certification/${id}`)).toBe('project')
    expect(undoScopeOf('/site')).toBe('project')
    expect(undoScopeOf('/import', `run=${id}`)).toBe(id)
    expect(undoScopeOf('/import', `certification=${id}`)).toBe('project')
  })

  test('a notice leads to its evidence', () => {
    const sentence = { code: 'x', params: {} }
    expect(noticeAddress({ kind: 'calibration', sentence, roomId: null, entityId: id })).toBe(`/instruments/${id}`)
    expect(noticeAddress({ kind: 'failed', sentence, roomId: parentId, entityId: null })).toBe(`/room/${parentId}`)
    expect(noticeAddress({ kind: 'replaced', sentence, roomId: parentId, entityId: id })).toBe(`/history/${id}`)
    expect(noticeAddress({ kind: 'info', sentence, roomId: null, entityId: null })).toBeNull()
  })
})

describe('the place where a file was left', () => {
  test('comes back as it was written', () => {
    const view = { address: `/room/${id}`, certificationId: parentId }
    expect(readView(writeView(view))).toEqual(view)
    expect(readView(writeView({ address: '/plan', certificationId: null }))).toEqual({ address: '/plan', certificationId: null })
  })

  test('is nothing when the text is nothing, the home screen, or not of this page', () => {
    for (const text of [null, '', '/', 'https://elsewhere.example/', 'nonsense#nonsense']) {
      expect(readView(text)).toEqual({ address: null, certificationId: null })
    }
  })
})

describe('keys of the window', () => {
  const press = (key: string, held: Partial<KeyPress> = {}): KeyPress => ({
    key,
    ctrlKey: false,
    metaKey: false,
    shiftKey: false,
    altKey: false,
    ...held,
  })

  test('find opens from anywhere with Ctrl or Cmd and K, and with a slash outside of texts', () => {
    expect(commandOfKey(press('k', { ctrlKey: true }), 'text')).toBe('find')
    expect(commandOfKey(press('K', { metaKey: true }), 'no')).toBe('find')
    expect(commandOfKey(press('/'), 'no')).toBe('find')
    expect(commandOfKey(press('/'), 'empty')).toBeNull()
    expect(commandOfKey(press('/'), 'text')).toBeNull()
  })

  test('undo belongs to a text while it holds something, and to the project when it is empty', () => {
    expect(commandOfKey(press('z', { ctrlKey: true }), 'text')).toBeNull()
    expect(commandOfKey(press('z', { ctrlKey: true }), 'empty')).toBe('undo')
    expect(commandOfKey(press('Z', { ctrlKey: true, shiftKey: true }), 'no')).toBe('redo')
    expect(commandOfKey(press('y', { ctrlKey: true }), 'no')).toBe('redo')
  })

  test('figures and letters are never commands', () => {
    for (const key of ['0', '4', '.', 'z', 'k', 'y', 'Enter']) expect(commandOfKey(press(key), 'no')).toBeNull()
  })
})

describe('commands by a few letters', () => {
  test('every word typed begins some word, in any order and case', () => {
    expect(holdsWords('Save a copy of the project', 'COP sa')).toBe(true)
    expect(holdsWords('Save a copy of the project', 'opy')).toBe(false)
    expect(holdsWords('Save a copy of the project', '')).toBe(true)
  })
})
